// All jobs, with the examples ready to try.
import { ask } from './ask.js';
import { base64, button, closeDialog, dialog, el, faultWords, say, sayTrouble, sentence, verdict } from './dom.js';
import { head, starting, themeButton, to, when } from './frame.js';
import { questionCard } from './question.js';
import * as store from './store.js';
import { ruleBox } from './rules.js';
import { truckCard } from './truck.js';
import { usualEdition } from './usual.js';
import { standing } from './worksheet.js';

const CAUTION = 'Calculation aid, not an approval. The authority having jurisdiction decides, and local amendments may be stricter. Leave the work to qualified, licensed people, with the circuit off and tested.';
const standings = new Map(); // how each version of a job stands
const LARGEST_FILE = 20e6; // in base64 it has to fit the 30 MB the server takes

export function homeView(here, redraw) {
  let jobs = null;
  let examples = { examples: [], starter: '' };
  let away = [];

  async function open(sheet, label) {
    try {
      const job = await store.create(sheet, label);
      location.hash = to.job(job.id);
    } catch (trouble) {
      sayTrouble(trouble);
    }
  }

  /** A question's sheet as a job, opened at its box. */
  async function keepQuestion(sheet, box) {
    try {
      const job = await store.create(sheet, 'from a question');
      location.hash = to.box(job.id, box);
    } catch (trouble) {
      sayTrouble(trouble);
    }
  }

  /** A job with nothing in it, under the edition chosen last; it is said, as another place may have adopted another one. */
  async function startNew() {
    const year = usualEdition();
    await open(`job New job\n${year ? `edition ${year}\n` : ''}\n`, 'new');
    if (year) say(`${year} edition, as you chose last time. Another one here? Change it under “Job name and code edition”.`, true);
  }

  const question = questionCard(redraw, keepQuestion);

  async function bringIn(event) {
    const file = event.target.files[0];
    event.target.value = '';
    if (!file) return;
    if (file.size > LARGEST_FILE) {
      say(`${file.name} is ${Math.round(file.size / 1e6)} MB. The limit is ${LARGEST_FILE / 1e6} MB`, true);
      return;
    }
    say(`Reading ${file.name} …`, true);
    try {
      const content = base64(new Uint8Array(await file.arrayBuffer()));
      const { sheet } = await ask('import', { name: file.name, content });
      await open(sheet, `from ${file.name}`);
      say(`${file.name} opened`);
    } catch (trouble) {
      say('');
      dialog(`${file.name} cannot be read`, el('p', {}, sentence(trouble.message)), trouble.answer?.faults?.length
        ? el('ul', {}, trouble.answer.faults.slice(0, 50).map((fault) => el('li', {}, `${fault.file}: ${faultWords(fault)}`))) : null);
    }
  }

  async function putAway(job, back = false) {
    try {
      await (back ? store.restore(job.id) : store.remove(job.id));
      await load();
      redraw();
      say(back ? `${job.title} is back` : `${job.title} is put away. Find it at the bottom of this page`);
    } catch (trouble) {
      sayTrouble(trouble);
    }
  }

  async function stockDialog() {
    const field = el('textarea', { rows: 14, id: 'stock', spellcheck: 'false', autocapitalize: 'off', value: await store.stock() });
    const theirs = await store.otherStock();
    const trouble = el('div', { role: 'alert' });
    dialog('Parts and prices', el('p', { class: 'small' }, 'Your own list: each part in the words of a sheet, and what it costs.'),
      theirs === null ? null : [el('p', { class: 'notice' }, 'This list was changed here without a signal, and on the server too. Save one of them, or combine them. Until then yours is used here.'),
        el('label', { for: 'other-stock' }, 'On the server'), el('textarea', { rows: 8, id: 'other-stock', readonly: true, value: theirs }),
        el('div', { class: 'row' }, button('Use the server’s list', () => { field.value = theirs; field.focus(); }))],
      el('label', { for: 'stock' }, 'Your list'), field, trouble,
      el('div', { class: 'row' }, button('Save', async () => {
        try {
          await store.setStock(field.value);
          closeDialog();
          say('Saved');
        } catch (problem) {
          trouble.replaceChildren(...(problem.answer?.faults ?? [{ message: problem.message }]).slice(0, 20).map((fault) => el('p', { class: 'caution' }, `${fault.line ? `Line ${fault.line}: ` : ''}${faultWords(fault)}`)));
        }
      }, { class: 'main' })));
  }

  async function load() {
    question.load();
    [jobs, away, examples] = await Promise.all([store.list(), store.putAway().catch(() => []), store.examples().catch(() => examples)]);
    judge();
  }

  /** How each job stands, one after another, once they are shown: nothing waits for it. */
  async function judge() {
    const mine = jobs;
    for (const job of mine) {
      const mark = `${job.id} ${job.version} ${job.changed}`;
      if (standings.has(mark)) continue;
      const found = await store.standing(job).catch(() => null);
      if (mine !== jobs || !document.getElementById('jobs')) return;
      if (found) {
        standings.set(mark, found);
        redraw();
      }
    }
  }

  function standingOf(job) {
    const found = standings.get(`${job.id} ${job.version} ${job.changed}`);
    return found ? el('span', { class: 'line small' }, verdict(found.verdict, found.unread), ' ', el('span', {}, found.text)) : el('span', { class: 'line small soft' }, 'counting …');
  }

  const state = (job) => (job.conflict ? ' · changed here and on the server' : job.waiting ? ' · not sent yet' : job.local ? ' · in this browser only' : '');

  return {
    load,
    title: () => 'Jobs',
    draw: () => jobs && [
      head(null, '', 'Ampleroom', '', themeButton()),
      el('main', { id: 'main', tabindex: -1 },
        starting(),
        el('p', {}, 'Does it fit, and does it pass? Tap in what is in a box. The count follows the code edition adopted where you work.'),
        question.draw(),
        el('div', { class: 'row' },
          button('New job', startNew, { class: 'main' }),
          el('label', { class: 'button', for: 'file' }, 'Open a sheet or workbook'),
          el('input', { id: 'file', type: 'file', class: 'unseen', accept: '.job,.txt,.xlsx,.xls,.ods,.csv', on: { change: bringIn } }),
          button('Parts and prices', () => stockDialog().catch((trouble) => sayTrouble(trouble)), { key: 'stock-list' })),
        el('h2', {}, 'Jobs'),
        jobs.length
          ? el('ul', { class: 'list', id: 'jobs' }, jobs.map((job) => el('li', { data: { key: `job-${job.id}` } },
            el('a', { class: 'grow', href: to.job(job.id) }, el('strong', {}, job.title), standingOf(job), el('span', { class: 'line small soft' }, `changed ${when(job.changed)}`, state(job))),
            button('×', () => putAway(job), { key: `away-${job.id}`, 'aria-label': `Put ${job.title} away`, title: 'Put away', class: 'plain' }))))
          : el('p', { class: 'notice', data: { key: 'no-jobs' } }, 'No jobs yet. Start one with New job, open a sheet or workbook, or open a copy of an example below.'),
        el('h2', {}, 'Examples to try'),
        el('ul', { class: 'list', id: 'examples' }, examples.examples.map((example) => el('li', { data: { key: `example-${example.name}` } }, el('span', { class: 'grow' }, example.title, el('br'), el('span', { class: 'small soft' }, example.name)),
          button('Open a copy', () => open(example.sheet, `example ${example.name}`), { key: example.name, 'aria-label': `Open a copy of ${example.title}` })))),
        examples.starter ? el('p', {}, button('Start with a sheet that explains every line', () => open(examples.starter, 'starter'), { key: 'starter', class: 'plain' })) : null,
        el('h2', {}, 'Rules'),
        ruleBox(),
        truckCard(),
        away.length ? el('details', { class: 'card', data: { key: 'put-away' } }, el('summary', {}, `Put away: ${away.length}`),
          el('ul', { class: 'list' }, away.map((job) => el('li', { data: { key: `back-${job.id}` } }, el('span', { class: 'grow' }, job.title), button('Bring back', () => putAway(job, true), { key: `restore-${job.id}`, 'aria-label': `Bring ${job.title} back` }))))) : null,
        standing(CAUTION)),
    ],
  };
}

