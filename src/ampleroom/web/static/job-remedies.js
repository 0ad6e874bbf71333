// The cheapest fix for a whole job. `view` is the job view's state, see job.js.
import { ask } from './ask.js';
import { button, damage, el, link, money, sayTrouble, tell, units } from './dom.js';
import { to } from './frame.js';
import * as store from './store.js';

export function remediesTab(view) {
  const check = (key, words) => el('label', { class: 'check' }, el('input', { type: 'checkbox', checked: view.limits[key], data: { key }, on: { change: (event) => { view.limits[key] = event.target.checked; } } }), words);
  const field = (key, words, attributes = {}) => [el('label', { for: key }, words), el('input', { id: key, value: view.limits[key], autocomplete: 'off', data: { key }, on: { input: (event) => { view.limits[key] = event.target.value; } }, ...attributes })];
  const asked = () => ({ ...view.limits, most_kinds: view.limits.most_kinds.trim() === '' ? null : Number(view.limits.most_kinds) });
  return [
    el('section', { class: 'card' }, el('h2', {}, 'Cheapest fix for the whole job'),
      el('p', { class: 'soft' }, 'The lowest cost that makes all of it pass, by your own parts and prices.'), check('no_plaster', 'Open no plaster'), check('only_in_stock', 'Only what is in stock'), field('most_kinds', 'Most kinds of box to carry', { inputmode: 'numeric', placeholder: 'any number' }), field('spare', 'Keep room in every box for one more', { placeholder: '12/2 nm-b' }), field('margin', 'Room to keep in every box, in³', { inputmode: 'decimal', placeholder: '0' }),
      el('p', {}, button(view.working || 'Work it out', async () => {
        view.working = 'Working …';
        view.extra = null;
        view.redraw();
        try {
          view.extra = await ask('plan', { sheet: view.job.sheet, stock: await store.stock(), limits: asked() });
        } catch (trouble) {
          sayTrouble(trouble);
        }
        view.working = '';
        view.redraw();
        if (view.extra) tell(planWords(view));
      }, { class: 'main', key: 'plan', off: Boolean(view.working) }))),
    view.extra?.schema === 'ampleroom-plan/1' ? planCard(view, asked) : null,
  ];
}

const some = (count, one, many) => `${count} ${count === 1 ? one : many}`;
const planWords = (view) => view.extra.summary;

function planCard(view, asked) {
  return el('section', { class: 'card', data: { key: 'plan-card' } },
    el('h2', {}, planWords(view)),
    view.extra.remedies.length ? el('p', {}, `Parts ${money(view.extra.parts, view.extra.currency)}, labor ${money(view.extra.labor, view.extra.currency)}. ${some(view.extra.kinds.length, 'kind', 'kinds')} of box to carry. ${view.extra.proof}`) : null,
    Object.entries(view.extra.first_find_out).map(([box, fact]) => el('p', { class: 'notice' }, units(`Check before you buy for ${box}: ${fact.question} ${fact.settles}`))),
    el('ul', {}, view.extra.remedies.map((remedy) => el('li', {}, link(remedy.box, to.subject(view.id, { kind: remedy.kind, name: remedy.box, page: /box|body/.test(remedy.kind) ? 'box' : '' })), units(`: ${remedy.what}. ${money(remedy.cost, view.extra.currency)}${remedy.per_foot_text.map((words) => `, ${words}`).join('')}. ${damage(remedy)}. ${remedy.details.join(' ')}`)))),
    view.extra.nothing_helps.map((nothing) => el('div', { class: 'caution' }, el('strong', {}, `${nothing.box}: ${nothing.headline}`), el('ul', {}, nothing.reasons.map((reason) => el('li', {}, units(reason)))))),
    Object.entries(view.extra.not_tried).map(([box, words]) => el('p', { class: 'small soft' }, `${box}: ${words.join(' ')} Other fixes may exist.`)),
    view.extra.remedies.length ? button('Write all fixes into the sheet', async () => {
      try {
        const after = await ask('apply', { sheet: view.job.sheet, stock: await store.stock(), limits: asked() });
        await view.exchange(after.sheet, 'fixes for the job', 'Done. Undo takes them back.');
      } catch (trouble) {
        sayTrouble(trouble);
      }
    }, { class: 'main', key: 'apply-plan' }) : null);
}
