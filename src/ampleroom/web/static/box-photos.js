// The photos of a box. `view` is the box view's state, see box.js.
import { button, el, say, sayTrouble } from './dom.js';
import * as store from './store.js';

async function addPhoto(view, event) {
  const files = [...event.target.files];
  event.target.value = '';
  for (const file of files) {
    say('Shrinking the photo …', true);
    try {
      await store.addPhoto(view.id, view.box.name, file);
      say('Photo saved');
    } catch (trouble) {
      say(`${file.name}: ${trouble.message ?? 'cannot be read'}`, true);
    }
  }
  view.images = await store.photos(view.id, view.box.name).catch(() => view.images);
  view.redraw();
}

async function dropPhoto(view, photo) {
  try {
    await store.dropPhoto(photo);
    view.images = view.images.filter((other) => other.id !== photo.id);
    view.redraw();
    say('Photo removed');
  } catch (trouble) {
    sayTrouble(trouble);
  }
}

export function photosCard(view) {
  return el('section', { class: 'card', data: { key: 'card-photos' } }, el('h2', {}, 'Photos'),
    el('label', { class: 'button', for: 'photo' }, 'Add a photo'),
    el('input', { id: 'photo', type: 'file', accept: 'image/*', multiple: true, class: 'unseen', on: { change: (event) => addPhoto(view, event) } }),
    el('p', { class: 'small soft' }, 'Saved small, without location or camera data. They go into the packet.'),
    el('div', { class: 'photos' }, view.images.map((photo, place) => el('figure', { data: { key: `figure-${photo.id}` } }, el('img', { src: photo.url, alt: `Photo ${place + 1} of ${view.box.name}` }),
      button('Remove', () => dropPhoto(view, photo), { key: `photo-${photo.id}`, 'aria-label': `Remove photo ${place + 1}` })))));
}
