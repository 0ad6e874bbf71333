// One box, by touch: what it is, what comes in, what is in it; the verdict changes with every tap.
import { ask, state, words as wordsOffered } from './ask.js';
import { cablesCard } from './box-cables.js';
import { clampsCard, contentsCard } from './box-contents.js';
import { fitsDialog, remediesDialog } from './box-dialogs.js';
import { baseCard, sideCard } from './box-kind.js';
import { photosCard } from './box-photos.js';
import { conflictDialog, waitingConflict } from './conflict.js';
import { button, dialog, download, el, linesUnread, link, picture, say, sayTrouble, tell } from './dom.js';
import { head, starting, to, undoBar } from './frame.js';
import * as store from './store.js';
import { answerCard, factsCard, isEmpty, remindersCard, rowsBeside, shortAnswer, spokenAnswer, standing, worksheetView } from './worksheet.js';

/** The view of one box. Its cards stand in files of their own (box-*.js) and share its state, `view`. */
export function boxView(here, redraw) {
  const view = {
    id: here.id, // of the job
    job: null, // the job as it is kept
    box: null, // the answer about the box
    words: null, // what there is to tap
    places: [], // where a cable may come from
    images: [], // its photos
    open: '', // which choices are unfolded
    size: '', // largest wire on the next device
    far: '?', // where the next cable comes from
    chosenSide: '', // of the barrier
    barrier: '', plastic: true, gangs: '', // of the box that is being described
    change, toggle, reload, redraw,
  };
  let busy = false;
  const queue = [];

  async function load() {
    [view.words, view.job] = await Promise.all([wordsOffered(), store.get(here.id)]);
    view.box = await ask('box', { sheet: view.job.sheet, box: here.box }).catch((trouble) => {
      if (trouble.kind === 'edition') location.replace(to.job(here.id)); // it is asked for there
      throw trouble;
    });
    if (isEmpty(view.box)) view.open = 'base';
    if (view.job.conflict) waitingConflict(view.job);
    later();
  }

  /** What the box can be set without is asked for once it is shown. */
  async function later() {
    view.images = await store.photos(here.id, view.box.name).catch(() => []);
    const whole = await ask('job', { sheet: view.job.sheet }).catch(() => null);
    if (whole) view.places = [...whole.panels, ...whole.subjects.filter((subject) => subject.page === 'box').map((box) => box.name)].filter((name) => name !== view.box.name);
    redraw();
  }

  /** Make a change; taps made meanwhile wait their turn, so none is lost and each sees what the one before it did. */
  function change(edit) {
    return inTurn(async () => {
      const asked = typeof edit === 'function' ? edit(view.box) : edit;
      if (!asked) return;
      try {
        view.job = await store.edit(view.job, { box: view.box.name, ...asked }, view.box.name);
      } catch (trouble) {
        queue.length = 0;
        if (trouble.kind === 'conflict') conflictDialog(trouble, view.job, undefined, async (current) => { if (await reload(current)) await change(edit); });
        else sayTrouble(trouble);
        redraw(); // what was tapped shows again what is so
        return;
      }
      if (view.job.view) view.box = view.job.view;
      redraw();
      tell(spokenAnswer(view.box));
    });
  }

  async function inTurn(work) {
    const done = new Promise((finished) => { queue.push(async () => { await work(); finished(); }); });
    if (!busy) {
      busy = true;
      try {
        while (queue.length) await queue.shift()();
      } finally {
        busy = false;
      }
    }
    await done;
  }

  /** Show the box of another text of the job; false where it is not in it. */
  async function reload(saved) {
    view.job = saved;
    let why = `${here.box} is not in this job any more`;
    view.box = await ask('box', { sheet: view.job.sheet, box: here.box }).catch((trouble) => {
      if (trouble.kind === 'edition') why = trouble.message;
      return null;
    });
    if (!view.box) {
      location.hash = to.job(here.id);
      say(why, true);
      return false;
    }
    redraw();
    tell(spokenAnswer(view.box));
    return true;
  }

  const step = (back) => inTurn(async () => {
    try {
      if (await reload(await store.step(view.job, back))) say(back ? 'Undone' : 'Redone');
    } catch (trouble) {
      if (trouble.kind === 'conflict') conflictDialog(trouble, view.job);
      else sayTrouble(trouble);
    }
  });

  function toggle(name) { view.open = view.open === name ? '' : name; redraw(); }

  /** The room to scale: beside its rows on a phone, with its words in it where there is width for them, which two cases seldom have. */
  function roomsCard() {
    if (isEmpty(view.box)) return null;
    const fills = view.box.findings.filter((finding) => finding.worksheet);
    const [wide, narrow] = ['room', 'outline'].map((what) => view.box.pictures.filter((each) => each.what === what));
    const both = (place) => (fills[place]?.worst_case ? ' both' : '');
    return [
      narrow.map((each, place) => el('section', { class: `rooms narrow${both(place)}`, 'aria-label': each.title, data: { key: `narrow-${place}` } }, picture(each), fills[place] ? rowsBeside(fills[place], view.box.edition.year) : null)),
      wide.map((each, place) => el('div', { class: `scroll rooms broad${both(place)}`, data: { key: `broad-${place}` }, tabindex: 0, role: 'region', 'aria-label': each.title }, picture(each))),
    ];
  }

  const worksheetDialog = () => dialog(`Worksheet of ${view.box.name}`, worksheetView(view.box), standing(view.box.caution));

  function picturesCard() {
    const [rooms, others] = ['room', 'entering'].map((what) => view.box.pictures.filter((each) => each.what === what));
    return el('section', { class: 'card', data: { key: 'card-pictures' } }, el('h2', {}, 'What comes into the box'),
      others.map((each) => el('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': each.title }, picture(each))),
      el('div', { class: 'row' }, [...rooms, ...others].map((each) => button(`Save: ${each.title}`, () => download(`${each.title}.svg`, 'svg', each.svg), { class: 'plain', key: `save-${each.title}` }))));
  }

  const dropBox = () => inTurn(async () => {
    try {
      await store.edit(view.job, { do: 'drop-box', box: view.box.name }, '');
      location.hash = to.job(here.id);
      say(`${view.box.name} removed. Undo brings it back.`);
    } catch (trouble) {
      if (trouble.kind === 'conflict') conflictDialog(trouble, view.job);
      else sayTrouble(trouble);
    }
  });

  return {
    load,
    job: () => view.job,
    title: () => `${here.box} · ${view.job.title}`,
    meanwhile: () => (state.server ? null : el('p', {}, 'You can read and change the sheet meanwhile: ', link('open the sheet', to.job(here.id, 'sheet')))),
    draw: () => view.box && [
      head(to.job(here.id), 'All boxes', view.box.name, [view.box.at, view.box.edition.title].filter(Boolean).join(' · '), shortAnswer(view.box)),
      el('main', { id: 'main', tabindex: -1, class: 'wide' },
        starting(),
        view.box.faults ? el('p', { class: 'notice' }, linesUnread(view.box.faults), link('Open the sheet', to.job(here.id, 'sheet'))) : null,
        view.job.conflict ? el('p', { class: 'notice' }, 'This job was changed here and on the server. ', button('Compare', () => waitingConflict(view.job), { key: 'conflict', 'aria-label': 'Compare both versions' })) : null,
        el('div', { class: 'bench' },
          el('div', { class: 'seen' },
            answerCard(view.box),
            isEmpty(view.box) ? null : el('div', { class: 'asked' }, button('What else fits', () => fitsDialog(view), { key: 'fits' }), button('Fixes', () => remediesDialog(view), { key: 'remedies' }), button('Worksheet', worksheetDialog, { key: 'worksheet' })),
            roomsCard(), factsCard(view.box)),
          el('div', { class: 'set' }, baseCard(view), sideCard(view), cablesCard(view), contentsCard(view), clampsCard(view)),
          el('div', { class: 'beside' }, remindersCard(view.box), isEmpty(view.box) ? null : picturesCard(), photosCard(view))),
        el('p', {}, button('Remove this box from the job', dropBox, { class: 'plain', key: 'drop-box' })),
        standing(view.box.caution)),
      undoBar(view.job, step),
    ],
  };
}
