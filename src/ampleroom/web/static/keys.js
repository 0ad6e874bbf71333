// The keyboard map: letters that work wherever nothing is being typed, and the list of them on `?`.
import { dialog, el } from './dom.js';

const PRESS = (key, alone = true) => () => {
  const found = [...document.querySelectorAll(`[data-key="${key}"]`)].find((node) => node.checkVisibility());
  if (found) found.click();
  return Boolean(found) && alone;
};

function search() {
  const field = ['search', 'find-place', 'question'].map((id) => document.getElementById(id)).find((node) => node?.checkVisibility());
  field?.focus();
  return Boolean(field);
}

/** The next subject of the list, or the one before it. */
function along(step) {
  const rows = [...document.querySelectorAll('#boxes a')];
  const at = rows.findIndex((row) => row === document.activeElement || row.getAttribute('aria-current'));
  const next = rows[at < 0 ? (step > 0 ? 0 : rows.length - 1) : at + step];
  if (!next) return false;
  next.focus();
  if (document.querySelector('.flank')) next.click();
  return true;
}

const KEYS = [
  ['?', 'Show these keys', () => { showKeys(); return true; }],
  ['/', 'Search', search],
  ['j', 'Next in the list', () => along(1)],
  ['k', 'The one before', () => along(-1)],
  ['l', 'The list', PRESS('place-Job')],
  ['m', 'Map', PRESS('place-Map')],
  ['f', 'Fixes', PRESS('place-Fixes')],
  ['h', 'Hand over', PRESS('place-Hand over')],
  ['n', 'Add a box', PRESS('another')],
  ['u', 'Undo', PRESS('undo')],
  ['r', 'Redo', PRESS('redo')],
];

const MAP_KEYS = [['+ and −', 'On the map: larger, smaller'], ['0', 'On the map: all of it']];

function showKeys() {
  const row = ([key, words]) => el('tr', {}, el('th', { scope: 'row' }, el('kbd', {}, key)), el('td', {}, words));
  dialog('Keys', el('p', { class: 'small soft' }, 'They work wherever you are not typing.'), el('table', {}, el('tbody', {}, KEYS.map(row), MAP_KEYS.map(row))));
}

/** A key pressed anywhere on the page. Nothing is taken from who types, or from the browser's own keys. */
export function keyPressed(event) {
  if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey || event.isComposing) return;
  if (document.getElementById('dialog').open || event.target.closest?.('input, select, textarea, [contenteditable]')) return;
  const found = KEYS.find(([key]) => key === event.key);
  if (found?.[2]()) event.preventDefault();
}
