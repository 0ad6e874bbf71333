// Where jobs are kept: on the server while it is there, with a copy in this browser; in this browser alone when it is not.
// Changes made without the server are sent when it is back; what was changed on both sides is shown, never overwritten.
import { ask, askWorker, request, state, Trouble } from './ask.js';
import { base64 } from './dom.js';

// ---- the browser's own database ------------------------------------------------------------------------------------

let opened = null;
function database() {
  opened ??= new Promise((done, failed) => {
    const open = indexedDB.open('ampleroom', 1);
    open.onupgradeneeded = () => {
      open.result.createObjectStore('jobs', { keyPath: 'id' });
      open.result.createObjectStore('photos', { keyPath: 'id' });
      open.result.createObjectStore('settings');
      open.result.createObjectStore('steps');
    };
    open.onsuccess = () => done(open.result);
    open.onerror = () => failed(open.error);
  });
  return opened;
}

/** Something done in one transaction: all of it or nothing. What `work` throws, within a callback too, takes all of it back. */
async function within(names, mode, work) {
  const db = await database();
  return new Promise((done, failed) => {
    const deal = db.transaction(names, mode, { durability: 'strict' });
    let result;
    let trouble = null;
    const safely = (run) => (...given) => {
      try {
        return run(...given);
      } catch (error) {
        trouble = error;
        deal.abort();
        return undefined;
      }
    };
    deal.oncomplete = () => done(result);
    deal.onabort = () => failed(trouble ?? deal.error ?? new Error('not kept'));
    safely(work)(deal, (value) => { result = value; }, (asked, run) => { asked.onsuccess = safely(() => run(asked.result)); });
  });
}

const all = (name) => within([name], 'readonly', (deal, give, then) => then(deal.objectStore(name).getAll(), give));
const one = (name, id) => within([name], 'readonly', (deal, give, then) => then(deal.objectStore(name).get(id), give));
const keep = (name, value, key) => within([name], 'readwrite', (deal) => { deal.objectStore(name).put(value, key); });
const drop = (name, id) => within([name], 'readwrite', (deal) => { deal.objectStore(name).delete(id); });

const now = () => new Date().toISOString();
const MOST_UNDO = 300;

/** Read a job and write it anew as `change` leaves it, with nothing of another window in between. */
function changeJob(id, change) {
  return within(['jobs', 'steps', 'photos'], 'readwrite', (deal, give, then) => {
    const jobs = deal.objectStore('jobs');
    then(jobs.get(id), (job) => change(job, {
      put: (record) => { jobs.put(record); give(record); },
      steps: deal.objectStore('steps'), photos: deal.objectStore('photos'), jobs, then,
    }));
  });
}

/** The sheet left can be gone back to. A tap writes two small records, not three hundred. */
function pushStep(job, sheet, steps) {
  const key = `${job.id}/${crypto.randomUUID()}`;
  steps.put(sheet, key);
  job.undo.push(key);
  for (const old of job.redo.splice(0)) steps.delete(old);
  while (job.undo.length > MOST_UNDO) steps.delete(job.undo.shift());
}

/** Go back (or forth) one step: the sheet left is kept under the key of the one taken. */
function takeStep(job, from, to, { steps, then }, run) {
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

function shown(job) {
  return {
    id: job.id, title: job.title, version: job.version, sheet: job.sheet, changed: job.changed,
    can_undo: job.undo.length > 0, can_redo: job.redo.length > 0, waiting: Boolean(job.waiting), conflict: job.conflict ?? null, local: !job.server,
  };
}

let mirrored = Promise.resolve();

/** Keep a copy of a server's job in this browser, with the steps made here, so that they can be undone when the server is gone.
 *  Nobody waits for it but who reads the copy; what waits to be sent is not touched. how: 'seen', 'changed', 'back' or 'forth'. */
function mirror(job, how = 'seen') {
  mirrored = mirrored.then(() => changeJob(job.id, (found, { put, ...deal }) => {
    if (found?.waiting) return;
    const record = found ?? { id: job.id, undo: [], redo: [], sheet: job.sheet };
    const fresh = { title: job.title, version: job.version, sheet: job.sheet, changed: job.changed, server: true, base: job.version, waiting: false, removed: false };
    const [from, to] = { back: [record.undo, record.redo], forth: [record.redo, record.undo] }[how] ?? [];
    if (from?.length) takeStep(record, from, to, deal, () => put(Object.assign(record, fresh)));
    else {
      if (how === 'changed' && record.sheet !== job.sheet) pushStep(record, record.sheet, deal.steps);
      put(Object.assign(record, fresh));
    }
  })).catch(() => {});
}

const missing = () => new Trouble({ error: 'there is no such job in this browser', kind: 'missing' }, 404);

function conflict(job, base) {
  return new Trouble({ error: `the job was changed meanwhile: it is at version ${job.version}, not ${base}`, kind: 'conflict', current: shown(job), base }, 409);
}

async function local(id) {
  await mirrored;
  const job = await one('jobs', id);
  if (!job) throw missing();
  return job;
}

/** A change of a job in this browser, on top of the version that was shown: the old sheet can be undone, the new one waits to
 *  be sent if the server knows the job. */
async function write(id, base, sheet) {
  await mirrored;
  sendSoon();
  return changeJob(id, (job, { put, steps }) => {
    if (!job) throw missing();
    if (job.version !== base) throw conflict(job, base);
    if (job.sheet !== sheet) {
      pushStep(job, job.sheet, steps);
      Object.assign(job, { sheet, title: titleOf(sheet), version: job.version + 1, changed: now(), waiting: Boolean(job.server) });
    }
    put(job);
  });
}

// ---- what the page calls -------------------------------------------------------------------------------------------

/** The name a job has now: one made in this browser gets another when the server takes it. */
async function known(id) {
  return id.startsWith('here-') ? (await one('jobs', id).catch(() => null))?.moved ?? id : id;
}

/** Whether a job is worked on in this browser: no server, made here, or changes of it still wait. */
async function isHere(id) {
  if (!state.server) return true;
  const job = await one('jobs', id).catch(() => null);
  return Boolean(job && (!job.server || job.waiting));
}

const path = (id, more = '') => `api/jobs/${encodeURIComponent(id)}${more}`;

/** Something asked of the server, or done in this browser where the server cannot be reached. */
async function orHere(online, here) {
  if (state.server) {
    try {
      return await online();
    } catch (trouble) {
      if (trouble.kind !== 'network') throw trouble;
    }
  }
  return here();
}

/** A change on top of the version that was shown. Another number of the very same text is no conflict: the answer to a change
 *  may have been lost on its way, or the job was sent by another window. */
async function onTop(job, change) {
  try {
    return await change(job.version);
  } catch (trouble) {
    if (trouble.kind !== 'conflict' || trouble.answer.current.sheet !== job.sheet) throw trouble;
    return change(trouble.answer.current.version);
  }
}

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
  const here = async () => shown(await onTop(job, (base) => write(id, base, sheet)));
  if (await isHere(id)) return here();
  return orHere(() => onTop(job, async (base) => {
    const saved = await request('PUT', path(id), { base, sheet, label });
    mirror(saved, 'changed');
    return saved;
  }), here);
}

/** A tap: the change made and kept, with the box as it is then. */
export async function edit(job, change, box, edition) {
  const id = await known(job.id);
  const here = async () => {
    const answer = await askWorker('edit', { sheet: job.sheet, edit: change, box, edition });
    const saved = await onTop(job, (base) => write(id, base, answer.sheet));
    return { ...answer, ...shown(saved) };
  };
  if (await isHere(id)) return here();
  return orHere(() => onTop(job, async (base) => {
    const answer = await request('POST', path(id, '/edit'), { base, edit: change, box, edition });
    mirror(answer, 'changed');
    return answer;
  }), () => {
    if (!state.offlinePages) throw new Trouble({ error: 'the server cannot be reached, and this page was not made to work without it', kind: 'network' }, 0);
    return here();
  });
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

/** Versions of a job, the newest first, and whether there are older ones; the server keeps them all. */
export async function history(id, before = null) {
  if (await isHere(id)) return { versions: [], more: false };
  return orHere(() => request('GET', path(id, `/history${before === null ? '' : `?before=${before}`}`)), () => ({ versions: [], more: false }));
}

export async function versionOf(id, version) {
  return (await request('GET', path(id, `/history/${version}`))).sheet;
}

// ---- the server is back --------------------------------------------------------------------------------------------

let sending = 0;
/** With the server there, what is changed of a job that still waits is sent a moment later. */
function sendSoon() {
  if (!state.server) return;
  clearTimeout(sending);
  sending = setTimeout(() => window.dispatchEvent(new Event('send-waiting')), 400);
}

/** Send what waits; of several windows one does it. A job changed on both sides keeps both, and says so. */
export function sendWaiting() {
  return navigator.locks ? navigator.locks.request('ampleroom-sending', send) : send();
}

async function send() {
  const sent = [];
  await mirrored;
  try {
    for (const job of await all('jobs').catch(() => [])) {
      if (job.moved) continue;
      if (job.removal) await sendRemoval(job);
      if (job.removed && !job.server) continue;
      const took = await sendJob(job).catch((trouble) => {
        if (trouble.kind === 'network') throw trouble;
        return null;
      });
      if (took) sent.push(took);
    }
    await sendPhotos();
    await sendStock().catch((trouble) => {
      if (trouble.kind === 'network') throw trouble;
    });
  } catch (trouble) {
    if (trouble.kind !== 'network') throw trouble;
  }
  return sent;
}

async function sendJob(job) {
  if (!job.server) {
    const made = await request('POST', 'api/jobs', { sheet: job.sheet, label: 'made without the server' });
    await changeJob(job.id, (kept, { put, jobs, photos, then }) => {
      put({ ...kept, ...taken(kept, job.sheet, made), id: made.id, server: true });
      jobs.put({ id: job.id, moved: made.id });
      then(photos.getAll(), (found) => found.filter((photo) => photo.job === job.id).forEach((photo) => photos.put({ ...photo, job: made.id })));
    });
    return { id: job.id, to: made.id, title: made.title };
  }
  if (!job.waiting || job.conflict) return null;
  try {
    const saved = await request('PUT', path(job.id), { base: job.base, sheet: job.sheet, label: 'changed without the server' });
    await changeJob(job.id, (kept, { put }) => put({ ...kept, ...taken(kept, job.sheet, saved) }));
    return { id: job.id, to: job.id, title: saved.title };
  } catch (trouble) {
    if (trouble.kind !== 'conflict') throw trouble;
    const { current } = trouble.answer;
    const same = current.sheet === job.sheet;
    await changeJob(job.id, (kept, { put }) => put({ ...kept, ...(same ? taken(kept, job.sheet, current) : { conflict: current }) }));
    return same ? { id: job.id, to: job.id, title: current.title } : { id: job.id, to: job.id, title: job.title, conflict: true };
  }
}

/** A job as it is kept when the server has taken a sheet of it; what was changed while that was on its way still waits. */
function taken(kept, sheet, saved) {
  const more = kept.sheet !== sheet;
  return { base: saved.version, conflict: null, ...(more ? { waiting: true } : { version: saved.version, waiting: false, changed: saved.changed }) };
}

async function sendRemoval(job) {
  await (job.removal === 'away' ? request('DELETE', path(job.id)) : request('POST', path(job.id, '/restore'), {})).catch((trouble) => {
    if (trouble.kind === 'network') throw trouble;
  });
  await changeJob(job.id, (kept, { put }) => put({ ...kept, removal: undefined }));
}

async function sendPhotos() {
  for (const photo of await all('photos').catch(() => [])) {
    if (photo.job.startsWith('here-')) continue;
    try {
      if (photo.dropped) await request('DELETE', `api/photos/${photo.id}`);
      else if (photo.waiting) await request('POST', path(photo.job, `/photos?box=${encodeURIComponent(photo.box)}`), photo.blob, 'image/jpeg');
      else continue;
    } catch (trouble) {
      if (trouble.kind === 'network') throw trouble;
      if (!photo.dropped) continue; // a photograph the server does not take stays here, where it is still seen
    }
    await drop('photos', photo.id);
  }
}

/** End a conflict: mine on top, theirs, or both as two jobs. */
export async function settle(id, how) {
  const job = await local(id);
  const theirs = job.conflict;
  if (!theirs) return;
  if (how === 'both') await request('POST', 'api/jobs', { sheet: renamed(job.sheet), label: 'kept beside' });
  if (how === 'mine') {
    try {
      const saved = await request('PUT', path(id), { base: theirs.version, sheet: job.sheet, label: 'kept after a conflict' });
      await changeJob(id, (kept, { put }) => put({ ...kept, ...taken(kept, job.sheet, saved) }));
    } catch (trouble) {
      if (trouble.kind !== 'conflict') throw trouble;
      await changeJob(id, (kept, { put }) => put({ ...kept, conflict: trouble.answer.current }));
      throw new Trouble({ error: 'it was changed once more meanwhile; look again', kind: 'again' }, 409);
    }
    return;
  }
  await changeJob(id, (kept, { put, steps }) => {
    pushStep(kept, kept.sheet, steps);
    put(Object.assign(kept, { sheet: theirs.sheet, title: theirs.title, version: theirs.version, base: theirs.version, waiting: false, conflict: null }));
  });
}

function renamed(sheet) {
  return /^\s*job\s/im.test(sheet) ? sheet.replace(/^(\s*job\s+[^#\n]*?)(\s*(?:\s#.*)?)$/im, '$1 (mine)$2') : `job Mine\n${sheet}`;
}

// ---- photographs ---------------------------------------------------------------------------------------------------

/** Make a photograph small and encode it anew, so that nothing but the picture is kept. */
export async function smaller(file) {
  const picture = await createImageBitmap(file, { imageOrientation: 'from-image' }).catch(() => {
    throw new Trouble({ error: 'that is no photograph this browser can read', kind: 'question' }, 422);
  });
  const scale = Math.min(1, 1600 / Math.max(picture.width, picture.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  const pen = canvas.getContext('2d');
  pen.fillStyle = '#fff';
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return new Promise((done, failed) => canvas.toBlob((blob) => (blob ? done(blob) : failed(new Error('the photograph could not be made smaller'))), 'image/jpeg', 0.82));
}

export async function addPhoto(asked, box, file) {
  const id = await known(asked);
  const blob = await smaller(file);
  const here = () => keep('photos', { id: crypto.randomUUID(), job: id, box, blob, made: now(), waiting: true });
  if (await isHere(id)) return here();
  return orHere(() => request('POST', path(id, `/photos?box=${encodeURIComponent(box)}`), blob, 'image/jpeg'), here);
}

const urls = new Map();
function urlOf(photo) {
  if (!urls.has(photo.id)) urls.set(photo.id, URL.createObjectURL(photo.blob));
  return urls.get(photo.id);
}

/** The photographs of a box, or of all boxes; those on the server are copied, so that they are there without it. */
export async function photos(asked, box = '') {
  const id = await known(asked);
  const kept = (await all('photos').catch(() => [])).filter((photo) => photo.job === id);
  const wanted = (photo) => (!box || photo.box === box) && !photo.dropped;
  const here = kept.filter(wanted).map((photo) => ({ id: photo.id, box: photo.box, url: urlOf(photo), blob: photo.blob, waiting: photo.waiting }));
  if (id.startsWith('here-')) return here;
  return orHere(async () => {
    const { photos: there } = await request('GET', path(id, '/photos'));
    copyPhotos(id, there, kept);
    const dropped = new Set(kept.filter((photo) => photo.dropped).map((photo) => photo.id));
    return [...there.filter((photo) => wanted(photo) && !dropped.has(photo.id)).map((photo) => ({ ...photo, url: `api/photos/${photo.id}` })), ...here.filter((photo) => photo.waiting)];
  }, () => here);
}

async function copyPhotos(id, there, kept) {
  const have = new Set(kept.map((photo) => photo.id));
  const still = new Set(there.map((photo) => photo.id));
  try {
    for (const photo of kept) if (!photo.waiting && !photo.dropped && !still.has(photo.id)) await drop('photos', photo.id);
    for (const photo of there) {
      if (have.has(photo.id)) continue;
      const reply = await fetch(`api/photos/${photo.id}`);
      if (reply.ok) await keep('photos', { id: photo.id, job: id, box: photo.box, blob: await reply.blob(), made: photo.made, waiting: false });
    }
  } catch { /* a copy that could not be made is made the next time */ }
}

export async function dropPhoto(photo) {
  if (photo.waiting) return drop('photos', photo.id);
  return orHere(async () => {
    await request('DELETE', `api/photos/${photo.id}`);
    await drop('photos', photo.id).catch(() => {});
  }, async () => keep('photos', { ...(await one('photos', photo.id)), dropped: true }));
}

/** Photographs kept in this browser, for a packet made here. */
export async function photosForPacket(id) {
  const found = {};
  for (const photo of await photos(id)) {
    const blob = photo.blob ?? await (await fetch(photo.url)).blob();
    (found[photo.box] ??= []).push(base64(new Uint8Array(await blob.arrayBuffer())));
  }
  return found;
}

// ---- settings ------------------------------------------------------------------------------------------------------

/** The stock file; one written without the server is used here until the server has it. */
export async function stock() {
  const mine = await one('settings', 'stock').catch(() => null);
  if (await one('settings', 'stock-waits').catch(() => false)) return mine ?? '';
  return orHere(async () => {
    const { stock: text } = await request('GET', 'api/stock');
    if (text !== mine) keep('settings', text, 'stock').catch(() => {});
    return text;
  }, () => mine ?? '');
}

export async function setStock(text) {
  await ask('takeoff', { sheet: 'box X\n', stock: text }); // faults are told, and nothing is kept
  await orHere(async () => {
    await request('PUT', 'api/stock', { stock: text });
    await drop('settings', 'stock-waits');
  }, async () => {
    const before = await one('settings', 'stock');
    if (!(await one('settings', 'stock-waits'))) await keep('settings', { was: before ?? '' }, 'stock-waits');
  });
  await keep('settings', text, 'stock');
}

/** A stock file changed here is sent if nobody changed the server's meanwhile; else it stays here until somebody looks. */
async function sendStock() {
  const waits = await one('settings', 'stock-waits').catch(() => null);
  if (!waits) return;
  const mine = await one('settings', 'stock');
  const { stock: theirs } = await request('GET', 'api/stock');
  if (theirs !== waits.was && theirs !== mine) {
    await keep('settings', { ...waits, theirs }, 'stock-waits');
    return;
  }
  await request('PUT', 'api/stock', { stock: mine });
  await drop('settings', 'stock-waits');
}

/** The server's stock file where it was changed there and here, or null. */
export async function otherStock() {
  return (await one('settings', 'stock-waits').catch(() => null))?.theirs ?? null;
}

/** The examples: from the server, or from the folder this page lies in. */
export function examples() {
  return orHere(() => request('GET', 'api/examples'), async () => {
    try {
      return await (await fetch('examples.json')).json();
    } catch {
      return { examples: [], starter: '', stock: '' };
    }
  });
}

/** The first time in a browser without a server: the examples' stock file, so that remedies have parts to choose from. */
export async function seed() {
  if (state.server || (await one('settings', 'stock').catch(() => null))) return;
  const found = await examples();
  if (found.stock) await keep('settings', found.stock, 'stock').catch(() => {});
}
