// On a desk: beside every view of a job its list and the way to its other parts.
import { el, link, verdict } from './dom.js';
import { destinations, to } from './frame.js';
import { changeBeside, jobList, unreadIn } from './job-list.js';
import { known, whole } from './whole.js';

const WIDE = window.matchMedia('(min-width: 68.75em)');
export const isWide = () => WIDE.matches;

let last = { id: '', list: null };
let open = '';
let refused = ''; // the sheet that could not be counted: it says no edition

/** Beside a view: the job's name and verdict, its parts, its list. `change`: how that view makes an edit, where it does. */
export function side(here, job, redraw, change = null) {
  const list = known(job.sheet);
  if (list) last = { id: here.id, list };
  else if (refused !== job.sheet) whole(job.sheet).then(redraw, () => { refused = job.sheet; redraw(); });
  const shown = last.id === here.id ? last.list : null;
  const panel = jobList(here.id, redraw);
  const mark = `${here.id}/${here.box ?? here.name ?? ''}`;
  const at = here.box || here.name ? { name: here.box ?? here.name, kind: here.kind ?? 'box' } : null;
  if (shown && at && mark !== open) requestAnimationFrame(() => panel.reveal(at));
  if (shown) open = mark;
  return el('aside', { class: 'flank', 'aria-label': 'This job', data: { key: 'flank' } },
    el('div', { class: 'flank-head' }, link('‹ All jobs', to.home, { class: 'button plain' }),
      el('p', { class: 'flank-title' }, link(job.title, to.job(here.id)), ' ', shown?.subjects.length ? verdict(worst(shown), unreadIn(shown)) : null)),
    destinations(here.id, here.tab ?? 'boxes'),
    el('section', { class: 'scroller', 'aria-label': 'List of this job', data: { key: 'side-list' } },
      !shown?.subjects.length ? el('p', { class: 'soft' }, shown ? 'Nothing in this job yet.' : refused === job.sheet ? 'Not counted yet.' : 'Counting …') : panel.draw(shown, change ?? ((edit) => changeBeside(job, edit)), at)));
}

/** The verdict of the job; after a tap the worst of its rows, until it is asked for again. */
const worst = (list) => (list.partly ? ['fails', 'check needed', 'advice', 'passes'].find((word) => list.subjects.some((row) => row.verdict === word)) : list.verdict);
