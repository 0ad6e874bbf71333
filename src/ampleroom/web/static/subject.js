// A subject of any kind that has no view of its own: its verdict, what to check, its pictures, its worksheets with their rules.
import { ask } from './ask.js';
import { remediesDialog } from './box-dialogs.js';
import { refused, waitingConflict } from './conflict.js';
import { button, download, el, linesUnread, link, picture, say, sayTrouble, tell } from './dom.js';
import { editionFirst, head, starting, to, undoBar } from './frame.js';
import * as store from './store.js';
import { answerCard, factsCard, remindersCard, shortAnswer, spokenAnswer, standing, worksheetView } from './worksheet.js';

export function subjectView(here, redraw) {
  const view = { id: here.id, job: null, box: null, reload, redraw };

  async function load() {
    view.job = await store.get(here.id);
    await look();
    if (view.job.conflict) waitingConflict(view.job);
  }

  async function look() {
    view.box = await ask('box', { sheet: view.job.sheet, box: here.name, kind: here.kind }).catch(editionFirst(here.id));
  }

  /** Show the subject of another text of the job; false where it is not in it. */
  async function reload(saved) {
    view.job = saved;
    try {
      await look();
    } catch (trouble) {
      location.hash = to.job(here.id);
      sayTrouble(trouble);
      return false;
    }
    redraw();
    tell(spokenAnswer(view.box));
    return true;
  }

  const step = async (back) => {
    try {
      if (await reload(await store.step(view.job, back))) say(back ? 'Undone' : 'Redone');
    } catch (trouble) {
      refused(trouble, view.job);
    }
  };

  const shown = () => view.box.pictures.filter((each) => each.what !== 'outline');

  return {
    load,
    job: () => view.job,
    title: () => `${here.name} · ${view.job.title}`,
    draw: () => view.box && [
      head(to.job(here.id), 'The whole job', view.box.name, [here.kind, view.box.at, view.box.edition.title].filter(Boolean).join(' · '), shortAnswer(view.box)),
      el('main', { id: 'main', tabindex: -1, class: 'wide' },
        starting(),
        view.box.faults ? el('p', { class: 'notice' }, linesUnread(view.box.faults), link('Open the sheet', to.job(here.id, 'sheet'))) : null,
        el('div', { class: 'bench' },
          el('div', { class: 'seen' }, answerCard(view.box),
            el('div', { class: 'row' }, /fails|advice/.test(view.box.verdict) ? button('Fixes', () => remediesDialog(view), { key: 'remedies' }) : null,
              view.box.where ? link('Its line in the sheet', to.line(here.id, view.box.where.line), { class: 'button' }) : null),
            factsCard(view.box)),
          el('div', { class: 'set' }, el('h2', {}, 'Worksheet'), worksheetView(view.box), remindersCard(view.box)),
          el('div', { class: 'beside' }, shown().length ? el('section', { class: 'card', 'aria-label': 'Pictures', data: { key: 'card-pictures' } },
            shown().map((each) => [el('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': each.title }, picture(each)),
              button(`Save: ${each.title}`, () => download(`${each.title}.svg`, 'svg', each.svg), { class: 'plain', key: `save-${each.title}` })])) : null)),
        standing(view.box.caution)),
      undoBar(view.job, step),
    ],
  };
}
