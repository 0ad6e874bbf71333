// What every page has: its address, the head with who answers, undo at the foot, light or dark.
import { state } from './ask.js';
import { button, el, link } from './dom.js';

const THEMES = ['auto', 'light', 'dark'];

export function chosenTheme() {
  try {
    const chosen = localStorage.getItem('theme');
    return THEMES.includes(chosen) ? chosen : 'auto';
  } catch {
    return 'auto';
  }
}

export function setTheme(theme) {
  if (theme === 'auto') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme;
  try {
    localStorage.setItem('theme', theme);
  } catch { /* a browser that keeps nothing still shows the page */ }
}

/** #/  #/j/ID  #/j/ID/tab  #/j/ID/b/BOX */
export function place() {
  let parts;
  try {
    parts = location.hash.split('/').map(decodeURIComponent);
  } catch {
    return { view: 'home' }; // an address that somebody cut
  }
  const [, kind, id, tab, box] = parts;
  if (kind !== 'j' || !id) return { view: 'home' };
  if (tab === 'b' && box) return { view: 'box', id, box };
  return { view: 'job', id, tab: tab || 'boxes' };
}

/** What the doorway does for the views, which do not know it: show the address's view anew, or draw it again. */
export const page = { show: async () => {}, redraw: () => {} };

export const to = {
  home: '#/',
  job: (id, tab = 'boxes') => `#/j/${encodeURIComponent(id)}/${tab}`,
  box: (id, box) => `#/j/${encodeURIComponent(id)}/b/${encodeURIComponent(box)}`,
};

/** How far Python in this browser has come, while it is waited for. */
export function starting() {
  if (state.server || state.worker === 'ready') return null;
  return el('div', { class: 'notice', data: { key: 'starting' } },
    el('p', {}, state.worker === 'failed' ? `This browser cannot do the count: ${state.progress}` : `No signal. This browser does the count: ${state.progress} …`),
    state.worker === 'failed' ? null : el('progress', { 'aria-label': 'Getting ready to count' }));
}

/** Who answers, in a few words, where it is not simply the server. */
export function modeWords() {
  let words = '';
  if (state.server) words = state.worker === 'ready' ? 'works without a signal too' : '';
  else words = { ready: 'no signal: saved in this browser', starting: `no signal: ${state.progress} …`, failed: 'no signal: this browser cannot count', none: 'no server' }[state.worker] ?? '';
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

/** Undo, always in sight. */
export function undoBar(job, step) {
  return el('footer', { class: 'bar' },
    button(marked('↶', 'Undo'), () => step(true), { key: 'undo', off: !job.can_undo }), button(marked('↷', 'Redo'), () => step(false), { key: 'redo', off: !job.can_redo }));
}

export function when(text) {
  const date = new Date(text);
  return Number.isNaN(date.getTime()) ? '' : date.toLocaleString([], { dateStyle: 'medium', timeStyle: 'short' });
}
