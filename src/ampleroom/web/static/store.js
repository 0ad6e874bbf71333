// Where jobs are kept: on the server while it is there, with a copy in this browser; in this browser alone when it is not.
// What the views call stands here; photos, parts and sending have files of their own.
import { ask as askHere, askWorker, request, state, Trouble } from './ask.js';
import { all, changeJob, keep, now, one } from './database.js';
import { ahead, conflict, local, mirror, mirrored, missing, shown, takeStep, titleOf, write } from './local-jobs.js';
import { patched } from './patch.js';
import { isHere, known, onTop, orHere, path } from './server-or-here.js';
import { follow } from './whole.js';

export { addPhoto, dropPhoto, photos, photosForPacket, smaller } from './photos.js';
export { sendWaiting, settle } from './sending.js';
export { examples, otherStock, seed, setStock, stock } from './stock.js';
export { titleOf } from './local-jobs.js';

export async function list() {
  await mirrored;
  const kept = (await all('jobs').catch(() => [])).filter((job) => !job.removed && !job.moved);
  return orHere(async () => {
    const { jobs } = await request('GET', 'api/jobs');
    const ours = kept.filter((job) => !job.server || job.waiting).map(shown);
    const ids = new Set(ours.map((job) => job.id));
    return [...ours, ...jobs.filter((job) => !ids.has(job.id))].sort((a, b) => b.changed.localeCompare(a.changed));
  }, () => kept.map(shown).sort((a, b) => b.changed.localeCompare(a.changed)));
}

/** Jobs that were put away; each can be brought back. */
export async function putAway() {
  const kept = (await all('jobs').catch(() => [])).filter((job) => job.removed && !job.moved);
  return orHere(async () => {
    const { jobs } = await request('GET', 'api/jobs?removed=yes');
    return [...kept.filter((job) => !job.server).map(shown), ...jobs];
  }, () => kept.map(shown));
}

export function create(sheet, label = 'new') {
  return orHere(async () => {
    const made = await request('POST', 'api/jobs', { sheet, label });
    mirror(made);
    return made;
  }, async () => {
    const job = { id: `here-${crypto.randomUUID()}`, title: titleOf(sheet), version: 1, sheet, changed: now(), undo: [], redo: [], server: false, base: 0, waiting: false };
    await keep('jobs', job);
    return shown(job);
  });
}

export async function get(asked) {
  const id = await known(asked);
  const here = async () => shown(await local(id));
  if (await isHere(id)) return here();
  return orHere(async () => {
    const job = await request('GET', path(id));
    mirror(job);
    return job;
  }, here);
}

/** Write the whole sheet on top of the version that was shown. */
export async function save(job, sheet, label) {
  const id = await known(job.id);
  const here = async () => shown(await onTop(job, (base) => write(id, base, sheet, label)));
  const refused = (trouble) => { throw Object.assign(trouble, { mine: sheet }); };
  if (await isHere(id)) return here().catch(refused);
  return orHere(() => onTop(job, async (base) => {
    const saved = await request('PUT', path(id), { base, sheet, label });
    mirror(saved, 'changed');
    return saved;
  }), here).catch(refused);
}

/** A change made and kept, with the box as it is then. */
export async function edit(...given) {
  const answer = await tap(...given);
  await answer.saved;
  return answer;
}

/** The same for the screen, which does not wait for the browser's database: `saved` is the promise that the change is kept. */
export async function tap(job, change, box, edition) {
  const id = job.local && !state.server ? job.id : await known(job.id);
  const refused = (trouble) => { throw Object.assign(trouble, { edit: { edit: change, box, edition } }); };
  const here = async () => {
    const answer = await askWorker('edit', { sheet: job.sheet, edit: change, box, edition });
    const saved = onTop(job, (base) => write(id, base, answer.sheet, answer.label)).catch(refused);
    saved.catch(() => {}); // told to who waits for it
    follow(job.sheet, answer.sheet, answer.changed_rows);
    const shownNow = ahead(job, answer.sheet, answer.label);
    return { ...answer, ...shownNow, saved };
  };
  // What the server gave is changed there: whether this browser has changes of its own is asked only where it was not so.
  if (job.local === undefined ? !state.server : await isHere(id)) return here().catch(refused);
  return orHere(() => onTop(job, async (base) => {
    const answer = await request('POST', path(id, '/edit'), { base, edit: change, box, edition, patch: true });
    answer.sheet = patched(job.sheet, answer.patch) ?? (await request('GET', path(id, `/history/${answer.version}`))).sheet;
    follow(job.sheet, answer.sheet, answer.changed_rows);
    mirror(answer, 'changed');
    return answer;
  }), () => {
    if (!state.offlinePages) throw new Trouble({ error: 'the server cannot be reached, and this page does not work without it', kind: 'network' }, 0);
    return here();
  }).catch(refused);
}

export async function step(job, back) {
  const id = await known(job.id);
  const here = async () => {
    await mirrored;
    return shown(await onTop(job, (base) => changeJob(id, (kept, { put, ...deal }) => {
      if (!kept) throw missing();
      if (kept.version !== base) throw conflict(kept, base);
      const [from, to] = back ? [kept.undo, kept.redo] : [kept.redo, kept.undo];
      if (!from.length) throw new Trouble({ error: back ? 'there is nothing to undo' : 'there is nothing to redo', kind: 'missing' }, 404);
      takeStep(kept, from, to, deal, (sheet) => put(Object.assign(kept, { sheet, title: titleOf(sheet), version: kept.version + 1, changed: now(), waiting: Boolean(kept.server) })));
    })));
  };
  if (await isHere(id)) return here();
  return orHere(() => onTop(job, async (base) => {
    const saved = await request('POST', path(id, back ? '/undo' : '/redo'), { base });
    mirror(saved, back ? 'back' : 'forth');
    return saved;
  }), here);
}

/** Put a job away, or bring it back; what the server was not told yet it is told later. */
async function setRemoved(id, removed) {
  await mirrored;
  const job = await one('jobs', id).catch(() => null);
  if (job && !job.server) return keep('jobs', { ...job, removed });
  return orHere(async () => {
    await (removed ? request('DELETE', path(id)) : request('POST', path(id, '/restore'), {}));
    if (job) await keep('jobs', { ...job, removed, removal: undefined });
  }, () => job && keep('jobs', { ...job, removed, removal: removed ? 'away' : 'back' }));
}

export const remove = (id) => setRemoved(id, true);
export const restore = (id) => setRemoved(id, false);

/** How a job stands, in a few words: its verdict, how many lines cannot be read. */
export async function standing({ id }) {
  const here = async () => {
    const job = await local(id);
    return askHere('standing', { sheet: job.sheet });
  };
  if (await isHere(id)) return here();
  return orHere(() => request('GET', path(id, '/standing')), here);
}

/** Versions of a job, the newest first, and whether there are older ones; the server keeps them all. */
export async function history(id, before = null) {
  if (await isHere(id)) return { versions: [], more: false };
  return orHere(() => request('GET', path(id, `/history${before === null ? '' : `?before=${before}`}`)), () => ({ versions: [], more: false }));
}

export async function versionOf(id, version) {
  return (await request('GET', path(id, `/history/${version}`))).sheet;
}
