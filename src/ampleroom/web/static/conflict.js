// A job changed in two places: what each side changed, in a sentence and line by line. Both are taken where they do not touch;
// where they do, somebody chooses. Nothing is overwritten until then.
import { ask } from './ask.js';
import { button, closeDialog, dialog, el, say, sayTrouble, units } from './dom.js';
import { page } from './frame.js';
import * as store from './store.js';

/** The lines of one part, each with whose it is. */
function linesOf(part) {
  const rows = [['was', part.before], ['you', part.mine], ['there', part.theirs]].flatMap(([who, lines]) => lines.filter((line) => line.trim()).map((line) => `${who.padEnd(6)}${line}`));
  return el('details', {}, el('summary', {}, 'Lines'), el('pre', { class: 'side', tabindex: 0, role: 'region', 'aria-label': 'Lines of this change' }, rows.join('\n')));
}

const WAYS = { mine: 'Take yours', theirs: 'Take theirs', both: 'Take both, one after the other' };

/** One part with its choice, kept in `chosen`. */
function partView(part, number, chosen) {
  const words = [part.yours ? `You: ${part.yours}` : '', part.there ? `There: ${part.there}` : ''];
  if (part.agreed) return el('li', {}, units(`Both the same: ${part.yours}`));
  if (!part.yours || !part.there) {
    const way = part.yours ? 'mine' : 'theirs';
    return el('li', {}, el('label', { class: 'check' }, el('input', { type: 'checkbox', checked: true, data: { key: `part-${number}` }, on: { change: (event) => { chosen[number] = event.target.checked ? way : 'neither'; } } }), units(words.join(''))), linesOf(part));
  }
  return el('li', {}, el('fieldset', { class: 'card' }, el('legend', {}, 'Both changed this. Choose one'),
    words.map((each) => el('p', {}, units(each))),
    part.ways.map((way) => el('label', { class: 'check' }, el('input', { type: 'radio', name: `part-${number}`, value: way, data: { key: `part-${number}-${way}` }, on: { change: () => { chosen[number] = way; } } }), WAYS[way]))), linesOf(part));
}

/** Show two changes of one text. `save` keeps the text that is chosen; `more`: buttons that end it otherwise. */
async function compare(title, intro, { base, mine, theirs }, save, more) {
  let merged;
  try {
    merged = await ask('merge', { base, mine, theirs });
  } catch (trouble) {
    sayTrouble(trouble);
    return;
  }
  const chosen = merged.parts.map(() => '');
  const trouble = el('div', { role: 'alert' });
  const both = Boolean(merged.yours && merged.there);
  const choices = merged.parts.some((part) => part.yours && part.there && !part.agreed);
  const take = button(choices ? 'Save what is chosen' : 'Take both', async () => {
    try {
      const answer = await ask('merge', { base, mine, theirs, choose: chosen.join(',') });
      if (answer.sheet === null) {
        trouble.replaceChildren(el('p', { class: 'caution' }, `${units(answer.trouble)}.`));
        return;
      }
      await save(answer.sheet, merged.yours);
    } catch (problem) {
      sayTrouble(problem);
    }
  }, { class: 'main', key: 'take-both' });
  dialog(title, el('p', {}, intro),
    el('dl', { class: 'sides' }, el('dt', {}, 'You'), el('dd', {}, merged.yours ? units(merged.yours) : 'nothing yet'), el('dt', {}, 'There'), el('dd', {}, merged.there ? units(merged.there) : 'nothing')),
    both && !choices && !merged.sheet ? el('p', { class: 'caution' }, `${units(merged.trouble)}.`) : null,
    both && (choices || merged.sheet) ? el('details', { open: choices, data: { key: 'parts' } }, el('summary', {}, 'Change by change'), el('ul', { class: 'parts' }, merged.parts.map((part, number) => partView(part, number, chosen)))) : null,
    trouble, el('div', { class: 'row' }, both && (choices || merged.sheet) ? take : null, more(merged)));
}

/** Another window changed the job while this one was open. `mine`: the text that was to be kept; else what the change that was
 *  refused would have made of it. */
export async function conflictDialog(trouble, job, mine = trouble.mine) {
  const { current } = trouble.answer;
  let text = mine;
  if (text === undefined && trouble.edit) text = (await ask('edit', { sheet: job.sheet, ...trouble.edit }).catch(() => null))?.sheet;
  const keep = async (sheet, label) => {
    try {
      await store.save(current, sheet, label);
    } catch (problem) {
      if (problem.kind !== 'conflict') throw problem;
      closeDialog();
      await conflictDialog(problem, current, sheet);
      return;
    }
    closeDialog();
    await page.show();
    say('Saved. Undo takes it back');
  };
  await compare('Changed in another window', text === undefined ? 'This job was changed in another window.' : 'This job was changed in another window. Yours is not saved yet. Nothing was lost.',
    { base: job.sheet, mine: text ?? job.sheet, theirs: current.sheet }, (sheet, yours) => keep(sheet, `put together: ${yours}`),
    (merged) => [merged.yours ? button('Only mine', () => keep(text, merged.yours).catch(sayTrouble), { key: 'mine' }) : null,
      button(merged.yours ? 'Only what is there' : 'Show it as it is now', async () => { closeDialog(); say('Shown as it is now'); await page.show(); }, { key: 'theirs', class: merged.yours ? '' : 'main' })]);
}

/** A change that was refused: what differs where another window made one, else what is wrong. */
export const refused = (trouble, job) => (trouble.kind === 'conflict' ? conflictDialog(trouble, job) : sayTrouble(trouble));

/** A job changed here without the server and there meanwhile. */
export async function waitingConflict(job) {
  const end = (how, words, sheet = null) => async () => {
    try {
      await store.settle(job.id, how, sheet);
      closeDialog();
      await page.show();
      say(words);
    } catch (trouble) {
      if (trouble.kind === 'again') {
        closeDialog();
        await page.show();
      }
      sayTrouble(trouble);
    }
  };
  const began = await store.versionOf(job.id, job.base).catch(() => job.conflict.sheet);
  await compare('Changed here and on the server', 'This job was changed here without a signal, and on the server too. Nothing was lost. What you do not take stays in the history.',
    { base: began, mine: job.sheet, theirs: job.conflict.sheet }, (sheet) => end('together', 'Both are in the job now', sheet)(),
    () => [button('Keep both, mine as a second job', end('both', 'Both kept. Yours is a second job'), { key: 'both' }), button('Use mine', end('mine', 'Yours is used'), { key: 'mine' }), button('Use the server’s', end('theirs', 'The server’s is used'), { key: 'theirs' })]);
}

/** What stands over a job that waits for a choice. */
export const conflictNotice = (job) => (job.conflict ? el('p', { class: 'notice', data: { key: 'conflict-notice' } }, 'This job was changed here and on the server. ', button('Compare', () => waitingConflict(job), { key: 'conflict', 'aria-label': 'Compare both versions' })) : null);
