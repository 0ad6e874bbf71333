// Where jobs are kept: on the server while it is there, with a copy in this browser; in this browser alone when it is not.
// Changes made without the server are sent when it is back; what was changed on both sides is shown, never overwritten.
import { ask, askWorker, request, state, Trouble } from './ask.js';

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

async function within(names, mode, work) {
  const db = await database();
  return new Promise((done, failed) => {
    const deal = db.transaction(names, mode, { durability: 'strict' });
    let result;
    deal.oncomplete = () => done(result);
    deal.onerror = deal.onabort = () => failed(deal.error ?? new Error('not kept'));
    work(deal, (value) => { result = value; });
  });
}

const all = (name) => within([name], 'readonly', (deal, give) => { deal.objectStore(name).getAll().onsuccess = (e) => give(e.target.result); });
const one = (name, id) => within([name], 'readonly', (deal, give) => { deal.objectStore(name).get(id).onsuccess = (e) => give(e.target.result); });
const keep = (name, value, key) => within([name], 'readwrite', (deal) => { deal.objectStore(name).put(value, key); });
const drop = (name, id) => within([name], 'readwrite', (deal) => { deal.objectStore(name).delete(id); });

const now = () => new Date().toISOString();
const MOST_UNDO = 300;

/** A job, and the sheets one can go back to, each under a key of its own: a tap writes two small records, not three hundred. */
function keepStep(job, sheet) {
  return within(['jobs', 'steps'], 'readwrite', (deal) => {
    const steps = deal.objectStore('steps');
    const key = `${job.id}/${crypto.randomUUID()}`;
    steps.put(sheet, key);
    job.undo.push(key);
    for (const old of job.redo.splice(0)) steps.delete(old);
    while (job.undo.length > MOST_UNDO) steps.delete(job.undo.shift());
    deal.objectStore('jobs').put(job);
  });
}

/** Go back (or forth) one step: the sheet left is kept under the key of the one taken. */
function takeStep(job, from, to, change) {
  return within(['jobs', 'steps'], 'readwrite', (deal, give) => {
    const steps = deal.objectStore('steps');
    const key = from.pop();
    steps.get(key).onsuccess = (event) => {
      const sheet = event.target.result;
      steps.put(job.sheet, key);
      to.push(key);
      Object.assign(job, change(sheet));
      deal.objectStore('jobs').put(job);
      give(job);
    };
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

/** A copy of a server's job in this browser, with the steps made here, so that they can be undone when the server is gone.
 *  What waits to be sent is not touched. how: 'seen', 'changed', 'back' or 'forth'. */
async function mirror(job, how = 'seen') {
  const kept = await one('jobs', job.id).catch(() => null);
  if (kept?.waiting) return;
  const record = kept ?? { id: job.id, undo: [], redo: [], sheet: job.sheet };
  const was = record.sheet;
  const from = { back: record.undo, forth: record.redo }[how];
  const fresh = { title: job.title, version: job.version, sheet: job.sheet, changed: job.changed, server: true, base: job.version, waiting: false, removed: false };
  if (from?.length) {
    await takeStep(record, from, how === 'back' ? record.redo : record.undo, () => fresh).catch(() => {});
    return;
  }
  Object.assign(record, fresh);
  await (how === 'changed' && was !== job.sheet ? keepStep(record, was) : keep('jobs', record)).catch(() => {});
}

/** A change of a local job: the old sheet can be undone, the new one waits to be sent if the server knows the job. */
async function write(id, sheet) {
  const job = await local(id);
  if (job.sheet === sheet) return job;
  const was = job.sheet;
  Object.assign(job, { sheet, title: titleOf(sheet), version: job.version + 1, changed: now(), waiting: Boolean(job.server) });
  await keepStep(job, was);
  return job;
}

async function local(id) {
  const job = await one('jobs', id);
  if (!job) throw new Trouble({ error: 'there is no such job in this browser', kind: 'missing' }, 404);
  return job;
}

// ---- what the page calls -------------------------------------------------------------------------------------------

/** Whether a job is worked on in this browser: no server, made here, or changes of it still wait. */
async function isHere(id) {
  if (!state.server) return true;
  const job = await one('jobs', id).catch(() => null);
  return Boolean(job && (!job.server || job.waiting));
}

export async function list() {
  const kept = (await all('jobs').catch(() => [])).filter((job) => !job.removed);
  if (!state.server) return kept.map(shown).sort((a, b) => b.changed.localeCompare(a.changed));
  const { jobs } = await request('GET', 'api/jobs');
  const ours = kept.filter((job) => !job.server || job.waiting).map(shown);
  const ids = new Set(ours.map((job) => job.id));
  return [...ours, ...jobs.filter((job) => !ids.has(job.id))].sort((a, b) => b.changed.localeCompare(a.changed));
}

export async function create(sheet, label = 'new') {
  if (state.server) {
    const made = await request('POST', 'api/jobs', { sheet, label });
    await mirror(made);
    return made;
  }
  const id = `here-${crypto.randomUUID()}`;
  const job = { id, title: titleOf(sheet), version: 1, sheet, changed: now(), undo: [], redo: [], server: false, base: 0, waiting: false };
  await keep('jobs', job);
  return shown(job);
}

export async function get(id) {
  if (await isHere(id)) return shown(await local(id));
  try {
    const job = await request('GET', `api/jobs/${encodeURIComponent(id)}`);
    await mirror(job);
    return job;
  } catch (trouble) {
    if (trouble.kind === 'network') return shown(await local(id));
    throw trouble;
  }
}

/** Write the whole sheet on top of the version that was shown. */
export async function save(job, sheet, label) {
  if (await isHere(job.id)) return shown(await write(job.id, sheet));
  return orHere('changed', () => request('PUT', `api/jobs/${encodeURIComponent(job.id)}`, { base: job.version, sheet, label }), () => write(job.id, sheet));
}

/** A tap: the change made and kept, with the box as it is then. */
export async function edit(job, change, box, edition) {
  const here = async () => {
    const kept = await local(job.id);
    const answer = await askWorker('edit', { sheet: kept.sheet, edit: change, box, edition });
    const saved = await write(job.id, answer.sheet);
    return { ...answer, ...shown(saved) };
  };
  if (await isHere(job.id)) return here();
  try {
    const answer = await request('POST', `api/jobs/${encodeURIComponent(job.id)}/edit`, { base: job.version, edit: change, box, edition });
    mirror(answer, 'changed');
    return answer;
  } catch (trouble) {
    if (trouble.kind === 'network' && state.offlinePages) return here();
    throw trouble;
  }
}

async function orHere(how, online, here) {
  let saved;
  try {
    saved = await online();
  } catch (trouble) {
    if (trouble.kind === 'network') return shown(await here());
    throw trouble;
  }
  await mirror(saved, how);
  return saved;
}

export async function step(job, back) {
  const here = async () => {
    const kept = await local(job.id);
    const [from, to] = back ? [kept.undo, kept.redo] : [kept.redo, kept.undo];
    if (!from.length) throw new Trouble({ error: back ? 'there is nothing to undo' : 'there is nothing to redo', kind: 'missing' }, 404);
    return takeStep(kept, from, to, (sheet) => ({ sheet, title: titleOf(sheet), version: kept.version + 1, changed: now(), waiting: Boolean(kept.server) }));
  };
  if (await isHere(job.id)) return shown(await here());
  return orHere(back ? 'back' : 'forth', () => request('POST', `api/jobs/${encodeURIComponent(job.id)}/${back ? 'undo' : 'redo'}`, { base: job.version }), here);
}

export async function remove(id) {
  const job = await one('jobs', id).catch(() => null);
  if (state.server && (!job || job.server)) await request('DELETE', `api/jobs/${encodeURIComponent(id)}`);
  if (job) await keep('jobs', { ...job, removed: true });
}

export async function restore(id) {
  const job = await one('jobs', id).catch(() => null);
  if (state.server && (!job || job.server)) await request('POST', `api/jobs/${encodeURIComponent(id)}/restore`, {});
  if (job) await keep('jobs', { ...job, removed: false });
}

export async function history(id) {
  if (await isHere(id)) return [];
  return (await request('GET', `api/jobs/${encodeURIComponent(id)}/history`)).versions;
}

export async function versionOf(id, version) {
  return (await request('GET', `api/jobs/${encodeURIComponent(id)}/history/${version}`)).sheet;
}

// ---- the server is back --------------------------------------------------------------------------------------------

/** Send what waits. A job changed on both sides keeps both, and says so. */
export async function sendWaiting() {
  const sent = [];
  for (const job of await all('jobs').catch(() => [])) {
    if (job.removed) continue;
    try {
      if (!job.server) {
        const made = await request('POST', 'api/jobs', { sheet: job.sheet, label: 'made without the server' });
        const photos = (await all('photos')).filter((photo) => photo.job === job.id);
        for (const photo of photos) await request('POST', `api/jobs/${made.id}/photos?box=${encodeURIComponent(photo.box)}`, photo.blob, 'image/jpeg').catch(() => {});
        await keep('jobs', { ...job, id: made.id, version: made.version, base: made.version, server: true, waiting: false, changed: made.changed });
        await drop('jobs', job.id);
        sent.push({ id: job.id, to: made.id, title: made.title });
      } else if (job.waiting && !job.conflict) {
        const saved = await request('PUT', `api/jobs/${encodeURIComponent(job.id)}`, { base: job.base, sheet: job.sheet, label: 'changed without the server' });
        await keep('jobs', { ...job, version: saved.version, base: saved.version, waiting: false, conflict: null, changed: saved.changed });
        sent.push({ id: job.id, to: job.id, title: saved.title });
      }
      await sendPhotos(job.id);
    } catch (trouble) {
      if (trouble.kind === 'conflict') await keep('jobs', { ...job, conflict: trouble.answer.current });
      else if (trouble.kind === 'network') return sent;
    }
  }
  return sent;
}

async function sendPhotos(id) {
  for (const photo of (await all('photos').catch(() => [])).filter((photo) => photo.job === id && photo.waiting)) {
    await request('POST', `api/jobs/${encodeURIComponent(id)}/photos?box=${encodeURIComponent(photo.box)}`, photo.blob, 'image/jpeg');
    await drop('photos', photo.id);
  }
}

/** End a conflict: mine on top, theirs, or both as two jobs. */
export async function settle(id, how) {
  const job = await local(id);
  const theirs = job.conflict;
  if (!theirs) return id;
  if (how === 'both') await request('POST', 'api/jobs', { sheet: renamed(job.sheet), label: 'kept beside' });
  if (how === 'mine') {
    const saved = await request('PUT', `api/jobs/${encodeURIComponent(id)}`, { base: theirs.version, sheet: job.sheet, label: 'kept after a conflict' });
    await keep('jobs', { ...job, version: saved.version, base: saved.version, waiting: false, conflict: null, changed: saved.changed });
  } else {
    const mine = job.sheet;
    Object.assign(job, { sheet: theirs.sheet, title: theirs.title, version: theirs.version, base: theirs.version, waiting: false, conflict: null });
    await keepStep(job, mine);
  }
  return id;
}

function renamed(sheet) {
  return /^\s*job\s/im.test(sheet) ? sheet.replace(/^(\s*job\s+.*)$/im, '$1 (mine)') : `job Mine\n${sheet}`;
}

// ---- photographs and settings --------------------------------------------------------------------------------------

/** Make a photograph small and encode it anew, so that nothing but the picture is kept. */
export async function smaller(file) {
  const picture = await createImageBitmap(file, { imageOrientation: 'from-image' });
  const scale = Math.min(1, 1600 / Math.max(picture.width, picture.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  canvas.getContext('2d').drawImage(picture, 0, 0, canvas.width, canvas.height);
  return new Promise((done) => canvas.toBlob(done, 'image/jpeg', 0.82));
}

export async function addPhoto(id, box, file) {
  const blob = await smaller(file);
  if (!(await isHere(id))) {
    try {
      return await request('POST', `api/jobs/${encodeURIComponent(id)}/photos?box=${encodeURIComponent(box)}`, blob, 'image/jpeg');
    } catch (trouble) {
      if (trouble.kind !== 'network') throw trouble;
    }
  }
  const photo = { id: crypto.randomUUID(), job: id, box, blob, made: now(), waiting: true };
  await keep('photos', photo);
  return photo;
}

export async function photos(id, box) {
  const here = (await all('photos').catch(() => [])).filter((photo) => photo.job === id && (!box || photo.box === box))
    .map((photo) => ({ id: photo.id, box: photo.box, url: URL.createObjectURL(photo.blob), blob: photo.blob, here: true }));
  if (await isHere(id)) return here;
  const { photos: kept } = await request('GET', `api/jobs/${encodeURIComponent(id)}/photos`);
  return [...kept.filter((photo) => !box || photo.box === box).map((photo) => ({ ...photo, url: `api/photos/${photo.id}` })), ...here];
}

export async function dropPhoto(photo) {
  if (photo.here) await drop('photos', photo.id);
  else await request('DELETE', `api/photos/${photo.id}`);
}

async function base64(blob) {
  const bytes = new Uint8Array(await blob.arrayBuffer());
  let text = '';
  for (let start = 0; start < bytes.length; start += 32768) text += String.fromCharCode(...bytes.subarray(start, start + 32768));
  return btoa(text);
}

/** Photographs kept in this browser, for a packet made here. */
export async function photosForPacket(id) {
  const found = {};
  for (const photo of await photos(id)) if (photo.blob) (found[photo.box] ??= []).push(await base64(photo.blob));
  return found;
}

export async function stock() {
  if (state.server) {
    const { stock: text } = await request('GET', 'api/stock');
    await keep('settings', text, 'stock').catch(() => {});
    return text;
  }
  return (await one('settings', 'stock').catch(() => '')) ?? '';
}

export async function setStock(text) {
  if (state.server) await request('PUT', 'api/stock', { stock: text });
  else await ask('takeoff', { sheet: 'box X\n', stock: text });
  await keep('settings', text, 'stock');
}

/** The examples: from the server, or from the folder this page lies in. */
export async function examples() {
  if (state.server) return request('GET', 'api/examples');
  try {
    return await (await fetch('examples.json')).json();
  } catch {
    return { examples: [], starter: '', stock: '' };
  }
}

/** The first time in a browser without a server: the examples' stock file, so that remedies have parts to choose from. */
export async function seed() {
  if (state.server) return;
  if (!(await one('settings', 'stock').catch(() => null))) {
    const found = await examples();
    if (found.stock) await keep('settings', found.stock, 'stock').catch(() => {});
  }
}
