// Who answers: the server where it is reachable, else the same Python in a worker of this page.

export class Trouble extends Error {
  constructor(answer, status) {
    super(answer.error ?? 'no answer');
    this.kind = answer.kind;
    this.answer = answer;
    this.status = status;
  }
}

export const state = { server: false, offlinePages: false, worker: 'none', progress: '', listeners: new Set() };

export function changed() {
  for (const run of state.listeners) run(state);
}

/** One request to the server; NetworkError where it cannot be reached. */
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
  try {
    reply = await fetch(path, options);
  } catch {
    lost();
    throw new Trouble({ error: 'the server cannot be reached', kind: 'network' }, 0);
  }
  const answer = await reply.json().catch(() => ({ error: `the server answered ${reply.status}`, kind: 'server' }));
  if (!reply.ok) throw new Trouble(answer, reply.status);
  return answer;
}

/** Find out whether a server answers here. */
export async function findServer() {
  try {
    const gone = new AbortController();
    const timer = setTimeout(() => gone.abort(), 1500);
    const reply = await fetch('api/hello', { signal: gone.signal, cache: 'no-store' });
    clearTimeout(timer);
    const hello = reply.ok ? await reply.json() : null;
    state.server = Boolean(hello?.ampleroom);
    state.offlinePages = hello?.offline ?? state.offlinePages;
  } catch {
    state.server = false;
  }
  changed();
  return state.server;
}

let looking = 0;
function lost() {
  if (state.server) {
    state.server = false;
    changed();
  }
  if (!looking) {
    looking = setInterval(async () => {
      if (await findServer()) {
        clearInterval(looking);
        looking = 0;
        window.dispatchEvent(new Event('server-back'));
      }
    }, 2500);
  }
}
export const serverLost = lost;

// ---- the worker ----------------------------------------------------------------------------------------------------

let worker = null;
let ready = null;
let number = 0;
const waiting = new Map();

/** Start Python in a worker; the promise is settled when it can answer. */
export function startWorker() {
  if (ready) return ready;
  ready = new Promise((done, failed) => {
    worker = new Worker('worker.mjs', { type: 'module' });
    state.worker = 'starting';
    changed();
    worker.onmessage = ({ data }) => {
      if (data.progress) {
        state.progress = data.progress;
        changed();
      } else if (data.ready) {
        state.worker = 'ready';
        state.readyAfter = data.ready;
        changed();
        done();
      } else if (data.failed) {
        state.worker = 'failed';
        state.progress = data.failed;
        changed();
        failed(new Trouble({ error: `Python could not start in this browser: ${data.failed}`, kind: 'worker' }, 0));
      } else {
        const run = waiting.get(data.id);
        waiting.delete(data.id);
        run?.(data.text);
      }
    };
    worker.onerror = (event) => {
      state.worker = 'failed';
      changed();
      failed(new Trouble({ error: `Python could not start in this browser: ${event.message ?? 'the worker failed'}`, kind: 'worker' }, 0));
    };
  });
  ready.catch(() => {});
  return ready;
}

export async function askWorker(action, data) {
  await startWorker();
  const id = ++number;
  const text = await new Promise((done) => {
    waiting.set(id, done);
    worker.postMessage({ id, action, text: JSON.stringify(data) });
  });
  const answer = JSON.parse(text);
  if (answer.error) throw new Trouble(answer, 422);
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
