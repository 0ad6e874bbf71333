// One job: its boxes, its map, what would fix it, what to buy, the editions side by side, and its sheet as text.
import { ask, state, words } from './ask.js';
import { refused, conflictNotice, waitingConflict } from './conflict.js';
import { el, kept, linesUnread, link, say, units, verdict } from './dom.js';
import { destinations, head, partsOf, starting, to, undoBar } from './frame.js';
import { handOverTab } from './job-hand-over.js';
import { jobList, questionsCard, unreadIn } from './job-list.js';
import { remediesTab } from './job-remedies.js';
import { editionsTab, headCard, takeoffTab } from './job-tabs.js';
import { mapPart } from './map.js';
import { sheetPaper } from './sheet-paper.js';
import { isWide } from './side.js';
import * as store from './store.js';
import { known, whole } from './whole.js';
import { standing } from './worksheet.js';

const WIDE = new Set(['map', 'editions', 'sheet']);
const VIEWS = { map: mapPart, editions: editionsTab, takeoff: takeoffTab, remedies: remediesTab, 'hand-over': handOverTab };

/** The view of one job. Its parts stand in files of their own and share its state, `view`. */
export function jobView(here, redraw) {
  const view = {
    id: here.id,
    job: null, // as it is kept
    list: null, // the answer about the whole job
    asks: null, // why nothing can be judged: the sheet does not say which edition is adopted
    years: null, // the editions on offer
    extra: null, // the answer of the part that is shown
    map: null, // the map, with how far it is zoomed
    shownVersions: 60, // of the history
    working: '', // the words of the button that is at work
    limits: { no_plaster: false, only_in_stock: false, most_kinds: '', spare: '', margin: '' }, // of the plan
    paper: null, // the sheet as text
    change, exchange, look, keep, inTurn, faults, redraw,
  };
  view.paper = sheetPaper(view);

  async function load() {
    view.job = await store.get(here.id);
    if (!view.years) offered();
    view.paper.take(view.job.sheet, view.list?.faults ?? []);
    await look();
    view.paper.take(view.job.sheet, faults());
    if (view.job.conflict) waitingConflict(view.job);
    if (here.card && opened(here.card)) return;
    if (here.line) view.paper.goToLine(here.line);
    await loadTab();
  }

  /** The subject whose card or label has this code, opened in place of the list. */
  function opened(card) {
    const row = view.list?.subjects.find((each) => each.card.toLowerCase() === card.toLowerCase());
    if (row) location.replace(to.subject(here.id, row));
    else say(`No card ${card} in this job`, true);
    return Boolean(row);
  }

  /** What the sheet says as it is now, however often it was changed while that was worked out. */
  async function look() {
    for (;;) {
      const { sheet } = view.job;
      let missing = null;
      const before = known(sheet);
      if (before?.partly) whole(sheet).then((answer) => { if (view.job.sheet === sheet) { view.list = answer; redraw(); } }, () => {});
      const answer = before ?? await whole(sheet).catch((trouble) => {
        if (trouble.kind !== 'edition') throw trouble;
        missing = trouble;
        return null;
      });
      if (view.job.sheet === sheet) {
        view.list = answer;
        view.asks = missing;
        return;
      }
    }
  }

  function faults() {
    return (view.list ?? view.asks?.answer)?.faults ?? [];
  }

  /** The editions on offer; nothing waits for them. */
  async function offered() {
    view.years = (await words().catch(() => null))?.editions ?? null;
    if (view.list || view.asks) redraw();
  }

  async function loadTab() {
    const { sheet } = view.job;
    if (view.asks) return;
    if (here.tab === 'map') view.extra = await ask('map', { sheet });
    if (here.tab === 'editions') view.extra = await ask('editions', { sheet });
    if (here.tab === 'takeoff') view.extra = await ask('takeoff', { sheet, stock: await store.stock() });
    if (here.tab === 'hand-over') view.extra = await store.history(here.id).catch(() => ({ versions: [], more: false }));
    if (here.tab === 'remedies') view.extra = null;
  }

  let saving = Promise.resolve();
  /** One change after another: each on top of what the one before it left. */
  function inTurn(work) {
    saving = saving.then(work, work);
    return saving;
  }

  async function keep(sheet, label) {
    try {
      view.job = await store.save(view.job, sheet, label);
      return true;
    } catch (trouble) {
      refused(trouble, view.job);
      return false;
    }
  }

  /** The whole sheet anew: from a remedy, or from a version of before. */
  async function exchange(sheet, label, words) {
    await view.paper.flush();
    if (!(await inTurn(() => keep(sheet, label)))) return;
    await load();
    redraw();
    say(words);
  }

  async function change(edit) {
    await view.paper.flush();
    return inTurn(async () => {
      try {
        view.job = await store.edit(view.job, edit, edit.box ?? '');
        await look();
        if (view.list && !view.extra) await loadTab(); // what a tab shows waited for the edition
        view.paper.take(view.job.sheet, faults());
        redraw();
        return true;
      } catch (trouble) {
        refused(trouble, view.job);
        redraw();
        return false;
      }
    });
  }

  async function step(back) {
    await view.paper.flush();
    await inTurn(async () => {
      try {
        view.job = await store.step(view.job, back);
        await look();
        view.paper.take(view.job.sheet, faults());
        await loadTab();
        redraw();
        say(back ? 'Undone' : 'Redone');
      } catch (trouble) {
        refused(trouble, view.job);
      }
    });
  }

  function body() {
    if (here.tab === 'sheet') return kept(view.paper.node);
    return VIEWS[here.tab]?.(view) ?? [headCard(view), isWide() && view.list.subjects.length ? null : el('section', { 'aria-label': 'List of this job' }, jobList(here.id, redraw).draw(view.list, change)), overview()];
  }

  /** What is said of the whole job beside its list. */
  function overview() {
    const failing = view.list.subjects.filter((row) => row.verdict === 'fails');
    return [
      isWide() && view.list.subjects.length ? [
        el('p', { class: 'soft', data: { key: 'next-step' } }, 'Choose something from the list. It opens here, with its picture.'),
        failing.length ? el('section', { class: 'card', data: { key: 'failing' } }, el('h2', {}, 'Fix these'),
          el('ul', {}, failing.slice(0, 30).map((row) => el('li', {}, link(row.name, to.subject(here.id, row)), ` · ${units(row.brief)}`)))) : null] : null,
      questionsCard(view.list),
    ];
  }

  const unread = () => unreadIn(view.list);

  const notJudged = () => (view.list.not_judged.length ? `Not judged: ${view.list.not_judged.map((each) => each.text).join(', ')}` : '');

  const counts = () => (view.list.subjects.length ? view.list.counts_text : 'no boxes yet');

  /** Before anybody said which edition is adopted: that is asked, and the sheet can be read and changed. */
  function withoutEdition() {
    return [
      head(to.home, 'All jobs', view.job.title || 'Unnamed job', 'code edition not set yet', null),
      el('main', { id: 'main', tabindex: -1, class: 'wide' }, starting(),
        el('p', { class: 'notice', role: 'alert' }, 'Which code edition is adopted there? Nothing is counted until you choose it.'), headCard(view), kept(view.paper.node)),
      undoBar(view.job, step),
    ];
  }

  const places = () => (isWide() ? null : destinations(here.id, here.tab));

  /** Before it is counted: the sheet itself, to be read and changed. */
  function early() {
    return [
      head(to.home, 'All jobs', view.job.title, '', null),
      el('main', { id: 'main', tabindex: -1, class: 'wide' }, starting(), kept(view.paper.node)),
      undoBar({ can_undo: false, can_redo: false }, step),
    ];
  }

  return {
    load,
    leave: () => view.paper.flush(),
    job: () => view.job,
    change,
    title: () => view.list?.title || view.job?.title || 'Job',
    draw: () => view.job && (view.list ? [
      head(to.home, 'All jobs', view.list.title || 'Unnamed job', [view.list.edition.title, view.list.partly ? '' : counts()].filter(Boolean).join(' · '), view.list.subjects.length && !view.list.partly ? verdict(view.list.verdict, unread()) : null),
      el('main', { id: 'main', tabindex: -1, class: WIDE.has(here.tab) ? 'wide' : '' },
        partsOf(here.id, here.tab), starting(),
        unread() && here.tab !== 'sheet' ? el('p', { class: 'notice' }, linesUnread(unread()), link('Open the sheet', to.job(here.id, 'sheet'))) : null,
        conflictNotice(view.job),
        notJudged() ? el('p', { class: 'small' }, notJudged()) : null,
        view.list.assumptions.map((text) => el('details', { class: 'small soft' }, el('summary', {}, text.split('. ')[0]), text)), // in a sentence; all of it unfolds
        view.list.warnings.map((warning) => el('p', { class: 'notice' }, `Line ${warning.where.line}: ${warning.text}. `, link('Open the sheet', to.line(here.id, warning.where.line)))),
        body(), standing(view.list.caution)),
      undoBar(view.job, step, places()),
    ] : view.asks ? withoutEdition() : state.server ? null : early()),
  };
}
