// What is in a box besides cables: devices, rings, clamps. `view` is the box view's state, see box.js.
import { typed } from './box-cables.js';
import { barrierChoices, base, NUMBER, onSide, side } from './box-kind.js';
import { button, el, say } from './dom.js';

const CLAMP_WORDS = { inside: 'Inside', outside: 'Outside', tabs: 'Plastic tabs', none: 'None', '?': 'Not known' };

export function contentsCard(view) {
  const items = view.box.items.filter((item) => item.is === 'device' || item.is === 'part' || item.is === 'other');
  const chosen = view.size ? ` #${view.size}` : '';
  const add = () => typed(view, 'line', (line) => view.change({ do: 'add-item', line, space: side(view) }));
  const takeOut = (item) => view.change((now) => {
    const alike = now.items.filter((other) => other.text === item.text && other.side === item.side);
    const same = alike.find((other) => other.index === item.index) ?? alike[0];
    return same && { do: 'drop-item', index: same.index };
  });
  return el('section', { class: 'card', 'aria-labelledby': 'contents', data: { key: 'card-contents' } },
    el('h2', { id: 'contents' }, 'Devices and fittings'),
    el('p', { class: 'small', id: 'on-it' }, 'Largest wire on the device'),
    el('div', { class: 'segments', role: 'group', 'aria-labelledby': 'on-it' }, [['', 'Not known'], ...view.words.sizes.map((each) => [each, `#${each}`])].map(([value, text]) => button(text, () => { view.size = value; view.redraw(); }, { key: `size-${value}`, 'aria-pressed': view.size === value ? 'true' : 'false' }))),
    el('div', { class: 'chips' }, view.words.devices.map((device) => button(`+ ${device}`, () => view.change({ do: 'add-item', line: `${device}${chosen}`, space: side(view) }), { key: `add-${device}`, 'aria-label': `Add a ${device}${chosen}` })),
      button('+ ring or cover', () => view.toggle('ring'), { key: 'ring', 'aria-label': 'Add a ring or cover', 'aria-expanded': view.open === 'ring' ? 'true' : 'false' }),
      view.box.spaces.length || /^conduit/.test(base(view) ?? '') ? null : button('+ barrier', () => view.toggle('barrier'), { key: 'barrier', 'aria-label': 'Add a barrier', 'aria-expanded': view.open === 'barrier' ? 'true' : 'false' }),
      button('Other …', () => view.toggle('line'), { key: 'other-line', 'aria-label': 'Other contents', 'aria-expanded': view.open === 'line' ? 'true' : 'false' })),
    view.open === 'ring' ? ringChoices(view) : null,
    view.open === 'barrier' ? barrierChoices(view) : null,
    view.open === 'line' ? el('div', {}, el('label', { for: 'line' }, 'Anything else, as a line of the sheet'), el('p', { class: 'small soft', id: 'line-like' }, 'such as fixture wires 2 x #16 from domed canopy'),
      el('div', { class: 'row' }, el('input', { id: 'line', autocomplete: 'off', autocapitalize: 'off', 'aria-describedby': 'line-like', data: { key: 'line' }, on: { keydown: (event) => { if (event.key === 'Enter') add(); } } }), button('Add', add, { class: 'main', key: 'add-line', 'aria-label': 'Add this line' }))) : null,
    items.length ? el('ul', { class: 'list' }, items.map((item) => el('li', { data: { key: `item-${item.index}` } }, el('span', { class: 'grow' }, onSide(view, item.side), item.text), button('Remove', () => takeOut(item), { key: `drop-${item.index}`, 'aria-label': `Remove ${onSide(view, item.side)}${item.text}` })))) : null,
    view.box.from_kind.length ? el('p', { class: 'small soft' }, `From its box kind: ${view.box.from_kind.join('; ')}`) : null);
}

function ringChoices(view) {
  const kinds = ['plaster ring', 'raised cover', 'domed cover', 'extension ring'];
  const add = (kind, text) => { view.open = ''; view.change({ do: 'add-item', line: `${kind} ${text}` }); };
  const marked = (kind) => {
    const value = document.getElementById('ring-volume').value.trim();
    if (NUMBER.test(value)) add(kind, `${value.replace(',', '.')} in3`);
    else say('Type the volume marked on it first');
  };
  return el('div', {},
    el('label', { for: 'ring-volume' }, 'Volume marked on it, in³'), el('input', { id: 'ring-volume', inputmode: 'decimal', autocomplete: 'off', data: { key: 'ring-volume' } }),
    kinds.map((kind) => el('div', { class: 'row', role: 'group', 'aria-label': kind }, el('strong', { class: 'whole' }, kind),
      button('marked', () => marked(kind), { key: `${kind}-marked`, 'aria-label': `${kind}, marked` }),
      button('not marked', () => add(kind, 'unmarked'), { key: `${kind}-unmarked`, 'aria-label': `${kind}, not marked` }),
      button('not known', () => add(kind, '?'), { key: `${kind}-unknown`, 'aria-label': `${kind}, not known` }))));
}

export function clampsCard(view) {
  const now = view.box.clamps[''] ?? view.box.clamps[side(view)]; // a line above the sides is of them all
  return el('section', { class: 'card', 'aria-labelledby': 'clamps', data: { key: 'card-clamps' } },
    el('h2', { id: 'clamps' }, 'Cable clamps'),
    el('div', { class: 'segments', role: 'group', 'aria-labelledby': 'clamps' }, view.words.clamps.map((way) => button(CLAMP_WORDS[way], () => view.change({ do: 'set-clamps', way, space: side(view) }), { key: `clamps-${way}`, 'aria-pressed': (now ?? '?') === way ? 'true' : 'false' }))));
}
