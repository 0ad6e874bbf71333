// The truck: everything this page needs is fetched once, while there is a signal, so that it opens where there is none.
import { changed, gate, startWorker, unanswered } from './ask.js';
import { button, el, say, sentence } from './dom.js';

/** How far it is: `stage` is none, fetching, kept or failed; bytes as they come over the air. `counts` is what the first verdict
 *  needs, `all` is everything. */
export const truck = { stage: 'none', got: 0, counts: 0, all: 0, why: '' };

export const megabytes = (bytes) => (bytes / 1e6).toFixed(1);

function stands(more) {
  Object.assign(truck, more);
  document.documentElement.dataset.kept = truck.stage;
  changed();
}

let keeping = null;
let keeper = null;

/** Let the service worker keep this page. Python is not started before it can pass everything on: so nothing is fetched twice. */
export function keepPage() {
  keeping ??= register();
  gate.open = keeping.catch(() => {});
  return keeping;
}

async function register() {
  if (!('serviceWorker' in navigator) || !window.isSecureContext) throw new Error('this address is not https, so this browser keeps nothing of it');
  const registration = await navigator.serviceWorker.register('sw.js');
  keeper = registration;
  if (navigator.serviceWorker.controller || (registration.active && !registration.installing)) return;
  await new Promise((done, fail) => {
    navigator.serviceWorker.addEventListener('controllerchange', done, { once: true });
    const one = registration.installing ?? registration.waiting ?? registration.active;
    one?.addEventListener('statechange', () => { if (one.state === 'redundant') fail(new Error('the page is being changed; reload it')); });
    setTimeout(() => fail(new Error('this browser does not keep the page')), 60_000);
  });
}

/** Ask the service worker for something; `heard` is told how a file comes along. */
function askKeeper(asked, heard = () => {}) {
  return new Promise((done, fail) => {
    const { port1, port2 } = new MessageChannel();
    let timer = 0;
    const wait = () => {
      clearTimeout(timer);
      timer = setTimeout(() => fail(new Error('nothing came for a minute')), 60_000);
    };
    wait();
    port1.onmessage = ({ data }) => {
      if (data.part !== undefined) {
        wait();
        heard(data);
        return;
      }
      clearTimeout(timer);
      port1.close();
      if (data.failed) fail(new Error(data.failed));
      else done(data);
    };
    (navigator.serviceWorker.controller ?? keeper.active).postMessage(asked, [port2]);
  });
}

const rest = (seconds) => new Promise((done) => setTimeout(done, 1000 * seconds));

/** Fetch all that is not kept yet, in the order it is needed; `arrived` is called once, when the last file is there. */
export async function fillTruck() {
  try {
    await keepPage();
    const plan = await (await fetch('offline.json')).json();
    const cache = await caches.open(`ampleroom-${plan.mark}`);
    if (await cache.match('all-kept')) {
      stands({ stage: 'kept' });
      return;
    }
    await fetchAll(plan);
    if (!(await askKeeper({})).all) throw new Error('a file is missing');
    if (window.matchMedia('(display-mode: standalone)').matches) navigator.storage?.persist?.();
    stands({ stage: 'kept' });
    say('Ready: you can drive off', true);
  } catch (trouble) {
    stands({ stage: 'failed', why: trouble.message });
  }
}

async function fetchAll(plan) {
  const part = {};
  let coding = 'br';
  const weight = (name) => plan.sizes[name][coding] ?? plan.sizes[name].plain;
  const weigh = () => {
    const sum = (names, share = () => 1) => names.reduce((total, name) => total + weight(name) * share(name), 0);
    const order = plan.stages.flat();
    stands({ stage: 'fetching', got: sum(order, (name) => part[name] ?? 0), counts: sum(plan.stages.slice(0, 2).flat()), all: sum(order) });
  };
  let told = 0;
  for (const name of plan.stages.flat()) {
    if (name === plan.stages[2][0]) { // the first verdict comes before the rest
      await startWorker().catch(() => {});
      do await rest(2); while (unanswered());
    }
    for (let tries = 1; ; tries += 1) {
      try {
        await askKeeper({ keep: name }, (came) => {
          part[name] = came.part;
          if (plan.sizes[name].br) ({ coding } = came); // what is never sent smaller does not say what the host can do
          if (performance.now() - told > 200) weigh();
          else return;
          told = performance.now();
        });
        break;
      } catch (trouble) {
        if (tries === 3) throw trouble;
        await rest(3 * tries);
      }
    }
    part[name] = 1;
  }
  weigh();
}

window.addEventListener('online', () => { if (truck.stage === 'failed') fillTruck(); });

/** In a few words, for the line under the head. */
export function truckWords() {
  const { stage, got, counts, all } = truck;
  if (stage === 'kept') return 'ready: you can drive off';
  if (stage === 'fetching') return got < counts ? `fetching what counts: ${megabytes(got)} of ${megabytes(counts)} MB` : `counts without a signal; fetching the packet maker: ${megabytes(got)} of ${megabytes(all)} MB`;
  return stage === 'failed' ? `not ready to drive off: ${truck.why}` : '';
}

/** How far it is, drawn by itself as it changes. */
export function truckStage() {
  const { stage, got, all } = truck;
  const words = truckWords();
  return el('div', { data: { key: 'truck-stage' } },
    words ? el('p', {}, el('strong', {}, sentence(words))) : null,
    stage === 'fetching' ? el('progress', { max: 1, value: all ? got / all : 0, 'aria-label': 'Fetched' }) : null,
    stage === 'failed' ? button('Try again', fillTruck, { key: 'truck-again' }) : null);
}

/** How the page gets onto a phone; the words are in the page. */
export function truckCard() {
  return el('details', { class: 'card', data: { key: 'truck' } }, el('summary', {}, 'On your phone, without a signal'), truckStage(),
    document.getElementById('onto-a-phone').content.cloneNode(true));
}
