// Photos of boxes: made small, kept on the server with a copy here, or here until the server takes them.
import { request, Trouble } from './ask.js';
import { all, drop, keep, now, one } from './database.js';
import { base64 } from './dom.js';
import { isHere, known, orHere, path } from './server-or-here.js';

/** Make a photograph small and encode it anew, so that nothing but the picture is kept. */
export async function smaller(file) {
  const picture = await createImageBitmap(file, { imageOrientation: 'from-image' }).catch(() => {
    throw new Trouble({ error: 'this browser cannot read that photo. Use a JPEG, PNG or WebP', kind: 'question' }, 422);
  });
  const scale = Math.min(1, 1600 / Math.max(picture.width, picture.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  const pen = canvas.getContext('2d');
  pen.fillStyle = '#fff';
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return new Promise((done, failed) => canvas.toBlob((blob) => (blob ? done(blob) : failed(new Error('the photo could not be made smaller'))), 'image/jpeg', 0.82));
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
