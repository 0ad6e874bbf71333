// The job's name and edition, its editions side by side, its takeoff. `view` is the job view's state, see job.js.
import { el, link, thousands, units, verdict } from './dom.js';
import { to } from './frame.js';
import { unreadIn } from './job-list.js';
import { keepEdition } from './usual.js';

/** Shown until a tab has its answer. */
export const waiting = () => el('p', { class: 'soft' }, 'Working …');

export function headCard(view) {
  return el('details', { class: 'card', open: !view.list, data: { key: 'head-card' } }, el('summary', {}, `Job name and code edition: ${view.list ? view.list.edition.title : 'not set yet'}`),
    el('label', { for: 'title' }, 'Job name'), el('input', { id: 'title', value: view.list ? view.list.title : view.job.title, maxlength: 120, autocomplete: 'off', data: { key: 'title' }, on: { change: (event) => view.change({ do: 'set-title', title: event.target.value }) } }),
    el('label', { for: 'edition' }, 'Code edition adopted here'), view.list ? null : el('p', { class: 'small soft', id: 'edition-ask' }, 'Nothing is counted until you choose one. Not sure? Ask your inspector.'),
    el('select', { id: 'edition', 'aria-describedby': view.list ? null : 'edition-ask', data: { key: 'edition' }, on: { change: (event) => { keepEdition(Number(event.target.value)); view.change({ do: 'set-edition', edition: Number(event.target.value) }); } } }, view.list ? null : el('option', { value: '', selected: true, disabled: true }, 'not set yet'), (view.years ?? (view.list ? [view.list.edition] : [])).map(({ year, provisional }) => el('option', { value: year, selected: year === view.list?.edition_written }, provisional ? `${year}, provisional` : year))),
    !view.list ? null : notesOnEdition(view));
}

function notesOnEdition(view) {
  return [view.list.edition.note ? el('p', { class: 'notice' }, `Provisional: ${view.list.edition.note}.`) : null,
    view.list.edition.not_compared.length ? el('p', { class: 'small soft' }, `Tables not compared with this edition: ${view.list.edition.not_compared.join(', ')}`) : null];
}

export function editionsTab(view) {
  if (!view.extra) return waiting();
  return [
    el('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': 'Verdicts by code edition', data: { key: 'editions' } }, el('table', { class: 'sticky' },
      el('thead', {}, el('tr', {}, el('th', { scope: 'col' }, 'Name'), view.extra.editions.map((edition) => el('th', { scope: 'col' }, `${edition.year}${edition.provisional ? ' (provisional)' : ''}`)))),
      el('tbody', {}, view.extra.subjects.map((box) => el('tr', {}, el('th', { scope: 'row' }, link(/^box|^circuit/.test(box.kind) ? box.name : `${box.kind} ${box.name}`, to.subject(view.id, box))), view.extra.editions.map((edition) => {
        const cell = box.by_edition[edition.year];
        return el('td', {}, verdict(cell.verdict, unreadIn(view.list)), cell.margin_text ? el('div', { class: 'small soft' }, cell.margin_text) : null);
      })))))),
  ];
}

export function takeoffTab(view) {
  if (!view.extra) return waiting();
  if (!view.extra.lines.length) return el('p', {}, 'Nothing to buy yet. ', link('Add a box first', to.job(view.id)), ', or write the sheet.');
  let group = '';
  return [el('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': 'Takeoff', data: { key: 'takeoff' } }, el('table', {},
    el('thead', {}, el('tr', {}, el('th', { scope: 'col' }, 'Item'), el('th', { scope: 'col', class: 'num' }, 'Quantity'), el('th', { scope: 'col', class: 'num' }, view.extra.currency))),
    el('tbody', {}, view.extra.lines.flatMap((line) => {
      const rows = line.group === group ? [] : [el('tr', {}, el('th', { colspan: 3, class: 'group' }, line.group))];
      group = line.group;
      return [...rows, el('tr', {}, el('td', {}, units(line.what), line.note ? el('div', { class: 'why' }, units(line.note)) : null), el('td', { class: 'num wrap' }, `${Number(line.number)} ${line.unit}`), el('td', { class: 'num wrap' }, line.price ? thousands(line.price) : 'no price'))];
    }), el('tr', { class: 'sum' }, el('td', { colspan: 2 }, 'Total'), el('td', { class: 'num' }, thousands(view.extra.total)))))),
  view.extra.not_known.length ? el('ul', { class: 'small' }, view.extra.not_known.map((words) => el('li', {}, `Check first: ${words}`))) : null];
}
