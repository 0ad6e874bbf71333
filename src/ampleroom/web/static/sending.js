// The server is back: what was changed without it is sent. What was changed on both sides keeps both, and says so.
import { request, Trouble } from './ask.js';
import { all, changeJob, drop } from './database.js';
import { local, mirrored, pushStep } from './local-jobs.js';
import { path } from './server-or-here.js';
import { sendStock } from './stock.js';

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

/** End a conflict: mine on top, theirs, both as two jobs, or both together in this text. */
export async function settle(id, how, together = null) {
  const job = await local(id);
  const theirs = job.conflict;
  if (!theirs) return;
  if (how === 'both') await request('POST', 'api/jobs', { sheet: renamed(job.sheet), label: 'kept beside' });
  if (how === 'mine' || how === 'together') {
    const sheet = together ?? job.sheet;
    try {
      const saved = await request('PUT', path(id), { base: theirs.version, sheet, label: together ? 'put together' : 'kept after a conflict' });
      await changeJob(id, (kept, { put, steps }) => {
        if (kept.sheet !== job.sheet) put({ ...kept, base: saved.version, conflict: saved, waiting: true }); // changed meanwhile: asked once more
        else {
          if (sheet !== kept.sheet) pushStep(kept, kept.sheet, steps, 'put together');
          put(Object.assign(kept, { sheet, title: saved.title }, taken({ ...kept, sheet }, sheet, saved)));
        }
      });
    } catch (trouble) {
      if (trouble.kind !== 'conflict') throw trouble;
      await changeJob(id, (kept, { put }) => put({ ...kept, conflict: trouble.answer.current }));
      throw new Trouble({ error: 'the server’s copy changed again. Compare once more', kind: 'again' }, 409);
    }
    return;
  }
  await changeJob(id, (kept, { put, steps }) => {
    pushStep(kept, kept.sheet, steps, 'the server’s copy used');
    put(Object.assign(kept, { sheet: theirs.sheet, title: theirs.title, version: theirs.version, base: theirs.version, waiting: false, conflict: null }));
  });
}

function renamed(sheet) {
  return /^\s*job\s/im.test(sheet) ? sheet.replace(/^(\s*job\s+[^#\n]*?)(\s*(?:\s#.*)?)$/im, '$1 (mine)$2') : `job Mine\n${sheet}`;
}
