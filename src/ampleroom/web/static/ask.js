// Who answers: the server where it is reachable, else the same Python in a worker of this page.
import { patched } from './patch.js';

export const BUILD = ''; // the mark of the folder this was built into

export class Trouble extends Error {
  constructor(answer, status) {
    super(answer.error ?? 'no answer');
    this.kind = answer.kind;
    this.answer = answer;
    this.status = status;
  }
}

export const state = { server: false, alone: false, offlinePages: false, worker: 'none', progress: '', listeners: new Set() };

export function changed() {
  for (const run of state.listeners) run(state);
}

/** One request to the server; a Trouble of kind `network` where it cannot be reached. */
export async function request(method, path, body, type) {
  const options = { method, headers: {} };
  if (body instanceof Blob) {
    options.body = body;
    options.headers['content-type'] = type ?? body.type;
  } else if (body !== undefined) {
    options.body = JSON.stringify(body);
    options.headers['content-type'] = 'application/json';
  }
  let reply;
  let text;
  try {
    reply = await fetch(path, options);
    text = await reply.text();
  } catch {
    lost();
    throw new Trouble({ error: 'the server cannot be reached', kind: 'network' }, 0);
  }
  let answer;
  try {
    answer = JSON.parse(text);
  } catch {
    answer = { error: `the server answered with error ${reply.status}`, kind: 'server' };
  }
  if (!reply.ok) throw new Trouble(answer, reply.status);
  return answer;
}

/** Find out whether a server answers here. */
export async function findServer() {
  const gone = new AbortController();
  const timer = setTimeout(() => gone.abort(), 1500);
  try {
    const reply = await fetch('api/hello', { signal: gone.signal, cache: 'no-store' });
    const hello = reply.ok ? await reply.json().catch(() => null) : null;
    // A host that knows no such address has only the pages: there is nobody to look for again and again.
    state.alone = !hello?.ampleroom && (reply.ok || reply.status === 404 || reply.status === 403);
    state.server = Boolean(hello?.ampleroom);
    state.offlinePages = hello?.offline ?? state.offlinePages;
  } catch {
    state.server = false;
  }
  clearTimeout(timer);
  if (!state.server && !state.alone) watch();
  changed();
  return state.server;
}

let looking = 0;

/** Look again and again whether the server is back. */
function watch() {
  looking ||= setInterval(look, 2500);
}

async function look() {
  if (state.server || !(await findServer())) return;
  clearInterval(looking);
  looking = 0;
  window.dispatchEvent(new Event('server-back'));
}

function lost() {
  if (state.server) {
    state.server = false;
    changed();
    if (state.offlinePages) startWorker();
  }
  watch();
}

// ---- the worker ----------------------------------------------------------------------------------------------------

/** What a worker waits for before it fetches anything. */
export const gate = { open: Promise.resolve() };

let worker = null;
let ready = null;
let number = 0;
const waiting = new Map();

function stands(how, progress = '') {
  state.worker = how;
  state.progress = progress;
  changed();
}

/** Start Python in a worker; the promise is settled when it can answer. */
export function startWorker() {
  ready ??= new Promise((done, failed) => {
    const refuse = (why) => {
      const trouble = new Trouble({ error: `This browser cannot do the count: ${why}`, kind: 'worker' }, 0);
      stands('failed', why);
      failed(trouble);
      for (const [, { fail }] of waiting) fail(trouble);
      waiting.clear();
      stopWorker();
    };
    stands('starting', 'getting ready');
    gate.open.then(() => {
      worker = new Worker('worker.mjs', { type: 'module', name: BUILD });
      worker.onerror = (event) => refuse(event.message ?? 'the worker failed');
      worker.onmessage = ({ data }) => hear(data);
    });
    const hear = (data) => {
      if (data.progress !== undefined) stands(state.worker, data.progress);
      else if (data.ready) {
        state.readyAfter = data.ready;
        state.readyFrom = data.from;
        stands('ready');
        done();
      } else if (data.failed) refuse(data.failed);
      else {
        const asked = waiting.get(data.id);
        waiting.delete(data.id);
        asked?.done(data.text);
        if (data.broken) stopWorker();
      }
    };
  });
  ready.catch(() => {});
  return ready;
}

/** Let a worker go that cannot be relied on any more; the next question starts another. */
function stopWorker() {
  worker?.terminate();
  sheets = [];
  worker = null;
  ready = null;
}

/** How many questions the worker has not answered yet. */
export const unanswered = () => waiting.size;

/** The sheets the worker has, the last first, each with its number. A large one is sent once, and not back after a tap. */
let sheets = [];
const MOST_SHEETS = 8;
function keepSheet(text, as) {
  sheets = [{ text, as }, ...sheets.filter((each) => each.text !== text)].slice(0, MOST_SHEETS);
}

export async function askWorker(action, data) {
  const { sheet, ...others } = data;
  await startWorker();
  const put = (message) => new Promise((done, fail) => {
    const id = ++number;
    waiting.set(id, { done, fail });
    worker.postMessage({ id, action, text: JSON.stringify(sheet ? others : data), ...message });
  });
  let text;
  let after = 0;
  if (!sheet) text = await put({});
  else {
    const known = sheets.find((each) => each.text === sheet);
    const as = known?.as ?? ++number;
    if (action === 'edit') after = ++number;
    keepSheet(sheet, as);
    text = await put({ sheet: as, whole: known ? '' : sheet, after }) ?? await put({ sheet: as, whole: sheet, after });
  }
  const answer = JSON.parse(text);
  if (answer.error) throw new Trouble(answer, 422);
  if (after) {
    answer.sheet = patched(sheet, answer.patch);
    if (answer.sheet === null) throw new Trouble({ error: 'the sheet is another one; reload the page' }, 0);
    keepSheet(answer.sheet, after);
  }
  return answer;
}

/** A question, answered by whoever is there. */
export async function ask(action, data = {}) {
  if (state.server) {
    try {
      return await request('POST', `api/answer/${action}`, data);
    } catch (trouble) {
      if (trouble.kind !== 'network' || !state.offlinePages) throw trouble;
    }
  }
  return askWorker(action, data);
}

let known = null;
/** What the page offers to tap; asked for once. */
export async function words() {
  known ??= ask('words').catch((trouble) => {
    known = null;
    throw trouble;
  });
  return known;
}
