// Jobs in this browser: a copy of each of the server's, and those that are worked on without it. Each keeps its own undo.
import { state, Trouble } from './ask.js';
import { changeJob, now, one } from './database.js';
import { painted } from './dom.js';

const MOST_UNDO = 300;

/** The sheet left can be gone back to. A tap writes two small records, not three hundred. The step's key says what was done. */
export function pushStep(job, sheet, steps, label = '') {
  const key = `${job.id}/${crypto.randomUUID()}/${label}`;
  steps.put(sheet, key);
  job.undo.push(key);
  for (const old of job.redo.splice(0)) steps.delete(old);
  while (job.undo.length > MOST_UNDO) steps.delete(job.undo.shift());
}

/** Go back (or forth) one step: the sheet left is kept under the key of the one taken. */
export function takeStep(job, from, to, { steps, then }, run) {
  const key = from.pop();
  then(steps.get(key), (sheet) => {
    steps.put(job.sheet, key);
    to.push(key);
    run(sheet);
  });
}

export function titleOf(sheet) {
  for (const line of sheet.split('\n', 400)) {
    const found = /^\s*job\s+(.+)$/i.exec(line);
    if (found) return found[1].split(' #')[0].trim().slice(0, 120);
  }
  return 'Job without a name';
}

/** What undo or redo would take back, by the key of its step. */
const labelOf = (keys) => keys.at(-1)?.split('/').slice(2).join('/') ?? '';

export function shown(job) {
  return {
    id: job.id, title: job.title, version: job.version, sheet: job.sheet, changed: job.changed,
    can_undo: job.undo.length > 0, can_redo: job.redo.length > 0, undo_label: labelOf(job.undo), redo_label: labelOf(job.redo), base: job.base, waiting: Boolean(job.waiting), conflict: job.conflict ?? null, local: !job.server,
  };
}

/** Settled when all that was begun so far is in the database. */
export let mirrored = Promise.resolve();

/** Do something to the database after all that was begun before. */
function inTurn(work) {
  const done = mirrored.then(work);
  mirrored = done.catch(() => {});
  return done;
}

/** Keep a copy of a server's job in this browser, with the steps made here, so that they can be undone when the server is gone.
 *  Nobody waits for it but who reads the copy; what waits to be sent is not touched. how: 'seen', 'changed', 'back' or 'forth'. */
export function mirror(job, how = 'seen') {
  const drawn = painted(); // the screen goes first
  inTurn(() => drawn.then(() => changeJob(job.id, (found, { put, ...deal }) => {
    if (found?.waiting) return;
    const record = found ?? { id: job.id, undo: [], redo: [], sheet: job.sheet };
    const fresh = { title: job.title, version: job.version, sheet: job.sheet, changed: job.changed, server: true, base: job.version, waiting: false, removed: false };
    const [from, to] = { back: [record.undo, record.redo], forth: [record.redo, record.undo] }[how] ?? [];
    if (from?.length) takeStep(record, from, to, deal, () => put(Object.assign(record, fresh)));
    else {
      if (how === 'changed' && record.sheet !== job.sheet) pushStep(record, record.sheet, deal.steps, job.undo_label);
      put(Object.assign(record, fresh));
    }
  }))).catch(() => {});
}

export const missing = () => new Trouble({ error: 'that job is not in this browser', kind: 'missing' }, 404);

export function conflict(job, base) {
  return new Trouble({ error: `the job was changed meanwhile: it is at version ${job.version}, not ${base}`, kind: 'conflict', current: shown(job), base }, 409);
}

export async function local(id) {
  await mirrored;
  const job = await one('jobs', id);
  if (!job) throw missing();
  return job;
}

/** A change of a job in this browser, on top of the version that was shown: the old sheet can be undone, the new one waits to
 *  be sent if the server knows the job. */
export function write(id, base, sheet, label = '') {
  sendSoon();
  return inTurn(() => changeJob(id, (job, { put, steps }) => {
    if (!job || job.moved) throw missing();
    if (job.version !== base) throw conflict(job, base);
    if (job.sheet !== sheet) {
      pushStep(job, job.sheet, steps, label);
      Object.assign(job, { sheet, title: titleOf(sheet), version: job.version + 1, changed: now(), waiting: Boolean(job.server) });
    }
    put(job);
  }));
}

/** A job as it will be shown once this sheet of it is kept. */
export const ahead = (job, sheet, label) => (sheet === job.sheet ? job : shown({
  ...job, title: titleOf(sheet), version: job.version + 1, sheet, changed: now(), undo: [`//${label}`], redo: [], base: job.base ?? job.version, waiting: !job.local, server: !job.local,
}));

let sending = 0;
/** With the server there, what is changed of a job that still waits is sent a moment later. */
export function sendSoon() {
  if (!state.server) return;
  clearTimeout(sending);
  sending = setTimeout(() => window.dispatchEvent(new Event('send-waiting')), 400);
}
