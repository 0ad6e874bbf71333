// The list of a job's boxes, and the form for one more. `view` is the job view's state, see job.js.
import { ask } from './ask.js';
import { button, dialog, el, say, sayTrouble, units, verdict } from './dom.js';
import { to } from './frame.js';
import { remindersCard, standing, worksheetView } from './worksheet.js';

const RANK = { fails: 0, 'check needed': 1, advice: 2, passes: 3 };

/** How many lines of the sheet cannot be read; none while the sheet holds nothing to judge. */
export const unread = (view) => (view.list.subjects.length ? view.list.faults.length : 0);

export function boxesTab(view) {
  const wanted = view.search.trim().toLowerCase();
  const boxes = view.list.subjects.filter((box) => !wanted || `${box.name} ${box.kind} ${box.at} ${box.verdict}`.toLowerCase().includes(wanted))
    .map((box, place) => ({ box, place })).sort((a, b) => RANK[a.box.verdict] - RANK[b.box.verdict] || a.place - b.place).map(({ box }) => box);
  if (!view.list.subjects.length) return boxForm(view, 'First box');
  return [
    el('div', { class: 'row' }, el('label', { for: 'search', class: 'unseen' }, 'Search boxes'),
      el('input', { id: 'search', type: 'search', placeholder: 'Search boxes', value: view.search, data: { key: 'search' }, on: { input: (event) => { view.search = event.target.value; view.redraw(); } } }),
      button('Add a box', () => {
        view.adding = !view.adding;
        view.redraw();
        if (view.adding) document.getElementById('box-name').focus();
      }, { key: 'another', class: 'main', 'aria-expanded': view.adding ? 'true' : 'false' })),
    view.adding ? boxForm(view, 'Add a box') : null,
    el('p', { class: 'soft', role: 'status', data: { key: 'count' } }, `${boxes.length} of ${view.list.subjects_text}, failing ones first`),
    el('ul', { class: 'list', id: 'boxes' }, boxes.map((box) => el('li', { data: { key: `${box.kind}-${box.name}` } }, rowLink(view, box, [el('strong', {}, box.name), box.kind === 'box' ? '' : ` · ${box.kind}`, box.at ? ` · ${box.at}` : '', el('br'), el('span', { class: 'small soft' }, units(box.message), box.cautions ? ' · caution' : '')]), verdict(box.verdict, unread(view))))),
    questionsCard(view),
  ];
}

/** Facts on which several findings lean, each once. */
function questionsCard(view) {
  const shared = view.list.questions.filter((question) => question.findings.length > 1);
  if (!shared.length) return null;
  return el('section', { class: 'card', data: { key: 'questions' } }, el('h2', {}, view.list.questions_heading),
    el('ol', {}, shared.map((question) => el('li', {}, units(question.question),
      question.findings.map((each) => el('div', { class: 'small soft' }, units(`${each.subject}: ${each.settles}`))),
      question.note ? el('div', { class: 'small' }, units(question.note)) : null))));
}

/** A row leads to the page of its kind; a kind without one opens its worksheet here. */
function rowLink(view, subject, words) {
  if (subject.page === 'box') return el('a', { class: 'grow', href: to.box(view.id, subject.name) }, words);
  return button(words, () => openWorksheet(view, subject), { class: 'plain grow', key: `open-${subject.kind}-${subject.name}` });
}

async function openWorksheet(view, { kind, name }) {
  try {
    const shown = await ask('box', { sheet: view.job.sheet, box: name, kind });
    dialog(`Worksheet of ${name}`, worksheetView(shown), remindersCard(shown), standing(shown.caution));
  } catch (trouble) {
    sayTrouble(trouble);
  }
}

function boxForm(view, title) {
  const add = async (event) => {
    event.preventDefault();
    const [name, at] = ['box-name', 'box-at'].map((id) => document.getElementById(id).value.trim());
    if (!name) {
      say('Give the box a name, such as J1');
      document.getElementById('box-name').focus();
      return;
    }
    if (await view.change({ do: 'add-box', name, at })) location.hash = to.box(view.id, name);
  };
  return el('form', { class: 'card', data: { key: 'box-form' }, on: { submit: add } }, el('h2', {}, title),
    el('label', { for: 'box-name' }, 'Name'), el('input', { id: 'box-name', autocomplete: 'off', autocapitalize: 'characters', placeholder: 'J1', maxlength: 40, data: { key: 'box-name' } }),
    el('label', { for: 'box-at' }, 'Where it is'), el('input', { id: 'box-at', autocomplete: 'off', placeholder: 'at the door', maxlength: 120, data: { key: 'box-at' } }),
    el('p', {}, el('button', { class: 'main', type: 'submit', data: { key: 'add-box' } }, 'Add it')));
}
