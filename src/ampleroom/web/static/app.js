// The page's doorway: where one is, who answers, and what is drawn.
import { findServer, startWorker, state } from './ask.js';
import { boxView } from './box.js';
import { button, draw, el, link, say } from './dom.js';
import { homeView } from './home.js';
import { jobView } from './job.js';
import * as store from './store.js';

const root = document.getElementById('app');
const THEMES = ['auto', 'light', 'dark'];

function chosenTheme() {
  try {
    return localStorage.getItem('theme') ?? 'auto';
  } catch {
    return 'auto';
  }
}

function setTheme(theme) {
  if (theme === 'auto') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme;
  try {
    localStorage.setItem('theme', theme);
  } catch { /* a browser that keeps nothing still shows the page */ }
}

/** #/  #/j/ID  #/j/ID/tab  #/j/ID/b/BOX */
export function place() {
  const [, kind, id, tab, box] = location.hash.split('/').map(decodeURIComponent);
  if (kind !== 'j' || !id) return { view: 'home' };
  if (tab === 'b' && box) return { view: 'box', id, box };
  return { view: 'job', id, tab: tab || 'boxes' };
}

export const to = {
  home: '#/',
  job: (id, tab = 'boxes') => `#/j/${encodeURIComponent(id)}/${tab}`,
  box: (id, box) => `#/j/${encodeURIComponent(id)}/b/${encodeURIComponent(box)}`,
};

let current = null;
let drawing = 0;

/** Draw the view of the address; a view that loads is drawn again when it has what it needs. */
export async function show() {
  const here = place();
  const key = JSON.stringify(here);
  const turn = ++drawing;
  if (!current || current.key !== key) {
    current?.leave?.();
    const make = { home: homeView, job: jobView, box: boxView }[here.view];
    current = { key, ...make(here, redraw) };
    window.scrollTo(0, 0);
  }
  try {
    await current.load?.();
  } catch (trouble) {
    if (turn === drawing) failed(trouble);
    return;
  }
  if (turn === drawing) redraw();
}

function redraw() {
  if (!current) return;
  const content = current.draw();
  draw(root, content);
  if (current.title) document.title = `${current.title()} · Ampleroom`;
}

function failed(trouble) {
  draw(root, [
    el('header', { class: 'top' }, link('‹', to.home, { class: 'button back', 'aria-label': 'All jobs' }), el('div', { class: 'name' }, el('h1', {}, 'Not to be shown'))),
    el('main', { id: 'main' }, el('p', { class: 'notice' }, trouble.message), el('div', { class: 'row' }, button('Try again', show, { class: 'main' }), link('All jobs', to.home, { class: 'button' }))),
  ]);
}

/** Who answers, in a few words; a tap tells more. */
export function modeWords() {
  const words = state.server ? (state.worker === 'ready' ? 'ready without a signal' : '') : { ready: 'without a signal', starting: 'getting ready …', failed: 'cannot answer here' }[state.worker] ?? '';
  return el('span', { class: 'mode', 'data-mode': state.server ? 'server' : 'here', 'data-worker': state.worker }, words);
}

export function themeButton() {
  return button({ auto: 'Light: auto', light: 'Light: on', dark: 'Light: off' }[chosenTheme()], () => {
    setTheme(THEMES[(THEMES.indexOf(chosenTheme()) + 1) % THEMES.length]);
    redraw();
  }, { key: 'theme', class: 'plain' });
}

window.addEventListener('hashchange', show);
window.addEventListener('server-back', async () => {
  const sent = await store.sendWaiting();
  say(sent.length ? `The server is back; sent: ${sent.map((job) => job.title).join(', ')}` : 'The server is back');
  const here = place();
  const moved = sent.find((job) => job.id === here.id && job.to !== here.id);
  if (moved) location.replace(location.hash.replace(encodeURIComponent(moved.id), encodeURIComponent(moved.to)));
  else current = null;
  show();
});
state.listeners.add(() => {
  const mode = document.querySelector('.mode');
  if (mode) mode.replaceWith(modeWords());
});

async function begin() {
  setTheme(chosenTheme());
  const server = await findServer();
  let bundle = server && state.offlinePages;
  if (!server) {
    try {
      bundle = (await fetch('offline.json')).ok;
    } catch { /* no folder made for offline use */ }
  }
  state.offlinePages = bundle;
  if (bundle && 'serviceWorker' in navigator && window.isSecureContext) navigator.serviceWorker.register('sw.js').catch(() => {});
  if (!server && bundle) startWorker();
  else if (bundle) setTimeout(() => startWorker(), 1500);
  if (!server) await store.seed().catch(() => {});
  else store.sendWaiting().catch(() => {});
  await show();
  document.documentElement.dataset.ready = 'yes';
}

begin();
