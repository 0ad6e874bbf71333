// What every page has: its address, the head with who answers, undo at the foot, light or dark.
import { state } from './ask.js';
import { button, el, link, units } from './dom.js';
import { megabytes, truck, truckWords } from './truck.js';
import { note, recall } from './usual.js';

const THEMES = ['auto', 'light', 'dark'];

export function chosenTheme() {
  const chosen = recall('theme');
  return THEMES.includes(chosen) ? chosen : 'auto';
}

export function setTheme(theme) {
  if (theme === 'auto') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme;
  note('theme', theme);
}

/** What is done with an answer that needs the edition: it is asked for at the job. */
export const editionFirst = (id) => (trouble) => {
  if (trouble.kind === 'edition') location.replace(to.job(id));
  throw trouble;
};

/** #/  #/j/ID  #/j/ID/tab  #/j/ID/sheet/LINE  #/j/ID/b/BOX  #/j/ID/s/KIND/NAME  #/j/ID/c/CARD */
export function place() {
  let parts;
  try {
    parts = location.hash.split('/').map(decodeURIComponent);
  } catch {
    return { view: 'home' }; // an address that somebody cut
  }
  const [, first, id, tab, name, more] = parts;
  if (first !== 'j' || !id) return { view: 'home' };
  if (tab === 'b' && name) return { view: 'subject', id, kind: 'box', name, box: name };
  if (tab === 's' && name && more) return { view: 'subject', id, kind: name, name: more };
  if (tab === 'c' && name) return { view: 'job', id, tab: 'boxes', card: name };
  return { view: 'job', id, tab: tab || 'boxes', line: tab === 'sheet' ? Number(name) || 0 : 0 };
}

/** What the doorway does for the views, which do not know it: show the address's view anew, or draw it again. */
export const page = { show: async () => {}, redraw: () => {} };

export const to = {
  home: '#/',
  job: (id, tab = 'boxes') => `#/j/${encodeURIComponent(id)}/${tab}`,
  line: (id, line) => `#/j/${encodeURIComponent(id)}/sheet/${line}`,
  box: (id, box) => `#/j/${encodeURIComponent(id)}/b/${encodeURIComponent(box)}`,
  /** A row of the list, by its kind: what has no page of its own has the one for any kind. */
  subject: (id, { kind, name, page: own }) => (own === 'box' ? to.box(id, name) : `#/j/${encodeURIComponent(id)}/s/${encodeURIComponent(kind)}/${encodeURIComponent(name)}`),
};

/** The four places of a job, each with the parts it has. */
const DESTINATIONS = [
  ['Job', [['boxes', 'List'], ['sheet', 'Sheet']]],
  ['Map', [['map', 'Map']]],
  ['Fixes', [['remedies', 'Fixes'], ['takeoff', 'What to buy']]],
  ['Hand over', [['hand-over', 'Papers'], ['editions', 'By edition']]],
];
const SIGNS = {
  Job: 'M4 5h16M4 12h16M4 19h10', Map: 'M4 6h6v5H4zM14 13h6v5h-6zM10 8h7v5', Fixes: 'M5 19 14 10M13 5a4 4 0 0 0 5 6M18 11l-4-4', 'Hand over': 'M6 3h9l4 4v14H6zM9 12h7M9 16h7',
};
const holds = (parts, tab) => parts.some(([name]) => name === tab);

function sign(name) {
  const [svg, path] = ['svg', 'path'].map((tag) => document.createElementNS('http://www.w3.org/2000/svg', tag));
  svg.setAttribute('viewBox', '0 0 24 24');
  svg.setAttribute('aria-hidden', 'true');
  path.setAttribute('d', SIGNS[name]);
  svg.append(path);
  return svg;
}

/** The way to the four places of a job. */
export function destinations(id, tab) {
  return el('nav', { class: 'places', 'aria-label': 'Places of this job', data: { key: 'places' } }, DESTINATIONS.map(([words, parts]) => link([sign(words), el('span', {}, words)], to.job(id, parts[0][0]),
    { 'data-key': `place-${words}`, 'aria-current': holds(parts, tab) ? (parts[0][0] === tab ? 'page' : 'true') : null })));
}

/** The parts of the place one is in, where it has several. */
export function partsOf(id, tab) {
  const parts = DESTINATIONS.find(([, each]) => holds(each, tab))?.[1] ?? [];
  return parts.length < 2 ? null : el('nav', { class: 'segments', 'aria-label': 'Parts', data: { key: 'parts' } }, parts.map(([name, words]) => link(words, to.job(id, name), { class: 'button', 'data-key': `tab-${name}`, 'aria-current': name === tab ? 'page' : null })));
}

/** How far Python in this browser has come, while it is waited for. */
export function starting() {
  if (state.server || state.worker === 'ready') return null;
  return el('div', { class: 'notice', data: { key: 'starting' } },
    el('p', {}, state.worker === 'failed' ? `This browser cannot do the count: ${state.progress}` : `${state.alone ? '' : 'No signal. '}This browser does the count: ${truck.got < truck.counts ? `${megabytes(truck.got)} of ${megabytes(truck.counts)} MB` : state.progress} …`),
    state.worker === 'failed' ? null : el('progress', { 'aria-label': 'Getting ready to count', ...(truck.got < truck.counts ? { max: 1, value: truck.got / truck.counts } : {}) }));
}

/** Who answers, in a few words, where it is not simply the server. */
export function modeWords() {
  let words = '';
  const gone = state.alone ? '' : 'no signal: ';
  if (truck.stage === 'fetching' || (state.server || state.alone) && state.worker === 'ready') words = truckWords();
  else if (!state.server) words = { ready: `${gone}saved in this browser`, starting: `${gone}${state.progress} …`, failed: `${gone}this browser cannot count`, none: 'no server' }[state.worker] ?? '';
  if (state.server && state.progress) words = state.progress;
  else if (state.worker === 'ready' && state.progress) words = `${state.progress} …`;
  return el('p', { class: 'mode', 'data-mode': state.server ? 'server' : 'here', 'data-worker': state.worker }, words);
}

export function themeButton() {
  return button(`Screen: ${chosenTheme()}`, () => {
    setTheme(THEMES[(THEMES.indexOf(chosenTheme()) + 1) % THEMES.length]);
    page.redraw();
  }, { key: 'theme', class: 'plain' });
}

/** The head of every page: the way back, the name, the verdict; below it who answers. */
export function head(back, backWords, name, under, right = null) {
  return [
    el('header', { class: 'top' }, back ? link('‹', back, { class: 'button back', 'aria-label': backWords }) : null,
      el('div', { class: 'name' }, el('h1', { tabindex: -1 }, name)), right, under ? el('p', { class: 'under small soft' }, under) : null),
    modeWords(),
  ];
}

const marked = (arrow, words) => [el('span', { 'aria-hidden': 'true' }, arrow), words];

/** Undo, always in sight, with what it undoes; in a job's own views the way to its places is under it. */
export function undoBar(job, step, below = null) {
  const words = job.undo_label || '';
  return el('footer', { class: 'bar' },
    !job.can_undo && !job.can_redo && below ? null : el('div', { class: 'undo', data: { key: 'undo-row' } },
      button(marked('↶', 'Undo'), () => step(true), { key: 'undo', off: !job.can_undo, 'aria-describedby': words ? 'undone' : null }),
      el('span', { class: 'small', id: 'undone' }, job.can_undo ? units(words) : ''),
      button(marked('↷', 'Redo'), () => step(false), { key: 'redo', off: !job.can_redo })),
    below);
}

export function when(text) {
  const date = new Date(text);
  return Number.isNaN(date.getTime()) ? '' : date.toLocaleString([], { dateStyle: 'medium', timeStyle: 'short' });
}
