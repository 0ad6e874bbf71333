// What opens from a row or a key of a box: choices beyond the keys, and the details of the box, a cable, a device.
import { choices, openSheet, textField } from './box-fields.js';
import { addCable, addItem, base, CLAMP_WORDS, runsOf, setBase, setClamps, sameDevice, sideNow } from './box-screen.js';
import { button, closeDialog, el } from './dom.js';

/** A number as people type it into a field: up to four decimals, with a point or a comma. */
const NUMBER = /^\d{1,6}([.,]\d{1,4})?$/;
const TYPE_VOLUME = 'Type the volume in in³, such as 20.3';
const HERE = [['ends', 'ends here'], ['passes', 'passes through'], ['looped', 'loops through, uncut']];

const choose = (run) => () => { closeDialog(); run(); };
const list = (label, options) => el('div', { class: 'choices', role: 'group', 'aria-label': label }, options);

// ---- beyond the keys -----------------------------------------------------------------------------------------------

export const chooseCable = (view) => openSheet(view, 'Other cable', () => [
  list('Cables', [...view.words.cables, ...view.words.old_cables].map((cable) => button(cable.replace(/ nm-b$/, ''), choose(() => addCable(view, cable)), { key: cable, 'aria-label': `Add one ${cable.replace(/ nm-b$/, '')}` }))),
  textField(view, { id: 'cable', label: 'Any other cable, as in a sheet', like: 'such as 14/2 old, ground #16', words: 'Add',
    adds: true, use: (cable) => (cable ? addCable(view, cable, 'cable') : 'Type the cable first, such as 14/2 old') }),
]);

export const chooseDevice = (view) => openSheet(view, 'Other device', () => [
  list('Devices', view.words.devices.map((device) => button(device, choose(() => addItem(view, device)), { key: device, 'aria-label': `Add a ${device}` }))),
  otherLine(view),
]);

export const chooseClamps = (view) => openSheet(view, 'Cable clamps', () => choices('Where they are', view.words.clamps.map((way) => [way, CLAMP_WORDS[way]]), sideNow(view).clamps.way || '?', (way) => setClamps(view, way)));

function otherLine(view) {
  return textField(view, { id: 'line', label: 'Anything else, as a line of the sheet', like: 'such as fixture wires 2 x #16 from domed canopy', words: 'Add',
    adds: true, use: (line) => (line ? addItem(view, line, 'line') : 'Type the line first, such as stud') });
}

const SHAPES = [['square', 'Square'], ['octagon', 'Octagon'], ['device', 'Device box'], ['masonry', 'Masonry'], ['fs', 'FS'], ['fd', 'FD']];

export const chooseBox = (view) => openSheet(view, 'What the box is', () => [
  SHAPES.map(([shape, title]) => el('details', { open: shape === 'square', data: { key: `shape-${shape}` } }, el('summary', {}, title),
    el('div', { class: 'chips' }, view.words.boxes.filter((box) => box.line.startsWith(`${shape} `)).map((box) => button(`${box.line.slice(shape.length + 1)} · ${box.volume} in³`, choose(() => setBase(view, box.line)), { key: box.line, 'aria-label': `${title} ${box.line.slice(shape.length + 1)} · ${box.volume} in³` }))))),
  marked(view),
]);

function marked(view) {
  const use = (value) => {
    if (!NUMBER.test(value)) return TYPE_VOLUME;
    closeDialog();
    return setBase(view, `marked ${value.replace(',', '.')} in3${view.plastic ? ' plastic' : ''}${view.gangs ? ` ${view.gangs}-gang` : ''}`);
  };
  return [
    el('label', { class: 'check' }, el('input', { id: 'plastic', type: 'checkbox', checked: view.plastic, data: { key: 'plastic' }, on: { change: (event) => { view.plastic = event.target.checked; } } }), 'plastic'),
    choices('Gangs', [['', 'not set'], ...['1', '2', '3', '4'].map((gangs) => [gangs, gangs])], view.gangs, (gangs) => { view.gangs = gangs; view.redraw(); }),
    textField(view, { id: 'volume', label: 'Volume marked in it, in³', like: 'the number stamped inside, such as 20.3', mode: 'decimal', use }),
  ];
}

// ---- the box -------------------------------------------------------------------------------------------------------

export const boxSheet = (view) => openSheet(view, `Box ${view.box.name}`, () => [
  el('p', {}, el('strong', {}, base(view) ?? 'not set yet'), ' ', button('Change', () => chooseBox(view), { key: 'base', 'aria-label': 'Change the box' })),
  textField(view, { id: 'at', label: 'Room or place', like: 'such as kitchen, north wall', value: view.box.at, use: (at) => view.change({ do: 'set-at', at }, 'at') }),
  el('details', { data: { key: 'rings' } }, el('summary', {}, 'Add a ring or cover'), rings(view)),
  el('details', { data: { key: 'barriers' } }, el('summary', {}, view.box.spaces.length ? 'Barrier' : 'Add a barrier'), barriers(view)),
  otherLine(view),
]);

const PARTS = ['plaster ring', 'raised cover', 'domed cover', 'extension ring'];

function rings(view) {
  const add = (kind, words) => addItem(view, `${kind} ${words}`, 'ring-volume');
  return [
    textField(view, { id: 'ring-volume', label: 'Volume marked on it, in³', mode: 'decimal', words: 'Plaster ring', use: (value) => ring(PARTS[0], value) }),
    PARTS.map((kind) => el('div', { class: 'row', role: 'group', 'aria-label': kind }, el('strong', { class: 'whole' }, kind),
      button('marked', () => {
        const refused = ring(kind, document.getElementById('ring-volume').value.trim());
        if (typeof refused !== 'string') return;
        view.fault = { field: 'ring-volume', words: refused };
        view.redraw();
      }, { key: `${kind}-marked`, 'aria-label': `${kind}, marked` }),
      button('not marked', () => add(kind, 'unmarked'), { key: `${kind}-unmarked`, 'aria-label': `${kind}, not marked` }),
      button('not known', () => add(kind, '?'), { key: `${kind}-unknown`, 'aria-label': `${kind}, not known` }))),
  ];
  function ring(kind, value) {
    return NUMBER.test(value) ? add(kind, `${value.replace(',', '.')} in3`) : TYPE_VOLUME;
  }
}

/** A barrier: what it is of, and how it shares out the box. By gangs where the box has several. */
function barriers(view) {
  if (view.box.spaces.length) return el('p', {}, button('Remove the barrier', () => view.change({ do: 'remove-barrier' }), { key: 'remove-barrier' }));
  const gangCount = Number(/(\d+)-gang|(\d+) ganged/.exec(base(view) ?? '')?.slice(1).find(Boolean) ?? 1);
  const gangs = (count) => `${count} ${count === 1 ? 'gang' : 'gangs'}`;
  const shares = [...Array.from({ length: gangCount - 1 }, (_, at) => [gangs(at + 1), gangs(gangCount - at - 1)]), ['1/2', '1/2'], ['1/3', '2/3'], ['2/3', '1/3']];
  const material = view.barrier || (/plastic/.test(base(view) ?? '') ? 'plastic' : 'metal');
  return [
    choices('Barrier material', ['metal', 'plastic'].map((each) => [each, each]), material, (each) => { view.barrier = each; view.redraw(); }),
    el('p', { class: 'small soft' }, 'What is in the box now goes on the left.'),
    el('div', { class: 'chips' }, shares.map(([left, right]) => button(`Left ${left}, right ${right}`, () => view.change({ do: 'divide', way: material, how: `left ${left}, right ${right}` }), { key: `divide-${left}-${right}` }))),
  ];
}

const sideChoice = (view, side, move) => (view.box.spaces.length ? choices('Side of the barrier', view.box.spaces.map((name) => [name, name]), side, move) : null);

// ---- a cable -------------------------------------------------------------------------------------------------------

export function cableSheet(view, row) {
  const lines = () => runsOf(view, sideNow(view).cables.find((other) => other.name === row.name && other.title === row.title));
  let at = Math.max(0, lines().findIndex((run) => run.far.includes('?')));
  openSheet(view, row.title, () => {
    const runs = lines();
    if (!runs.length) return el('p', { class: 'soft' }, 'None on this side any more.');
    const run = runs[Math.min(at, runs.length - 1)];
    const of = (edit, field) => view.change({ index: run.index, ...edit }, field);
    const where = (each) => `${each.count === 1 ? '' : `${each.count} × `}${each.far.filter((far) => far !== '?').join(', ') || 'far end not known'}`;
    const far = run.far.length === 1 ? run.far[0] : run.far.find((each) => each !== '?') ?? '?';
    return [
      runs.length > 1 ? choices('Which one', runs.map((each, place) => [place, `${place + 1}: ${where(each)}`]), runs.indexOf(run), (place) => { at = place; view.redraw(); }) : null,
      run.count > 1 ? el('p', { class: 'small soft' }, `${run.count} alike; a far end, a length or a circuit is given to one of them.`) : null,
      run.name === 'wires' ? null : [
        el('label', { for: 'far' }, 'Far end'),
        el('select', { id: 'far', data: { key: 'far' }, on: { change: (event) => of({ do: 'run-to', to: event.target.value, count: 1 }, 'far') } }, [['?', 'not known'], ...view.places.map((place) => [place.name, [place.name, place.at].filter(Boolean).join(' · ')])].map(([value, words]) => el('option', { value, selected: value === far }, words))),
        view.fault?.field === 'far' ? el('p', { class: 'wrong', role: 'alert' }, view.fault.words) : null,
        el('details', { data: { key: 'new-far' } }, el('summary', {}, `To a new box, ${view.around.new}`),
          textField(view, { id: 'room', label: 'Its room or place', like: 'may be left empty', words: `To ${view.around.new}`, use: (room) => of({ do: 'run-to', name: '', at: room, count: 1 }, 'room') })),
      ],
      choices('In this box', HERE, run.here === 'landed' ? 'looped' : run.here, (how) => of({ do: 'run-here', how })),
      textField(view, { id: 'length', label: 'Length, feet', value: run.length === '?' ? '' : run.length, mode: 'decimal', like: run.length ? (run.length === '?' ? 'not known' : '') : 'not said', use: (length) => of({ do: 'run-detail', length, count: 1 }, 'length') }),
      textField(view, { id: 'circuit', label: 'Circuit', value: run.circuit, like: 'such as 7', use: (circuit) => of({ do: 'run-detail', circuit, count: 1 }, 'circuit') }),
      sideChoice(view, run.side, (space) => of({ do: 'run-detail', space, count: 1 })),
      el('p', { class: 'small soft' }, run.text),
      el('p', {}, button(run.name === 'wires' ? 'Remove these wires' : 'Remove this cable', () => of({ do: 'run-count', count: run.count > 1 ? run.count - 1 : 0 }), { key: 'drop-run', class: 'plain' })),
    ];
  });
}

// ---- a device ------------------------------------------------------------------------------------------------------

export function deviceSheet(view, row) {
  let index = (sameDevice(view, row) ?? row).indexes.at(-1);
  openSheet(view, row.title, () => {
    const item = view.box.items.find((each) => each.index === index && each.is === 'device');
    const found = item && sideNow(view).devices.find((each) => each.indexes.includes(index));
    if (!found) return el('p', { class: 'soft' }, 'Not on this side any more.');
    const of = (edit) => view.change({ do: 'set-device', index, ...edit });
    return [
      found.count > 1 ? el('p', { class: 'small soft' }, `${found.count} alike; this changes ${item.count > 1 ? `${item.count} of them` : 'one'}.`) : null,
      choices('What it is', [...new Set([found.name, ...view.words.devices])].map((name) => [name, name === 'device' ? 'not known' : name]), found.name, (line) => of({ line })),
      choices('Largest wire on it', [['?', 'from the cables'], ...view.words.sizes.map((size) => [size, `#${size}`])], found.size, (size) => of({ size })),
      sideChoice(view, item.side, async (space) => {
        await of({ space });
        index = -1; // it has another place among the lines then
        closeDialog();
      }),
      el('p', {}, button('Remove it', choose(() => view.change({ do: 'drop-item', index })), { key: 'drop-device', class: 'plain' })),
    ];
  });
}
