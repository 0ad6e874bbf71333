// A job changed in two places: both are shown, nothing is overwritten until somebody says so.
import { show } from './app.js';
import { button, dialog, el, say } from './dom.js';
import * as store from './store.js';

function sideBySide(mine, theirs, mineTitle, theirsTitle) {
  return el('div', { class: 'columns two' },
    el('section', {}, el('h3', {}, mineTitle), el('div', { class: 'side', tabindex: 0, 'aria-label': mineTitle, role: 'region' }, mine)),
    el('section', {}, el('h3', {}, theirsTitle), el('div', { class: 'side', tabindex: 0, 'aria-label': theirsTitle, role: 'region' }, theirs)));
}

/** Lines that only one of the two has, marked, so that the difference is seen at once. */
export function difference(mine, theirs) {
  const [left, right] = [new Set(mine.split('\n')), new Set(theirs.split('\n'))];
  const mark = (text, other) => text.split('\n').map((line) => (line.trim() && !other.has(line) ? `→ ${line}` : `  ${line}`)).join('\n');
  return [mark(mine, right), mark(theirs, left)];
}

/** Another window changed the job while this one was open. */
export function conflictDialog(trouble, job, mine, again) {
  const theirs = trouble.answer.current;
  const [left, right] = difference(mine ?? job.sheet, theirs.sheet);
  const close = () => document.getElementById('dialog').close();
  dialog('Changed in another window',
    el('p', {}, 'Somebody changed this job meanwhile, so your change was not made. Nothing was lost. Lines that only one side has begin with an arrow.'),
    sideBySide(left, right, mine === undefined ? 'As you saw it' : 'Yours', 'As it is now'),
    el('div', { class: 'row' },
      again ? button('Make my change on top', async () => { close(); await again(theirs); }, { class: 'main', key: 'again' }) : null,
      button('Take what is there now', () => { close(); show(); say('shown as it is now'); }, { key: 'theirs' })));
}

/** A job changed here without the server and there meanwhile. */
export function waitingConflict(job) {
  const [left, right] = difference(job.sheet, job.conflict.sheet);
  const end = (how, words) => button(words, async () => {
    try {
      await store.settle(job.id, how);
      document.getElementById('dialog').close();
      say('settled');
      show();
    } catch (trouble) {
      say(trouble.message, true);
    }
  }, { key: how, class: how === 'both' ? 'main' : '' });
  dialog('Changed here and on the server',
    el('p', {}, 'While there was no signal, this job was changed on both sides. Choose; what you leave can still be reached by undo or in its history.'),
    sideBySide(left, right, 'Yours, from this browser', 'On the server'),
    el('div', { class: 'row' }, end('both', 'Keep both, mine as a second job'), end('mine', 'Mine on top'), end('theirs', 'Take the server’s')));
}
