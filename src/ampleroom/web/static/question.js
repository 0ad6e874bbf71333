// A box of text at the top of the list of jobs: one box, typed in a line, answered at once, and kept as a job if wanted.
import { ask } from './ask.js';
import { button, el, faultWords, sentence, tell, units } from './dom.js';
import { keepEdition, usualEdition } from './usual.js';
import { answerCard, factsCard, remindersCard, spokenAnswer, worksheetView } from './worksheet.js';

const EXAMPLE = 'square 4 x 1-1/2, 3 x 12/2 nm-b, clamps inside, receptacle #12';
/** The card with the question and its answer; `keep` makes a job of a sheet and goes to its box. */
export function questionCard(redraw, keep) {
  let words = null;
  let edition = usualEdition();
  let place = '';
  let answer = null;
  let trouble = null;
  let waiting = false;
  let turn = 0;

  const field = () => document.getElementById('question');

  async function put() {
    const mine = ++turn;
    waiting = true;
    trouble = null;
    redraw();
    try {
      const found = await ask('ask', { question: field().value, ...(place ? { adopted: place } : edition ? { edition } : {}) });
      if (mine !== turn) return;
      answer = found;
      tell(spokenAnswer(shownBox(found)));
    } catch (problem) {
      if (mine !== turn) return;
      answer = null;
      trouble = problem;
    }
    waiting = false;
    redraw();
  }

  /** What was answered is of another question once something else is typed or chosen. */
  function stale() {
    if (!answer && !trouble && !waiting) return;
    turn += 1;
    answer = trouble = null;
    waiting = false;
    redraw();
  }

  function choose(year) {
    edition = year;
    place = '';
    keepEdition(year);
    stale();
    redraw();
  }

  function choosePlace(name) {
    place = name;
    stale();
    redraw();
  }

  const known = () => words?.adopted.find((each) => each.place === place) ?? null;

  function editionRow() {
    const years = words?.editions ?? (edition ? [{ year: edition, provisional: false }] : []);
    return el('div', { class: 'row' },
      el('label', { class: 'beside', for: 'asked-edition' }, 'Edition'),
      el('select', { id: 'asked-edition', on: { change: (event) => choose(Number(event.target.value) || null) } },
        el('option', { value: '', selected: !edition || Boolean(place) }, place ? 'by place' : 'choose'),
        years.map((each) => el('option', { value: each.year, selected: !place && each.year === edition }, `${each.year}${each.provisional ? ' (provisional)' : ''}`))),
      words ? [el('label', { class: 'beside', for: 'asked-place' }, 'or by place'),
        el('select', { id: 'asked-place', on: { change: (event) => choosePlace(event.target.value) } },
          el('option', { value: '', selected: !place }, 'choose a place'),
          words.adopted.map((each) => el('option', { value: each.place, selected: each.place === place }, each.place)))] : null);
  }

  return {
    /** What there is to choose from; the page does not wait for it. */
    load() {
      ask('words', {}).then((found) => { words = found; redraw(); }).catch(() => {});
    },
    draw: () => el('section', { class: 'card', 'aria-labelledby': 'question-head', data: { key: 'question-card' } },
      el('h2', { id: 'question-head' }, 'Does it fit?'),
      el('label', { for: 'question' }, 'One box and what is in it, separated by commas'),
      el('textarea', { id: 'question', rows: 3, spellcheck: 'false', autocapitalize: 'off', placeholder: EXAMPLE, maxlength: 4000, 'aria-describedby': 'question-trouble',
        on: { input: stale, keydown: (event) => { if (event.key === 'Enter' && !event.shiftKey && !event.isComposing) { event.preventDefault(); put(); } } } }),
      editionRow(),
      known() ? el('p', { class: 'notice', id: 'asked-known' }, known().text) : null,
      el('div', { class: 'row' }, button(waiting ? 'Counting …' : 'Answer', put, { class: 'main', key: 'put-question', off: waiting })),
      el('div', { id: 'question-trouble', role: 'alert' }, trouble ? troubleWords(trouble) : null),
      answer ? answerView(answer, keep) : null),
  };
}

function troubleWords(trouble) {
  const faults = trouble.answer?.faults ?? [];
  if (!faults.length) return el('p', { class: 'caution' }, sentence(trouble.message));
  return faults.slice(0, 20).map((fault) => el('p', { class: 'caution' }, sentence(faultWords(fault))));
}

/** The box of an answer in the form the cards of a box take. */
function shownBox(answer) {
  return { ...answer.subjects[0], box_kind: '', items: [answer.question], runs: [], faults: 0, edition: answer.edition, readings_used: answer.readings };
}

function answerView(answer, keep) {
  const found = shownBox(answer);
  return [
    answerCard(found),
    el('p', { class: 'small soft' }, `${answer.edition.title}. ${answer.edition.note}`),
    answer.adopted ? el('p', { class: 'small' }, answer.adopted.text) : null,
    answer.edition.not_compared.length ? el('p', { class: 'small' }, `Tables not compared with this edition: ${answer.edition.not_compared.join(', ')}.`) : null,
    (answer.assumptions ?? []).map((words) => el('p', { class: 'small' }, words)),
    answer.subjects.slice(1).flatMap((other) => other.findings).filter((each) => each.verdict !== 'passes').map((each) => el('p', { class: 'small' }, sentence(`${each.verdict}: ${each.message}`))),
    factsCard(found),
    el('details', { data: { key: 'asked-count' } }, el('summary', {}, 'Worksheet'), worksheetView(found)),
    Object.entries(answer.more).map(([place, several]) => moreView(Object.keys(answer.more).length > 1 ? ` in ${place}` : '', several, answer.more_notes[place])),
    smallestView(answer.smallest, answer.circuit ? 'Wire and breaker' : `Smallest ${answer.sized} that works`),
    remindersCard(found),
    el('h3', {}, 'As a sheet'),
    el('pre', { class: 'side', tabindex: 0, role: 'region', 'aria-label': 'The sheet of this question' }, answer.sheet),
    el('div', { class: 'row' }, button('Save as a job', () => keep(`job ${answer.question.slice(0, 60)}\n${answer.sheet}`, answer.subjects[0].name), { key: 'keep-question' })),
    el('p', { class: 'small soft' }, answer.caution),
  ];
}

function moreView(where, several, note) {
  return [
    el('h3', {}, `What else fits${where}, one kind at a time`),
    note ? el('p', {}, `${sentence(note)}.`) : el('ul', {}, several.filter((fit) => fit.possible).map((fit) => el('li', {}, `${fit.what}: ${fit.text}`))),
  ];
}

function smallestView(smallest, title) {
  return [
    el('h3', {}, title),
    smallest.boxes.length ? el('ul', { id: 'smallest' }, smallest.boxes.map((box) => el('li', {}, units(box.text)))) : el('p', { id: 'smallest' }, `${sentence(smallest.reason)}.`),
    smallest.assumes.length ? el('p', { class: 'small soft' }, `Assumes: ${smallest.assumes.join('; ')}.`) : null,
  ];
}
