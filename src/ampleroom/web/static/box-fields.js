// Fields and choices of a sheet that rises over the box; what is wrong with one stands at it. `view`: see box.js.
import { button, dialog, draw, el, verdict } from './dom.js';
import { shownSide } from './box-screen.js';

/** Open a sheet from the bottom; the verdict stays in sight, and the sheet follows every change. */
export function openSheet(view, title, make) {
  if (!document.getElementById('dialog').open) view.sheets = [];
  view.drafts.clear();
  const sheet = { node: el('div', {}), make: () => [now(view), make()] };
  view.sheets.push(sheet);
  view.fault = null;
  draw(sheet.node, sheet.make());
  dialog(title, sheet.node).classList.add('low');
}

export function refreshSheet(view) {
  for (const sheet of view.sheets ?? []) if (document.getElementById('dialog').open) draw(sheet.node, sheet.make());
}

function now(view) {
  const found = shownSide(view);
  return el('p', { class: 'now', role: 'status', data: { key: 'now' } }, verdict(found.verdict, found.faults), ` ${found.says.big}`);
}

/** One of several by touch. `options`: pairs of a value and its words. */
export function choices(label, options, chosen, choose) {
  return el('div', { class: 'field', role: 'group', 'aria-label': label, data: { key: `field-${label}` } }, el('p', { class: 'label' }, label),
    el('div', { class: 'segments' }, options.map(([value, words]) => button(words, () => choose(value), { key: `${label}-${value}`, 'aria-pressed': value === chosen ? 'true' : 'false' }))));
}

/** A field to type in, with what it is like, its button, and what is wrong with what was typed, which stays in it. `use`: gives
 *  what is wrong at once, or a promise of the change; `adds`: the field is empty again after it. */
export function textField(view, { id, label, like = '', value = '', use, words = 'Use it', mode = null, adds = false }) {
  const wrong = view.fault?.field === id ? view.fault.words : '';
  const go = async () => {
    const refused = await use(document.getElementById(id).value.trim());
    if (typeof refused === 'string') view.fault = { field: id, words: refused };
    if (view.fault?.field === id) {
      view.redraw();
      document.getElementById(id).focus();
      return;
    }
    view.drafts.delete(id);
    const field = document.getElementById(id);
    if (adds && field) field.value = '';
  };
  return el('div', { class: 'field', data: { key: `field-${id}` } }, el('label', { for: id }, label), like ? el('p', { class: 'small soft', id: `${id}-like` }, like) : null,
    el('div', { class: 'row' }, el('input', { id, value: view.drafts.get(id) ?? value, inputmode: mode, autocomplete: 'off', autocapitalize: 'off', 'aria-invalid': wrong ? 'true' : null, 'aria-describedby': [like && `${id}-like`, wrong && `${id}-wrong`].filter(Boolean).join(' ') || null, data: { key: id }, on: { input: (event) => view.drafts.set(id, event.target.value), keydown: (event) => { if (event.key !== 'Enter') return; event.preventDefault(); go(); } } }),
      button(words, go, { key: `${id}-use`, class: 'main', 'aria-label': `${words}: ${label}` })),
    wrong ? el('p', { class: 'wrong', id: `${id}-wrong`, role: 'alert' }, wrong) : null);
}
