// A job changed in two places: both are shown, nothing is overwritten until somebody says so.
import { button, closeDialog, dialog, el, say, sayTrouble } from './dom.js';
import { page } from './frame.js';
import * as store from './store.js';

function sideBySide(mine, theirs, mineTitle, theirsTitle) {
  return el('div', { class: 'columns two' },
    [[mine, mineTitle], [theirs, theirsTitle]].map(([lines, title]) => el('section', {}, el('h3', {}, title), el('div', { class: 'side', tabindex: 0, 'aria-label': title, role: 'region' }, lines))));
}

/** The lines of both, those that only one of them has marked; long stretches that both have are left out. */
export function difference(mine, theirs) {
  const sides = [mine, theirs].map((text) => text.split('\n'));
  const [left, right] = sides.map((lines) => new Set(lines));
  return sides.map((lines, side) => {
    const other = side ? left : right;
    const alone = lines.map((line) => Boolean(line.trim()) && !other.has(line));
    const near = lines.map((_, at) => alone.slice(Math.max(0, at - 2), at + 3).some(Boolean));
    const shown = [];
    lines.forEach((line, at) => {
      if (alone[at]) shown.push(el('mark', {}, `→ ${line}`), '\n');
      else if (near[at]) shown.push(`  ${line}\n`);
      else if (at === 0 || near[at - 1]) shown.push('  …\n');
    });
    return shown;
  });
}

/** Another window changed the job while this one was open. */
export function conflictDialog(trouble, job, mine, again) {
  const theirs = trouble.answer.current;
  const [left, right] = difference(mine ?? job.sheet, theirs.sheet);
  dialog('Changed in another window',
    el('p', {}, 'This job was changed in another window, so your change was not made. Nothing was lost. An arrow marks each line that only one side has.'),
    sideBySide(left, right, mine === undefined ? 'As you saw it' : 'Yours', 'As it is now'),
    el('div', { class: 'row' },
      again ? button('Make my change anyway', async () => {
        closeDialog();
        try {
          await again(theirs);
        } catch (problem) {
          if (problem.kind === 'conflict') conflictDialog(problem, theirs, mine, again);
          else sayTrouble(problem);
        }
      }, { class: 'main', key: 'again' }) : null,
      button('Leave it as it is now', async () => { closeDialog(); await page.show(); say('Shown as it is now'); }, { key: 'theirs' })));
}

/** A job changed here without the server and there meanwhile. */
export function waitingConflict(job) {
  const [left, right] = difference(job.sheet, job.conflict.sheet);
  const end = (how, words) => button(words, async () => {
    try {
      await store.settle(job.id, how);
      closeDialog();
      await page.show();
      say({ both: 'Both kept. Yours is a second job', mine: 'Yours is used', theirs: 'The server’s is used' }[how]);
    } catch (trouble) {
      if (trouble.kind === 'again') {
        closeDialog();
        await page.show();
      }
      sayTrouble(trouble);
    }
  }, { key: how, class: how === 'both' ? 'main' : '' });
  dialog('Changed here and on the server',
    el('p', {}, 'This job was changed here without a signal, and on the server too. Choose which to keep. You can still get the other one back with Undo or from the history.'),
    sideBySide(left, right, 'Yours, from this browser', 'On the server'),
    el('div', { class: 'row' }, end('both', 'Keep both, mine as a second job'), end('mine', 'Use mine'), end('theirs', 'Use the server’s')));
}
