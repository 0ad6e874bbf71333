// Under the rows of a box: what to check, what it leans on, its pictures and photos. `view` is the box view's state, see box.js.
import { fitsDialog } from './box-dialogs.js';
import { photosCard } from './box-photos.js';
import { isBlank, shownSide } from './box-screen.js';
import { boxSheet } from './box-sheets.js';
import { button, dialog, download, el, picture } from './dom.js';
import { factsCard, remindersCard, standing, worksheetView } from './worksheet.js';

export function moreBelow(view, dropBox) {
  const blank = isBlank(view);
  return el('div', { class: 'more' },
    blank ? null : factsCard(shownSide(view)),
    blank ? null : el('div', { class: 'asked' }, button('What else fits', () => fitsDialog(view), { key: 'fits' }), button('Worksheet', () => dialog(`Worksheet of ${view.box.name}`, worksheetView(view.box), standing(view.box.caution)), { key: 'worksheet' })),
    partsCard(view), remindersCard(view.box), blank ? null : picturesCard(view), photosCard(view),
    el('p', {}, button('Remove this box from the job', dropBox, { class: 'plain', key: 'drop-box' })),
    standing(view.box.caution));
}

/** Rings, covers and whatever else stands under the box, each with the way to take it out. */
function partsCard(view) {
  const items = view.box.items.filter((item) => item.is === 'part' || item.is === 'other');
  const takeOut = (item) => view.change((now) => {
    const alike = now.items.filter((other) => other.text === item.text && other.side === item.side);
    const same = alike.find((other) => other.index === item.index) ?? alike[0];
    return same && { do: 'drop-item', index: same.index };
  });
  const words = (item) => `${item.side ? `${item.side}: ` : ''}${item.text}`;
  return el('section', { class: 'card', 'aria-labelledby': 'parts', data: { key: 'card-parts' } }, el('h2', { id: 'parts' }, 'Rings, barriers and other lines'),
    items.length ? el('ul', { class: 'list' }, items.map((item) => el('li', { data: { key: `item-${item.index}` } }, el('span', { class: 'grow' }, words(item)), button('Remove', () => takeOut(item), { key: `drop-${item.index}`, 'aria-label': `Remove ${words(item)}` })))) : null,
    view.box.from_kind.length ? el('p', { class: 'small soft' }, `From its box kind: ${view.box.from_kind.join('; ')}`) : null,
    el('p', {}, button('Add a ring, a barrier or a line', () => boxSheet(view), { key: 'add-part' })));
}

function picturesCard(view) {
  const shown = view.box.pictures.filter((each) => each.what !== 'bar');
  return el('section', { class: 'card', data: { key: 'card-pictures' } }, el('h2', {}, 'Pictures'),
    shown.map((each) => el('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': each.title }, picture(each))),
    el('div', { class: 'row' }, shown.map((each) => button(`Save: ${each.title}`, () => download(`${each.title}.svg`, 'svg', each.svg), { class: 'plain', key: `save-${each.title}` }))));
}
