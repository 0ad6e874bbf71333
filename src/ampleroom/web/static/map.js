// The map of a job: zoomed by fingers, wheel, keys and buttons, searched by name; a place on it opens what stands there.
import { button, download, el, kept, link, picture, say } from './dom.js';
import { to } from './frame.js';
import { waiting } from './job-tabs.js';

const STEP = 1.3;
const MOST = 4;

/** The map's part of the page. The map itself is a node that stays, with its zoom, until its picture is another. */
export function mapPart(view) {
  if (!view.extra?.svg) return waiting();
  if (!view.extra.places.length) return el('p', {}, 'Nothing to draw yet. ', link('Add a box first', to.job(view.id)), '.');
  if (view.map?.of !== view.extra || view.map.theme !== document.documentElement.dataset.theme) view.map = makeMap(view, view.map?.zoom);
  const { map } = view;
  return [
    el('div', { class: 'row map-tools' },
      el('form', { class: 'row grow', on: { submit: (event) => { event.preventDefault(); map.find(document.getElementById('find-place').value); } } },
        el('label', { for: 'find-place', class: 'unseen' }, 'Find on the map'),
        el('input', { id: 'find-place', type: 'search', placeholder: 'Find', autocomplete: 'off', data: { key: 'find-place' }, on: { input: (event) => map.find(event.target.value, true) } })),
      button('−', () => map.by(1 / STEP), { key: 'map-smaller', 'aria-label': 'Smaller', class: 'square' }),
      button('+', () => map.by(STEP), { key: 'map-larger', 'aria-label': 'Larger', class: 'square' }),
      button('All', () => map.fit(), { key: 'map-all', 'aria-label': 'Show all of the map' })),
    map.found ? el('p', { class: 'row', data: { key: 'found-place' } }, map.found.page ? link(`Open ${map.found.name}`, to.subject(view.id, map.found), { class: 'button main' }) : `${map.found.name} has no verdict of its own.`) : null,
    kept(map.node),
    button('Save the map', () => download(`${view.list.title || 'job'} map.svg`, 'svg', view.extra.svg), { key: 'save-map' }),
  ];
}

function makeMap(view, zoomed) {
  const { wide, places } = view.extra;
  const image = picture(view.extra, { draggable: 'false' });
  const ring = el('div', { class: 'ring', hidden: true });
  const paper = el('div', { class: 'map-paper' }, image, ring);
  const node = el('div', { class: 'scroll map', tabindex: 0, role: 'region', 'aria-label': 'Map of the job. Plus and minus zoom, arrows move', data: { key: 'map' } }, paper);
  const map = { of: view.extra, theme: document.documentElement.dataset.theme, node, zoom: zoomed ?? 0, found: null, by, fit, find };
  const fingers = new Map();
  let spread = 0;
  let moved = false;

  const least = () => Math.min(1, Math.max(0.1, (node.clientWidth - 2) / wide));

  /** Zoom, with the point of the screen that is meant staying where it is. */
  function to_(zoom, x = node.clientWidth / 2, y = node.clientHeight / 2) {
    const before = map.zoom || 1;
    const [left, top] = [(node.scrollLeft + x) / before, (node.scrollTop + y) / before];
    map.zoom = Math.min(MOST, Math.max(least(), zoom));
    image.style.width = `${wide * map.zoom}px`;
    node.scrollLeft = left * map.zoom - x;
    node.scrollTop = top * map.zoom - y;
    mark();
  }

  function by(factor) { to_(map.zoom * factor); }

  function fit() { to_(least(), 0, 0); }

  function mark() {
    ring.hidden = !map.found;
    if (!map.found) return;
    const { x, y, wide: w, high: h } = map.found;
    Object.assign(ring.style, { left: `${(x - 4) * map.zoom}px`, top: `${(y - 2) * map.zoom}px`, width: `${(w + 8) * map.zoom}px`, height: `${(h + 4) * map.zoom}px` });
  }

  /** Show a place by its name, or by the start of it; `typing`: nothing is said while the name is not whole. */
  function find(words, typing = false) {
    const wanted = words.trim().toLowerCase();
    const named = (test) => (wanted ? places.find((place) => test(place.name.toLowerCase())) : null);
    map.found = named((name) => name === wanted) ?? named((name) => name.startsWith(wanted)) ?? named((name) => name.includes(wanted)) ?? null;
    if (map.found) {
      if (map.zoom < 0.9) to_(1);
      node.scrollLeft = (map.found.x + map.found.wide / 2) * map.zoom - node.clientWidth / 2;
      node.scrollTop = map.found.y * map.zoom - node.clientHeight / 2;
      if (!typing) say(`${map.found.name} is ringed on the map`);
    } else if (wanted && !typing) say(`No place named ${words.trim()} on this map`);
    mark();
    view.redraw();
  }

  /** The place under a point of the window, if any. */
  function under(event) {
    const box = image.getBoundingClientRect();
    const [x, y] = [(event.clientX - box.left) / map.zoom, (event.clientY - box.top) / map.zoom];
    return places.find((place) => x >= place.x - 6 && x <= place.x + place.wide + 6 && y >= place.y && y <= place.y + place.high);
  }

  const apart = () => {
    const [one, other] = [...fingers.values()];
    return Math.hypot(one.clientX - other.clientX, one.clientY - other.clientY);
  };
  node.addEventListener('pointerdown', (event) => {
    fingers.set(event.pointerId, event);
    moved = fingers.size > 1;
    if (fingers.size === 2) spread = apart();
  });
  node.addEventListener('pointermove', (event) => {
    if (!fingers.has(event.pointerId)) return;
    fingers.set(event.pointerId, event);
    if (fingers.size !== 2) return;
    const [now, box] = [apart(), node.getBoundingClientRect()];
    const [one, other] = [...fingers.values()];
    if (spread) to_(map.zoom * (now / spread), (one.clientX + other.clientX) / 2 - box.left, (one.clientY + other.clientY) / 2 - box.top);
    spread = now;
  });
  for (const end of ['pointerup', 'pointercancel', 'pointerleave']) node.addEventListener(end, (event) => fingers.delete(event.pointerId));
  node.addEventListener('click', (event) => {
    const place = moved ? null : under(event);
    if (place) find(place.name);
  });
  node.addEventListener('wheel', (event) => {
    if (!event.ctrlKey) return;
    event.preventDefault();
    const box = node.getBoundingClientRect();
    to_(map.zoom * (event.deltaY < 0 ? STEP : 1 / STEP), event.clientX - box.left, event.clientY - box.top);
  }, { passive: false });
  node.addEventListener('keydown', (event) => {
    const run = { '+': () => by(STEP), '=': () => by(STEP), '-': () => by(1 / STEP), 0: fit }[event.key];
    if (!run || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    run();
  });
  requestAnimationFrame(() => to_(map.zoom || Math.max(least(), 0.8), 0, 0));
  return map;
}
