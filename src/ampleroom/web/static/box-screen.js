// The rows and keys of a box: each row is control, legend and worksheet in one. `view` is the box view's state, see box.js.
import { boxSheet, cableSheet, chooseBox, chooseCable, chooseClamps, chooseDevice, deviceSheet } from './box-sheets.js';
import { button, el, picture, units, verdict } from './dom.js';
import { note, recall } from './usual.js';
import { isEmpty } from './worksheet.js';

/** The side that is tapped into; empty where no barrier divides the box. */
export const sideName = (view) => (view.box.spaces.includes(view.side) ? view.side : view.box.spaces[0] ?? '');
/** The rows of the side that is shown. */
export const sideNow = (view, box = view.box) => box.sides.find((side) => side.side === sideName(view)) ?? box.sides[0];

/** What is shown as the verdict: the box, or the one side of it that is chosen. */
export function shownSide(view) {
  const side = sideNow(view);
  if (!side?.side) return view.box;
  const name = `${view.box.name}/${side.side}`;
  return { ...view.box, ...side, name, findings: view.box.findings.filter((finding) => finding.subject === name) };
}

/** Nobody has said anything of this box yet. */
export const isBlank = (view) => isEmpty(view.box);

/** The line that says what the box is, of itself or of its kind. */
export const base = (view) => view.box.items.find((item) => item.is === 'base')?.text ?? view.box.from_kind.find((text) => /^(square|octagon|device|masonry|fs|fd|marked|unmarked|inside|conduit)/.test(text));

/** Clamps as they were last time such a box was set; else by what is usual, on the side that takes more room. */
const CLAMPS = 'clamps of boxes';
const remembered = () => recall(CLAMPS) ?? {};
const remember = (line, way) => note(CLAMPS, { ...remembered(), [line]: way });

export function setBase(view, line, known = '') {
  const before = known || remembered()[line] || '';
  const way = before || (/plastic|marked|conduit|\?/.test(line) || sideNow(view)?.clamps === null ? '' : 'inside');
  const bare = !Object.keys(view.box.clamps).length;
  view.clampsFrom = bare && way ? (before ? 'as last time' : 'usual: change if not') : '';
  view.open = '';
  return view.change({ do: 'set-base', line, way });
}

export function setClamps(view, way) {
  view.clampsFrom = '';
  if (base(view)) remember(base(view), way);
  return view.change({ do: 'set-clamps', way, space: sideName(view) });
}

export const addCable = (view, cable, field) => view.change({ do: 'add-cable', cable, to: '?', space: sideName(view) }, field);
/** The cables brought in last in this browser: the keys of a job that has none yet. */
const CABLES = 'cables';
export const lastCables = () => recall(CABLES) ?? [];
/** Remember one, as long as it goes on a key. */
export const noteCable = (cable) => /^\d+\/\d+ [\w-]+$/.test(cable) && note(CABLES, [cable, ...lastCables().filter((name) => name !== cable)].slice(0, 3));
export const addItem = (view, line, field) => view.change({ do: 'add-item', line, space: sideName(view) }, field);

// ---- rows and keys -------------------------------------------------------------------------------------------------

const pad = (label, className, ...keys) => el('div', { class: `pad ${className}`, role: 'group', 'aria-label': label }, keys);
const key = (words, run, properties) => button(words, run, { ...properties, class: 'key' });
const two = (top, bottom) => [el('span', {}, top), ' ', el('span', {}, bottom)];

/** One line of the ledger: swatch, name (opens its details), count, what it takes. */
function entry({ role, id, title, detail, unsure, open, stepper, amount }) {
  return el('div', { class: `entry ${role}`, data: { key: id } },
    el('span', { class: `swatch ${role}${unsure ? ' unsure' : ''}`, 'aria-hidden': 'true' }),
    open ? button([el('span', { class: 'what' }, title), ' ', detail ? el('span', { class: 'small soft' }, detail) : null], open, { key: `${id}-open`, class: 'name', 'aria-haspopup': 'dialog' })
      : el('span', { class: 'name' }, el('span', { class: 'what' }, title), ' ', detail ? el('span', { class: 'small soft' }, detail) : null),
    stepper ?? null,
    el('span', { class: 'num amount' }, amount));
}

function stepper(id, title, count, by) {
  return el('span', { class: 'stepper', role: 'group', 'aria-label': title },
    button('−', () => by(-1), { key: `${id}-less`, 'aria-label': `One less ${title}` }), el('span', { class: 'count' }, count), button('+', () => by(1), { key: `${id}-more`, 'aria-label': `One more ${title}` }));
}

/** The runs a row stands for, in the answer as it is now. */
export const runsOf = (view, row, box = view.box) => box.runs.filter((run) => row?.lines.includes(run.line) && (!sideName(view) || run.side === sideName(view)));
const sameCable = (view, row, box) => sideNow(view, box).cables.find((other) => other.name === row.name && other.title === row.title);
export const sameDevice = (view, row, box = view.box) => sideNow(view, box).devices.find((other) => other.name === row.name && other.size === row.size);

function cableEntry(view, row) {
  const id = `cable-${row.title}`;
  const less = () => view.change((now) => {
    const runs = runsOf(view, sameCable(view, row, now), now);
    const run = runs.findLast((each) => each.far.every((far) => far === '?')) ?? runs.at(-1);
    return run && { do: 'run-count', index: run.index, count: Math.max(0, (run.count === '?' ? 1 : run.count) - 1) };
  });
  return entry({ role: 'cables', id, title: row.title, detail: row.detail, unsure: / |\?/.test(row.amount), amount: row.amount,
    open: () => cableSheet(view, row),
    stepper: row.name === 'wires' ? null : stepper(id, row.title, row.count, (by) => (by > 0 ? addCable(view, row.name) : less())) });
}

function deviceEntry(view, row) {
  const id = `device-${row.name}-${row.size}`;
  const by = (more) => view.change((now) => {
    const index = sameDevice(view, row, now)?.indexes.at(-1);
    const item = now.items.find((each) => each.index === index);
    return item && { do: 'item-count', index, count: Math.max(0, item.count + more) };
  });
  return entry({ role: 'devices', id, title: row.title, detail: row.detail, unsure: / |\?/.test(row.amount), amount: row.amount,
    open: row.indexes.length ? () => deviceSheet(view, row) : null, stepper: row.indexes.length ? stepper(id, row.title, row.count, by) : null });
}

const CLAMP_KEYS = { metal: [['inside', 'Inside'], ['outside', 'Outside'], ['?', '?']], plastic: [['tabs', 'Tabs'], ['none', 'None'], ['?', '?']] };
export const CLAMP_WORDS = { inside: 'inside', outside: 'outside', tabs: 'plastic tabs', none: 'none', '?': 'not known' };

function clampsEntry(view, side) {
  const way = side.clamps.way || '?';
  const usual = CLAMP_KEYS[/plastic/.test(base(view) ?? '') ? 'plastic' : 'metal'];
  const keys = usual.some(([each]) => each === way) ? usual : [[way, CLAMP_WORDS[way] ?? way], ...usual.slice(1)];
  return entry({ role: 'clamps', id: 'clamps', title: 'Clamps', detail: view.clampsFrom || (side.clamps.way ? '' : 'not said'), unsure: way === '?', amount: side.clamps.amount,
    open: () => chooseClamps(view),
    stepper: el('span', { class: 'trio', role: 'group', 'aria-label': 'Cable clamps' }, keys.map(([each, words]) => button(words, () => setClamps(view, each), { key: `clamps-${each}`, class: 'key', 'aria-label': `Clamps ${CLAMP_WORDS[each] ?? each}`, 'aria-pressed': each === way ? 'true' : 'false' }))) });
}

/** The key of a box this job has no other of. */
function own(line) {
  const [, volume, rest] = /^marked (\S+) in3(.*)/.exec(line) ?? [];
  const [first, ...others] = line.split(' ');
  return { line, clamps: '', top: volume ? /plastic/.exec(rest)?.[0] ?? 'marked' : first, bottom: volume ?? others.join(' ') };
}

function boxKeys(view) {
  const now = base(view);
  const { boxes } = view.around;
  const shown = !now || /\?/.test(now) || boxes.some((each) => each.line === now) ? boxes : [...boxes.slice(0, -1), own(now)];
  return pad('Box', 'three', shown.map((each) => key(two(each.top, each.bottom), () => setBase(view, each.line, each.clamps), { key: each.line, 'aria-label': `${each.top} ${each.bottom}, box ${each.line}`, 'aria-pressed': each.line === now ? 'true' : 'false' })),
    key('Other', () => chooseBox(view), { key: 'other-box', 'aria-label': 'Other box', 'aria-haspopup': 'dialog' }),
    key('?', () => setBase(view, 'marked ? in3'), { key: 'box-unknown', 'aria-label': 'Box is not known', 'aria-pressed': /\?/.test(now ?? '') ? 'true' : 'false' }));
}

const plain = (cable) => cable.replace(/ nm-b$/, '');

function cableKeys(view) {
  const { cables, uses_cables: met } = view.around;
  const names = cables.map((cable) => cable.name);
  const keys = met ? names : [...new Set([...view.lastCables, ...names])].slice(0, names.length);
  return pad('Add a cable', 'three', keys.map((name) => key(`+ ${plain(name)}`, () => addCable(view, name), { key: `add-${name}`, 'aria-label': `Add one ${plain(name)}` })),
    key('Other', () => chooseCable(view), { key: 'other-cable', 'aria-label': 'Other cable', 'aria-haspopup': 'dialog' }),
    key('?', () => addCable(view, '?/? nm-b'), { key: 'cable-unknown', 'aria-label': 'Add a cable not known' }));
}

function deviceKeys(view) {
  return pad('Add a device', 'two', view.around.devices.map((device) => key(`+ ${device}`, () => addItem(view, device), { key: `add-${device}`, 'aria-label': `Add a ${device}` })),
    key('Other', () => chooseDevice(view), { key: 'other-device', 'aria-label': 'Other device', 'aria-haspopup': 'dialog' }),
    key('?', () => addItem(view, 'device'), { key: 'device-unknown', 'aria-label': 'Add a device not known' }));
}

/** The switch over the keys of a divided box: each side with its own verdict; every tap goes to the one that is on. */
function sides(view) {
  if (!view.box.spaces.length) return null;
  return el('div', { class: 'segments sides', role: 'group', 'aria-label': 'Side of the barrier', data: { key: 'sides' } }, view.box.sides.map((side) => button([verdict(side.verdict, view.box.faults, true), ` ${side.side}`], () => { view.side = side.side; view.redraw(); }, { key: `side-${side.side}`, 'aria-pressed': side.side === sideName(view) ? 'true' : 'false' })));
}

/** The room to scale; where nothing is said yet the box to copy. */
function room(view) {
  const { like } = view.around;
  if (isBlank(view) && like) {
    return el('div', { class: 'room', data: { key: 'room' } }, button([el('span', { class: 'what' }, `Like ${like.box}`), el('span', { class: 'small' }, units(like.says))], () => view.change({ do: 'copy-box', name: like.box }), { key: 'like', class: 'like' }));
  }
  const bars = view.box.pictures.filter((each) => each.what === 'bar');
  const bar = bars[Math.max(0, view.box.spaces.indexOf(sideName(view)))];
  return el('div', { class: 'room', data: { key: 'room' } }, bar && !isBlank(view) ? picture(bar) : null);
}

export function screen(view, side) {
  const now = base(view);
  const known = now && !/\?/.test(now);
  return [
    room(view),
    el('section', { class: 'keys', 'aria-label': 'What is in the box', data: { key: 'keys' } },
      sides(view),
      el('div', { class: 'group' },
        entry({ role: 'box', id: 'box', title: known ? now : now ? 'Box not known' : 'Which box?', detail: view.box.box_kind ? (view.box.box_kind === '?' ? 'kind not known' : `kind ${view.box.box_kind}`) : side?.side ? `${side.side} side` : '', open: () => boxSheet(view), amount: side?.volume && now ? [side.volume, el('span', { class: 'small soft unit' }, ' in³')] : '' }),
        boxKeys(view)),
      el('div', { class: 'group' }, side?.cables.map((row) => cableEntry(view, row)), cableKeys(view)),
      el('div', { class: 'group' }, side?.devices.map((row) => deviceEntry(view, row)), deviceKeys(view)),
      el('div', { class: 'group' }, side?.clamps ? clampsEntry(view, side) : null,
        side ? entry({ role: 'grounds', id: 'grounds', title: side.grounds.title, detail: side.grounds.detail || 'come with the cables', amount: side.grounds.amount }) : null,
        side?.others.map((row, at) => entry({ role: 'others', id: `other-${at}`, title: row.title, amount: row.amount })))),
  ];
}
