// What a box is, and the barrier that divides it. `view` is the box view's state, see box.js.
import { button, el, say } from './dom.js';

/** A number as people type it into a field: up to four decimals, with a point or a comma. */
export const NUMBER = /^\d{1,6}([.,]\d{1,4})?$/;

/** The line that says what the box is, of itself or of its kind. */
export const base = (view) => view.box.items.find((item) => item.is === 'base')?.text ?? view.box.from_kind.find((text) => /^(square|octagon|device|masonry|fs|fd|marked|unmarked|inside|conduit)/.test(text));

export function baseCard(view) {
  const now = base(view);
  return el('section', { class: 'card', 'aria-labelledby': 'what', data: { key: 'card-what' } },
    el('h2', { id: 'what' }, 'Box'),
    el('div', { class: 'row what' }, el('span', { class: 'grow' }, el('strong', {}, now ?? 'not set yet'), view.box.box_kind ? ` (${view.box.box_kind === '?' ? 'not chosen yet' : `box kind ${view.box.box_kind}`})` : ''),
      button('Change', () => view.toggle('base'), { key: 'base', 'aria-label': 'Change the box', 'aria-expanded': view.open === 'base' ? 'true' : 'false' }),
      button('Not known', () => { view.open = ''; view.change({ do: 'set-base', line: 'marked ? in3' }); }, { key: 'base-unknown', 'aria-label': 'Box: not known', 'aria-pressed': /\?/.test(now ?? '') ? 'true' : 'false' })),
    view.open === 'base' ? baseChoices(view) : null);
}

function baseChoices(view) {
  const groups = [['square', 'Square'], ['octagon', 'Octagon'], ['device', 'Device box'], ['masonry', 'Masonry'], ['fs', 'FS'], ['fd', 'FD']];
  const use = () => {
    const value = document.getElementById('volume').value.trim();
    if (!NUMBER.test(value)) {
      say('Type the volume in in³, such as 20.3');
      return;
    }
    view.open = '';
    view.change({ do: 'set-base', line: `marked ${value.replace(',', '.')} in3${view.plastic ? ' plastic' : ''}${view.gangs ? ` ${view.gangs}-gang` : ''}` });
  };
  return el('div', {},
    el('h3', {}, 'Volume marked in the box'),
    el('label', { for: 'volume' }, 'Volume in in³'), el('p', { class: 'small soft', id: 'volume-like' }, 'the number stamped inside, such as 20.3'),
    el('div', { class: 'row' }, el('input', { id: 'volume', inputmode: 'decimal', autocomplete: 'off', 'aria-describedby': 'volume-like', data: { key: 'volume' }, on: { keydown: (event) => { if (event.key === 'Enter') use(); } } }),
      button('Use it', use, { class: 'main', key: 'use-volume' })),
    el('div', { class: 'row' },
      el('label', { class: 'check' }, el('input', { id: 'plastic', type: 'checkbox', checked: view.plastic, data: { key: 'plastic' }, on: { change: (event) => { view.plastic = event.target.checked; } } }), 'plastic'),
      el('label', { for: 'gangs', class: 'beside' }, 'Gangs'),
      el('select', { id: 'gangs', data: { key: 'gangs' }, on: { change: (event) => { view.gangs = event.target.value; } } }, ['', '1', '2', '3', '4', '5', '6'].map((count) => el('option', { value: count, selected: count === view.gangs }, count || 'not set')))),
    el('h3', {}, 'Or a standard metal box'),
    groups.map(([shape, title]) => el('details', { open: shape === 'square', data: { key: `shape-${shape}` } }, el('summary', {}, title),
      el('div', { class: 'chips' }, view.words.boxes.filter((box) => box.line.startsWith(`${shape} `)).map((box) => button(`${box.line.slice(shape.length + 1)} · ${box.volume} in³`, () => {
        view.open = '';
        view.change({ do: 'set-base', line: box.line });
      }, { key: box.line, 'aria-label': `${title} ${box.line.slice(shape.length + 1)} · ${box.volume} in³` }))))));
}

// ---- the sides of a divided box -----------------------------------------------------------------------------------

/** The side that is tapped into; empty where no barrier divides the box. */
export const side = (view) => (view.box.spaces.includes(view.chosenSide) ? view.chosenSide : view.box.spaces[0] ?? '');
export const onSide = (view, name) => (name && view.box.spaces.length ? `${name}: ` : '');

export function sideCard(view) {
  if (!view.box.spaces.length) return null;
  return el('section', { class: 'card', 'aria-labelledby': 'sides', data: { key: 'card-sides' } },
    el('h2', { id: 'sides' }, 'Side of the barrier'),
    el('p', { class: 'small soft' }, 'What you tap goes on this side.'),
    el('div', { class: 'segments', role: 'group', 'aria-labelledby': 'sides' }, view.box.spaces.map((name) => button(name, () => { view.chosenSide = name; view.redraw(); }, { key: `side-${name}`, 'aria-pressed': name === side(view) ? 'true' : 'false' }))),
    el('p', {}, button('Remove the barrier', () => view.change({ do: 'remove-barrier' }), { key: 'remove-barrier', class: 'plain' })));
}

/** A barrier: what it is of, and how it shares out the box. By gangs where the box has several. */
export function barrierChoices(view) {
  const gangCount = Number(/(\d+)-gang|(\d+) ganged/.exec(base(view) ?? '')?.slice(1).find(Boolean) ?? 1);
  const gangsOf = (count) => `${count} ${count === 1 ? 'gang' : 'gangs'}`;
  const shares = [...Array.from({ length: gangCount - 1 }, (_, place) => [gangsOf(place + 1), gangsOf(gangCount - place - 1)]), ['1/2', '1/2'], ['1/3', '2/3'], ['2/3', '1/3']];
  const material = view.barrier || (/plastic/.test(base(view) ?? '') ? 'plastic' : 'metal');
  const make = ([left, right]) => { view.open = ''; view.change({ do: 'divide', way: material, how: `left ${left}, right ${right}` }); };
  return el('div', {},
    el('div', { class: 'segments', role: 'group', 'aria-label': 'Barrier material' }, ['metal', 'plastic'].map((each) => button(each, () => { view.barrier = each; view.redraw(); }, { key: `barrier-${each}`, 'aria-pressed': each === material ? 'true' : 'false' }))),
    el('p', { class: 'small soft' }, 'Left side · right side. What is in the box now goes on the left.'),
    el('div', { class: 'chips' }, shares.map(([left, right]) => button(`${left} · ${right}`, () => make([left, right]), { key: `divide-${left}-${right}`, 'aria-label': `Left ${left}, right ${right}` }))));
}
