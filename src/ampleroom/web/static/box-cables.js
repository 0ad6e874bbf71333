// The cables and wires of a box. `view` is the box view's state, see box.js.
import { button, el, say } from './dom.js';
import { onSide, side } from './box-kind.js';

const HERE_WORDS = { ends: 'ends here', passes: 'passes through', looped: 'loops through, uncut' };

export function cablesCard(view) {
  return el('section', { class: 'card', 'aria-labelledby': 'cables', data: { key: 'card-cables' } },
    el('h2', { id: 'cables' }, 'Cables'),
    el('div', { class: 'row' },
      el('label', { for: 'far', class: 'beside' }, 'From'),
      el('select', { id: 'far', data: { key: 'far' }, on: { change: (event) => { view.far = event.target.value; } } }, [['?', 'not known'], ...view.places.map((name) => [name, name])].map(([value, text]) => el('option', { value, selected: value === view.far }, text)))),
    el('p', { class: 'small soft' }, 'Tap a cable to add one.'),
    el('div', { class: 'chips' }, view.words.cables.map((cable) => button(`+ ${cable.replace(' nm-b', '')}`, () => bring(view, cable), { key: `add-${cable}`, 'aria-label': `Add one ${cable}` })),
      button('Other …', () => view.toggle('cable'), { key: 'other-cable', 'aria-label': 'Other cables', 'aria-expanded': view.open === 'cable' ? 'true' : 'false' })),
    view.open === 'cable' ? otherCable(view) : null,
    view.box.runs.length ? el('ul', { class: 'list', 'aria-labelledby': 'cables' }, view.box.runs.map((run) => runRow(view, run))) : el('p', { class: 'soft' }, 'None yet.'));
}

const bring = (view, cable) => view.change({ do: 'add-cable', cable, to: view.far, space: side(view) });

function otherCable(view) {
  const add = () => typed(view, 'cable', (cable) => bring(view, cable));
  return el('div', {},
    el('div', { class: 'chips' }, view.words.old_cables.map((cable) => button(`+ ${cable}`, () => bring(view, cable), { key: `add-${cable}`, 'aria-label': `Add one ${cable}` }))),
    el('label', { for: 'cable' }, 'Any other cable, as in a sheet'), el('p', { class: 'small soft', id: 'cable-like' }, 'such as 14/2 old, ground #16'),
    el('div', { class: 'row' }, el('input', { id: 'cable', autocomplete: 'off', autocapitalize: 'off', 'aria-describedby': 'cable-like', data: { key: 'cable-text' }, on: { keydown: (event) => { if (event.key === 'Enter') add(); } } }),
      button('Add', add, { class: 'main', key: 'add-cable', 'aria-label': 'Add this cable' })));
}

/** Use what is typed in a field; it is empty again once it was taken. */
export async function typed(view, id, use) {
  const field = document.getElementById(id);
  const value = field.value.trim();
  if (!value) {
    say('Type it first');
    return;
  }
  const before = view.job;
  await use(value);
  if (view.job !== before && field.value.trim() === value) field.value = '';
}

/** Where a run comes from, as it stands under its name. */
const whereWords = (run) => run.where.replace(/^whose /, '');

function runRow(view, run) {
  // Taps follow one another: the line is looked up in what is there then, by its place and, after another window's change, by its words.
  const line = (now) => now.runs.find((other) => other.index === run.index && other.name === run.name && other.where === run.where && other.side === run.side) ?? now.runs.find((other) => other.text === run.text);
  const by = (more) => view.change((now) => {
    const same = line(now);
    return same && { do: 'run-count', index: same.index, count: Math.max(0, (same.count === '?' ? 1 : same.count) + more) };
  });
  const becomes = (how) => view.change((now) => {
    const same = line(now);
    return same && { do: 'run-here', index: same.index, how };
  });
  const here = run.here === 'landed' ? 'looped' : run.here;
  const whole = `${run.name} ${whereWords(run)}`;
  return el('li', { class: 'run', data: { key: `run-${run.index}` } },
    el('span', { class: 'grow' }, el('strong', {}, run.name), el('br'), el('span', { class: 'small soft' }, onSide(view, run.side), whereWords(run), run.circuit ? ` · circuit ${run.circuit}` : '')),
    run.name === 'wires' ? button('Remove', () => view.change((now) => { const same = line(now); return same && { do: 'drop-run', index: same.index }; }), { key: `drop-run-${run.index}`, 'aria-label': `Remove ${whole}` })
      : el('span', { class: 'stepper', role: 'group', 'aria-label': whole }, button('−', () => by(-1), { key: `less-${run.index}`, 'aria-label': `One less ${whole}` }), el('span', { class: 'count' }, run.count), button('+', () => by(1), { key: `more-${run.index}`, 'aria-label': `One more ${whole}` })),
    el('select', { 'aria-label': `In this box ${whole}`, data: { key: `here-${run.index}` }, on: { change: (event) => becomes(event.target.value) } }, Object.entries(HERE_WORDS).map(([how, text]) => el('option', { value: how, selected: here === how }, text))));
}
