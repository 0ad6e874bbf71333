// The list of all that is judged in a job, the same on a phone and beside every view on a desk; and the form for one more box.
import { refused } from './conflict.js';
import { button, el, kept, say, units, verdict, verdictClass, verdictWord } from './dom.js';
import { to } from './frame.js';
import { rowList } from './rows.js';
import * as store from './store.js';

const RANK = { fails: 0, 'check needed': 1, advice: 2, passes: 3 };

/** How many lines of a sheet cannot be read; none while it holds nothing to judge. */
export const unreadIn = (list) => (list.subjects.length ? list.faults.length : 0);

const panels = new Map();
/** The list of one job: what is searched and chosen in it stays while one goes about in the job. */
export function jobList(id, redraw) {
  if (!panels.has(id)) {
    panels.clear();
    panels.set(id, makeList(id));
  }
  const panel = panels.get(id);
  panel.redraw = redraw;
  return panel;
}

function makeList(id) {
  const panel = { search: '', only: '', kind: '', adding: false, redraw: () => {}, draw, form };
  const rows = rowList('boxes', rowOf);

  function rowOf({ row, unread, here }) {
    return el('li', {}, el('a', { class: 'grow', href: to.subject(id, row), 'aria-current': here ? 'true' : null },
      el('span', { class: 'line' }, el('strong', {}, row.name), row.kind === 'box' ? '' : ` · ${row.kind}`, row.at ? ` · ${row.at}` : ''),
      el('span', { class: 'line small' }, verdict(row.verdict, unread), ' ', el('span', { class: 'soft' }, units(row.margin_text || row.brief), row.cautions ? ' · caution' : ''))));
  }

  /** The rows that are asked for, the failing ones first. `here`: the subject that is open. */
  function wanted(list, here) {
    const words = panel.search.trim().toLowerCase();
    const unread = unreadIn(list);
    const met = new Map();
    return list.subjects
      .filter((row) => (!panel.kind || row.kind === panel.kind) && (!panel.only || row.verdict === panel.only) && (!words || `${row.name} ${row.kind} ${row.at} ${row.verdict} ${row.card}`.toLowerCase().includes(words)))
      .map((row, place) => ({ row, place })).sort((a, b) => RANK[a.row.verdict] - RANK[b.row.verdict] || a.place - b.place)
      .map(({ row }) => {
        const key = `${row.kind}-${row.name}`;
        met.set(key, (met.get(key) ?? 0) + 1);
        return { key: met.get(key) > 1 ? `${key}-${met.get(key)}` : key, row, unread, here: here?.name === row.name && (!here.kind || here.kind === row.kind) };
      });
  }

  const pressed = (on) => (on ? 'true' : 'false');

  /** The counts by verdict: each shows those alone. */
  function tally(list) {
    const unread = unreadIn(list);
    const counts = Map.groupBy ? Map.groupBy(list.subjects, (row) => row.verdict) : new Map();
    if (counts.size < 2 && !panel.only) return null;
    return el('div', { class: 'tally', role: 'group', 'aria-label': 'Show only' }, Object.keys(RANK).filter((word) => counts.has(word) || panel.only === word).map((word) => button(
      [el('span', { class: `verdict ${verdictClass(word, unread)}` }, el('span', { class: 'shape', 'aria-hidden': 'true' }), `${counts.get(word)?.length ?? 0}`), el('span', {}, verdictWord(word, unread))],
      () => { panel.only = panel.only === word ? '' : word; panel.redraw(); }, { key: `only-${word}`, 'aria-pressed': pressed(panel.only === word) })));
  }

  function kinds(list) {
    if (list.kinds_shown.length < 2) return null;
    return el('div', { class: 'tally', role: 'group', 'aria-label': 'Kinds' }, list.kinds_shown.map(({ kind, text }) => button(text, () => { panel.kind = panel.kind === kind ? '' : kind; panel.redraw(); }, { key: `kind-${kind}`, 'aria-pressed': pressed(panel.kind === kind) })));
  }

  /** `list`: the answer about the job; `job`: gives the job as it is kept now; `change`: makes an edit of it; `here`: what is open. */
  function draw(list, change, here = null) {
    if (!list.subjects.length) return form(change, 'First box');
    const found = wanted(list, here);
    rows.take(found);
    return [
      el('div', { class: 'row' }, el('label', { for: 'search', class: 'unseen' }, 'Search this job'),
        el('input', { id: 'search', type: 'search', placeholder: 'Search', value: panel.search, data: { key: 'search' }, on: { input: (event) => { panel.search = event.target.value; panel.redraw(); } } }),
        button('Add a box', () => {
          panel.adding = !panel.adding;
          panel.redraw();
          if (panel.adding) document.getElementById('box-name').focus();
        }, { key: 'another', class: 'main', 'aria-expanded': pressed(panel.adding) })),
      panel.adding ? form(change, 'Add a box') : null,
      kinds(list), tally(list),
      el('p', { class: 'soft small', role: 'status', data: { key: 'count' } }, found.length === list.subjects.length ? list.subjects_text : `${found.length} of ${list.subjects_text}`),
      kept(rows.node),
      found.length ? null : el('p', { data: { key: 'none' } }, 'Nothing here matches. ', button('Show all', () => { Object.assign(panel, { search: '', only: '', kind: '' }); panel.redraw(); }, { class: 'plain', key: 'show-all' })),
    ];
  }

  function form(change, title) {
    const add = async (event) => {
      event.preventDefault();
      const [name, at] = ['box-name', 'box-at'].map((field) => document.getElementById(field).value.trim());
      if (!name) {
        say('Give the box a name, such as J1');
        document.getElementById('box-name').focus();
        return;
      }
      if (await change({ do: 'add-box', name, at })) {
        panel.adding = false;
        location.hash = to.box(id, name);
      }
    };
    return el('form', { class: 'card', data: { key: 'box-form' }, on: { submit: add } }, el('h2', {}, title),
      title === 'First box' ? el('p', { class: 'soft' }, 'Name a box, then tap in what it is and what comes into it.') : null,
      el('label', { for: 'box-name' }, 'Name'), el('input', { id: 'box-name', autocomplete: 'off', autocapitalize: 'characters', placeholder: 'J1', maxlength: 40, data: { key: 'box-name' } }),
      el('label', { for: 'box-at' }, 'Where it is'), el('input', { id: 'box-at', autocomplete: 'off', placeholder: 'at the door', maxlength: 120, data: { key: 'box-at' } }),
      el('p', {}, el('button', { class: 'main', type: 'submit', data: { key: 'add-box' } }, 'Add it')));
  }

  panel.reveal = (here) => rows.reveal(`${here.kind}-${here.name}`);
  return panel;
}

/** An edit of a job made from beside a view that keeps the job itself: `job` is what it shows now. */
export async function changeBeside(job, edit) {
  try {
    await store.edit(job, edit, '');
    return true;
  } catch (trouble) {
    refused(trouble, job);
    return false;
  }
}

/** Facts on which several findings lean, each once. */
export function questionsCard(list) {
  const shared = list.questions.filter((question) => question.findings.length > 1);
  if (!shared.length) return null;
  return el('section', { class: 'card', data: { key: 'questions' } }, el('h2', {}, list.questions_heading),
    el('ol', {}, shared.map((question) => el('li', {}, units(question.question),
      question.findings.map((each) => el('div', { class: 'small soft' }, units(`${each.subject}: ${each.settles}`))),
      question.note ? el('div', { class: 'small' }, units(question.note)) : null))));
}
