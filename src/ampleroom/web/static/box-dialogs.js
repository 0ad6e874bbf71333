// What else fits in a box, and what would fix it. `view` is the box view's state, see box.js.
import { ask } from './ask.js';
import { sideName as side } from './box-screen.js';
import { refused } from './conflict.js';
import { button, closeDialog, damage, dialog, el, money, picture, say, sayTrouble, units } from './dom.js';
import * as store from './store.js';
import { standing } from './worksheet.js';

export async function fitsDialog(view) {
  try {
    const answer = await ask('fits', { sheet: view.job.sheet, box: side(view) ? `${view.box.name}/${side(view)}` : view.box.name });
    dialog(`What else fits in ${answer.box}`, el('table', {}, el('thead', {}, el('tr', {}, el('th', { scope: 'col' }, 'One kind at a time'), el('th', { scope: 'col', class: 'num' }, 'More'))), el('tbody', {}, answer.more.map((fit) => el('tr', {}, el('td', {}, fit.what), el('td', { class: 'num' }, fit.text))))), standing(answer.caution));
  } catch (trouble) {
    sayTrouble(trouble);
  }
}

export async function remediesDialog(view) {
  try {
    const answer = await ask('remedies', { sheet: view.job.sheet, box: view.box.name, stock: await store.stock() });
    dialog(`Fixes for ${view.box.name}`,
      answer.verdict === 'passes' ? el('p', {}, 'It passes as it is.') : null,
      answer.first_find_out ? el('p', { class: 'notice' }, el('strong', {}, 'Check first: '), units(answer.first_find_out.question), ' ', el('span', { class: 'soft' }, units(answer.first_find_out.settles))) : null,
      answer.nothing_helps ? [el('p', {}, `${answer.nothing_helps.headline}:`), el('ul', {}, answer.nothing_helps.reasons.map((reason) => el('li', {}, units(reason))))] : null,
      answer.not_tried.map((words) => el('p', { class: 'small soft' }, `${words} Other fixes may exist.`)),
      answer.remedies.map((remedy, rank) => el('section', { class: 'card' },
        el('h3', {}, units(`${rank + 1}. ${remedy.what}`)),
        el('p', {}, `${money(remedy.cost, answer.currency)}: parts ${money(remedy.price, answer.currency)}, ${Math.round(remedy.minutes)} min. ${damage(remedy)}.`, units(remedy.leaves.endsWith(' spare') ? ` Leaves ${remedy.leaves}.` : ` Then: ${remedy.leaves}.`), remedy.per_foot_text.map((words) => ` ${words}.`)),
        remedy.details.map((words) => el('p', { class: 'small' }, units(words))),
        remedy.taken_for_granted.length ? el('p', { class: 'small soft' }, units(`Assumes: ${remedy.taken_for_granted.join('; ')}`)) : null,
        remedy.picture ? [el('div', { class: 'scroll fix-wide', tabindex: 0, role: 'region', 'aria-label': `Before and after: ${remedy.what}` }, picture(remedy.picture)),
          el('div', { class: 'fix-narrow' }, ['As it is', 'With this fix'].map((words, place) => el('figure', {}, el('figcaption', { class: 'small' }, words), picture(remedy.narrow[place]))))] : null,
        button('Do this', async () => {
          try {
            const after = await ask('apply', { sheet: view.job.sheet, box: view.box.name, stock: await store.stock(), choose: rank + 1 });
            const saved = await store.save(view.job, after.sheet, `fix: ${remedy.what}`);
            closeDialog();
            if (await view.reload(saved)) say('Done. Undo takes it back.');
          } catch (trouble) {
            closeDialog();
            refused(trouble, view.job);
          }
        }, { class: 'main', key: `do-${rank}`, 'aria-label': `Do this: ${remedy.what}` }))),
      standing(answer.caution));
  } catch (trouble) {
    sayTrouble(trouble);
  }
}
