// The page's doorway: where one is, who answers, and what is drawn.
import { BUILD, findServer, startWorker, state } from './ask.js';
import { button, closeDialog, draw, el, link, readyDialog, say, sentence, tell } from './dom.js';
import { chosenTheme, modeWords, page, place, setTheme, starting, to } from './frame.js';
import { homeView } from './home.js';
import { jobView } from './job.js';
import { keyPressed } from './keys.js';
import { isWide, side } from './side.js';
import * as store from './store.js';
import { viewOf } from './subjects.js';
import { fillTruck, truckStage } from './truck.js';

export { ask, startWorker, state } from './ask.js'; // for the browser's console, and what tries the page
export { create, get, save, stock } from './store.js';

const root = document.getElementById('app');
Object.assign(page, { show, redraw });

let current = null;
let drawing = 0;
let first = true;
const scrolls = new Map(); // how far each view was scrolled when it was left

/** Draw the view of the address; a view that loads is drawn again when it has what it needs. */
async function show() {
  const here = place();
  const key = JSON.stringify(here);
  const turn = ++drawing;
  const fresh = !current || current.key !== key;
  if (fresh) {
    closeDialog();
    await current?.leave?.();
    if (turn !== drawing) return;
    if (current) scrolls.set(current.key, window.scrollY);
    const make = { home: homeView, job: jobView, subject: viewOf(here.kind) }[here.view];
    const made = make(here, () => { if (current?.key === key) redraw(); });
    current = { key, here, drawn: false, ...made };
    window.scrollTo(0, 0);
  }
  // Where an answer takes its time (Python still opens in this browser), what is known already is shown meanwhile.
  const meanwhile = setTimeout(() => { if (turn === drawing && !current.drawn) redraw(); }, 250);
  try {
    await current.load();
    if (turn === drawing) redraw();
  } catch (trouble) {
    if (turn === drawing && here.view === 'subject' && trouble.kind === 'question') {
      location.replace(to.job(here.id));
      say(`${here.name} is not in this job any more`, true);
    } else if (turn === drawing) failed(trouble);
  } finally {
    clearTimeout(meanwhile);
  }
  if (turn === drawing && fresh) arrived(here, key);
}

/** What a view draws; on a desk beside the list of its job. */
function laidOut() {
  const content = current.draw();
  const job = content && isWide() ? current.job?.() : null;
  document.documentElement.classList.toggle('wide', Boolean(job));
  return job ? el('div', { class: 'shell' }, side(current.here, job, redraw, current.change), el('div', { class: 'stage' }, content)) : content;
}

function redraw() {
  const content = laidOut();
  const arriving = !current.drawn && !first && !document.activeElement?.closest('nav, header.top, .flank');
  draw(root, content ?? opening());
  if (arriving) root.querySelector('h1')?.focus({ preventScroll: true }); // not on a field that stands where one had the focus before
  current.drawn = Boolean(content);
  document.documentElement.dataset.ready = 'yes';
  document.title = content ? `${current.title()} · Ampleroom` : 'Ampleroom';
}

/** After going somewhere else the focus is at its head, unless it is still on what was tapped. */
function arrived(here, key) {
  if (scrolls.has(key)) window.scrollTo(0, scrolls.get(key)); // back where one was in the list
  if (!first && document.activeElement === document.body) root.querySelector('h1')?.focus({ preventScroll: true });
  first = false;
  document.documentElement.dataset.shown = `${here.view} ${here.tab ?? here.name ?? ''}`.trim();
}

function opening() {
  return [
    el('header', { class: 'top' }, link('‹', to.home, { class: 'button back', 'aria-label': 'All jobs' }), el('div', { class: 'name' }, el('h1', { tabindex: -1 }, 'Opening …'))),
    el('main', { id: 'main', tabindex: -1 }, starting(), current.here.view === 'subject' && !state.server ? link('Open the sheet meanwhile', to.job(current.here.id, 'sheet')) : null),
  ];
}

function failed(trouble) {
  current.drawn = false;
  draw(root, [
    el('header', { class: 'top' }, link('‹', to.home, { class: 'button back', 'aria-label': 'All jobs' }), el('div', { class: 'name' }, el('h1', { tabindex: -1 }, 'Cannot be shown'))),
    el('main', { id: 'main', tabindex: -1 }, starting(), el('p', { class: 'notice', role: 'alert' }, sentence(trouble.message)), el('div', { class: 'row' }, button('Try again', show, { class: 'main' }), link('All jobs', to.home, { class: 'button' }))),
  ]);
  document.documentElement.dataset.ready = 'yes';
  document.title = 'Cannot be shown · Ampleroom';
}

async function sendWaiting(greet) {
  const sent = await store.sendWaiting().catch(() => []);
  const [done, both] = [sent.filter((job) => !job.conflict), sent.filter((job) => job.conflict)];
  const words = [greet, done.length ? `Sent: ${done.map((job) => job.title).join(', ')}` : '', both.length ? `changed here and on the server: ${both.map((job) => job.title).join(', ')}` : ''].filter(Boolean).join('; ');
  if (words) say(words, true);
  const here = place();
  const moved = sent.find((job) => job.id === here.id && job.to !== here.id);
  if (moved) location.replace(location.hash.replace(encodeURIComponent(moved.id), encodeURIComponent(moved.to)));
  else if (sent.length || greet) show();
}

window.addEventListener('hashchange', () => show());
window.matchMedia('(min-width: 68.75em)').addEventListener('change', () => { if (current?.drawn) redraw(); });
document.addEventListener('keydown', keyPressed);
window.addEventListener('server-back', () => sendWaiting('The server is back'));
window.addEventListener('send-waiting', () => sendWaiting(''));
document.addEventListener('visibilitychange', () => { if (document.hidden) current?.leave?.(); });
document.querySelector('.skip').addEventListener('click', (event) => {
  event.preventDefault(); // the address says where one is; it is not to be changed by this
  document.getElementById('main').focus();
});

let told = '';
state.listeners.add(() => {
  document.querySelector('.mode')?.replaceWith(modeWords());
  document.querySelector('[data-key=starting]')?.replaceWith(starting() ?? '');
  document.querySelector('[data-key=truck-stage]')?.replaceWith(truckStage());
  if (current && !current.drawn && !state.server) redraw();
  const now = `${state.server} ${state.worker}`;
  if (now !== told && !state.server && !first) {
    tell({ ready: 'No signal. This browser saves and counts everything.', failed: 'No signal, and this browser cannot do the count.' }[state.worker] ?? '');
  }
  told = now;
});

/** Nothing is worked out by files that do not belong together: a count could be wrong without a sign of it. */
function refuseMixed() {
  draw(root, el('main', { id: 'main', tabindex: -1 }, el('h1', { tabindex: -1 }, 'Page updated while it loaded'),
    el('p', { class: 'notice', role: 'alert' }, 'Two builds of this page are mixed. Nothing is counted with mixed files. Your jobs are safe.'),
    button('Reload', async () => {
      await Promise.allSettled(['app.js', './'].map((name) => fetch(name, { cache: 'reload' })));
      location.reload();
    }, { class: 'main' })));
  document.documentElement.dataset.ready = 'mixed';
}

async function begin() {
  setTheme(chosenTheme());
  readyDialog();
  if ((document.documentElement.dataset.build ?? '') !== BUILD) {
    refuseMixed();
    return;
  }
  const server = await findServer();
  let bundle = server && state.offlinePages;
  if (!server) {
    try {
      bundle = (await fetch('offline.json')).ok;
    } catch { /* no folder made for offline use */ }
  }
  state.offlinePages = bundle;
  if (!server && bundle) {
    fillTruck();
    startWorker();
  }
  if (!server) await store.seed().catch(() => {});
  const shown = show();
  if (server) shown.then(() => sendWaiting(''));
  await shown;
  // Python opens once the page has been shown and is at rest, so that it is there when the signal goes.
  if (server && bundle) {
    fillTruck();
    setTimeout(() => startWorker(), 1500);
  }
}

begin();
