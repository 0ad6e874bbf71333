// One box, by thumb: the verdict on top, the box and what is in it as rows and keys under it; each tap changes the verdict.
import { ask, words as wordsOffered } from './ask.js';
import { remediesDialog } from './box-dialogs.js';
import { refreshSheet } from './box-fields.js';
import { moreBelow } from './box-more.js';
import { isBlank, lastCables, noteCable, screen, shownSide, sideNow } from './box-screen.js';
import { refused, conflictNotice, waitingConflict } from './conflict.js';
import { button, el, linesUnread, link, painted, renew, say, sentence, tell, units, verdict, verdictClass } from './dom.js';
import { editionFirst, head, starting, to } from './frame.js';
import * as store from './store.js';
import { spokenAnswer } from './worksheet.js';

const left = new Map(); // what was chosen and unfolded in each box when one left it

/** The view of one box. Its parts stand in files of their own (box-*.js) and share its state, `view`. */
export function boxView(here, redraw) {
  const place = `${here.id}/${here.box ?? here.name}`;
  const view = {
    id: here.id, // of the job
    job: null, // the job as it is kept
    box: null, // the answer about the box
    around: null, // the boxes beside it and its keys; they keep their places while one is here
    words: null, // what there is to tap
    places: [], // where a cable may come from, each with its room
    images: [], // its photos
    lastCables: lastCables(), // the keys keep their places while one is here
    also: [], // what the last tap did to other boxes
    clampsFrom: '', // why the clamps are as they are, where nobody tapped them
    drafts: new Map(), // what is typed and not used yet, by field
    fault: null, // what is wrong with what was typed, and in which field
    sheet: null, // what is open over the page
    side: '', open: '', barrier: '', plastic: true, gangs: '', // chosen, unfolded, typed
    ...left.get(place),
    change, reload, redraw: again, newBox,
  };
  const name = here.box ?? here.name;
  let busy = false;
  let drawing = false; // what stands around the verdict is drawn soon
  let fitted = 0;
  const queue = [];

  async function load() {
    [view.words, view.job] = await Promise.all([wordsOffered(), store.get(here.id)]);
    await look().catch(editionFirst(here.id));
    if (view.job.conflict) waitingConflict(view.job);
    requestAnimationFrame(fit);
    later();
  }

  async function look() {
    const shown = await ask('box', { sheet: view.job.sheet, box: name });
    view.box = shown;
    view.around = view.around ? { ...shown.around, boxes: view.around.boxes, cables: view.around.cables, uses_cables: view.around.uses_cables, devices: view.around.devices } : shown.around;
  }

  /** What the box can be set without is asked for once it is shown. */
  async function later() {
    view.images = await store.photos(here.id, view.box.name).catch(() => []);
    const whole = await ask('job', { sheet: view.job.sheet }).catch(() => null);
    if (whole) view.places = [...whole.panels.map((panel) => ({ name: panel, at: '' })), ...whole.subjects.filter((subject) => subject.page === 'box')].filter((each) => each.name !== view.box.name);
    again();
  }

  function again() {
    redraw();
    fit();
    refreshSheet(view);
  }

  /** The keys end at the bar, whatever the verdict's height: so they keep their places. */
  function fit() {
    const above = ['header.top', '.mode', '#answer', 'footer.bar'].reduce((sum, each) => sum + (document.querySelector(each)?.offsetHeight ?? 0) + 2, 0);
    if (above !== fitted) document.documentElement.style.setProperty('--above', `${above}px`);
    fitted = above;
  }

  /** The verdict first; the rest of the page is drawn once it is on the screen. */
  function verdictFirst(pressed, top) {
    const stay = () => { if (pressed?.isConnected && pressed.closest('main')) window.scrollBy(0, pressed.getBoundingClientRect().top - top); }; // the key stays under the thumb
    renew(answer());
    fit();
    stay();
    if (drawing) return;
    drawing = true;
    painted().then(() => {
      drawing = false;
      again();
      stay();
    });
  }

  /** Make a change; taps made meanwhile wait their turn, so none is lost and each sees what the one before it did.
   *  `field`: where something was typed for it; what is wrong with that is said there. */
  function change(edit, field = '') {
    return inTurn(async () => {
      const asked = typeof edit === 'function' ? edit(view.box) : edit;
      if (!asked) return;
      const [pressed, top] = [document.activeElement, document.activeElement?.getBoundingClientRect().top ?? 0];
      const before = view.job;
      const takeBack = (trouble) => {
        queue.length = 0;
        if (field && trouble.kind !== 'conflict') view.fault = { field, words: sentence(trouble.message) };
        else refused(trouble, before);
        again(); // what was tapped shows again what is so
        if (view.fault) document.getElementById(field)?.focus();
      };
      try {
        view.job = await store.tap(before, { box: view.box.name, ...asked }, view.box.name);
        view.fault = null;
      } catch (trouble) {
        takeBack(trouble);
        return;
      }
      view.job.saved?.catch(async (trouble) => { if (await reload(before)) takeBack(trouble); });
      if (view.job.view) view.box = view.job.view;
      if (asked.do === 'add-cable') noteCable(asked.cable);
      if (asked.do === 'run-to' && asked.name !== undefined) await look(); // there is another box beside it now
      view.also = view.job.also ?? [];
      verdictFirst(pressed, top);
      tell([spokenAnswer(shownSide(view)), ...view.also.map((other) => other.says)].join(', '));
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
    view.also = [];
    let why = `${name} is not in this job any more`;
    const there = await look().then(() => true, (trouble) => {
      if (trouble.kind === 'edition') why = trouble.message;
      return false;
    });
    if (!there) {
      location.hash = to.job(here.id);
      say(why, true);
      return false;
    }
    again();
    tell(spokenAnswer(shownSide(view)));
    return true;
  }

  const step = (back) => inTurn(async () => {
    const what = back ? view.job.undo_label : view.job.redo_label;
    try {
      const there = await reload(await store.step(view.job, back));
      if (there) say(`${back ? 'Undone' : 'Redone'}${what ? `: ${units(what)}` : ''}`);
    } catch (trouble) {
      refused(trouble, view.job);
    }
  });

  /** Another change of the job than of this box; `then` runs once it is kept. */
  const elsewhere = (edit, then) => inTurn(async () => {
    try {
      then(await store.edit(view.job, edit, ''));
    } catch (trouble) {
      refused(trouble, view.job);
    }
  });

  function newBox() {
    return elsewhere({ do: 'add-box', name: view.around.new }, () => { location.hash = to.box(here.id, view.around.new); });
  }

  const dropBox = () => elsewhere({ do: 'drop-box', box: view.box.name }, () => {
    location.hash = to.job(here.id);
    say(`${view.box.name} removed. Undo brings it back.`);
  });

  /** The one place of the verdict: shape, word, number; the same in cables; what the last tap did to a neighbor. */
  function answer() {
    const found = shownSide(view);
    const blank = isBlank(view);
    const fact = found.findings.flatMap((finding) => finding.facts_to_find)[0];
    const hands = blank ? 'Tap what the box is, then what comes in.' : found.says.hands || (fact && found.verdict === 'check needed' ? `Check: ${fact.question}` : found.says.short ? '' : found.message);
    const number = found.says.range || found.says.big;
    const [other, ...rest] = view.also;
    const more = rest.length;
    const faulty = found.verdict === 'fails' || (found.verdict === 'check needed' && !found.empty);
    return el('section', { id: 'answer', class: `answer ${blank ? 'open' : verdictClass(found.verdict, found.faults)}`, 'aria-label': 'Verdict', data: { key: `answer-${place}` } },
      el('div', { class: 'line' }, blank ? el('span', { class: 'verdict open' }, el('span', { class: 'shape', 'aria-hidden': 'true' }), 'empty') : verdict(found.verdict, found.faults),
        el('span', { class: number.length > 14 ? 'big long' : 'big' }, blank ? 'Choose the box' : number.toLowerCase() === found.verdict ? '' : number)),
      el('div', { class: 'under' }, el('span', { class: 'hands' }, hands), faulty ? button('Fixes', () => remediesDialog(view), { key: 'remedies', class: 'plain' }) : null),
      other ? link([el('span', { class: `verdict ${verdictClass(other.verdict)}`, 'aria-hidden': 'true' }, el('span', { class: 'shape' })), el('span', {}, `${other.says}${more > 0 ? `, and ${more} more` : ''}`)], to.box(here.id, other.box), { class: 'neighbor', 'data-key': 'neighbor' }) : null);
  }

  function bar() {
    const { previous, next } = view.around;
    return el('footer', { class: 'bar beside' },
      previous ? link(['‹ ', previous], to.box(here.id, previous), { class: 'button', 'aria-label': `Box before: ${previous}`, 'data-key': 'previous' }) : el('span', {}),
      button(`Undo${view.job.can_undo && view.job.undo_label ? `: ${units(view.job.undo_label)}` : ''}`, () => step(true), { key: 'undo', off: !view.job.can_undo }),
      button('↷', () => step(false), { key: 'redo', off: !view.job.can_redo, 'aria-label': `Redo${view.job.can_redo && view.job.redo_label ? `: ${units(view.job.redo_label)}` : ''}` }),
      next ? link([next, ' ›'], to.box(here.id, next), { class: 'button', 'aria-label': `Next box: ${next}`, 'data-key': 'next' }) : button('New box', newBox, { key: 'new-box', class: 'main' }));
  }

  return {
    load,
    job: () => view.job,
    leave: () => { left.set(place, { side: view.side, open: view.open }); },
    title: () => `${name} · ${view.job.title}`,
    draw: () => view.box && [
      head(to.job(here.id), 'All boxes', view.box.name, null, el('span', { class: 'small soft at' }, [view.box.at, view.box.edition.title].filter(Boolean).join(' · '))),
      el('main', { id: 'main', tabindex: -1, class: 'ladder' },
        starting(),
        view.box.faults ? el('p', { class: 'notice' }, linesUnread(view.box.faults), link('Open the sheet', to.job(here.id, 'sheet'))) : null,
        conflictNotice(view.job),
        answer(), el('div', { class: 'screen' }, screen(view, sideNow(view))), moreBelow(view, dropBox)),
      bar(),
    ],
  };
}
