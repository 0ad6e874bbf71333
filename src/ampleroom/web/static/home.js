// All jobs, with the examples ready to try.
import { modeWords, show, themeButton, to } from './app.js';
import { ask } from './ask.js';
import { button, dialog, el, link, say } from './dom.js';
import * as store from './store.js';

export function homeView(here, redraw) {
  let jobs = null;
  let examples = { examples: [], starter: '' };
  let removed = null;

  async function open(sheet, label) {
    const job = await store.create(sheet, label);
    location.hash = to.job(job.id);
  }

  async function bringIn(event) {
    const file = event.target.files[0];
    event.target.value = '';
    if (!file) return;
    if (file.size > 25e6) return say(`${file.name} has ${Math.round(file.size / 1e6)} MB; up to 25 MB are taken`, true);
    say(`reading ${file.name} …`, true);
    const bytes = new Uint8Array(await file.arrayBuffer());
    let content = '';
    for (let start = 0; start < bytes.length; start += 32768) content += String.fromCharCode(...bytes.subarray(start, start + 32768));
    try {
      const { sheet } = await ask('import', { name: file.name, content: btoa(content) });
      await open(sheet, `from ${file.name}`);
      say('');
    } catch (trouble) {
      dialog(`${file.name} cannot be read`, el('p', {}, trouble.message), trouble.answer?.faults?.length
        ? el('ul', {}, trouble.answer.faults.slice(0, 50).map((fault) => el('li', {}, `${fault.file}: ${fault.message}${fault.hint ? `; ${fault.hint}` : ''}`))) : null);
    }
  }

  async function putAway(job) {
    await store.remove(job.id);
    removed = job;
    await load();
    redraw();
    say(`${job.title} is put away; it can be brought back`);
  }

  async function stockDialog() {
    const text = await store.stock();
    const field = el('textarea', { rows: 16, id: 'stock', spellcheck: 'false', value: text });
    const trouble = el('div', { role: 'alert' });
    dialog('Parts and prices', el('p', { class: 'small' }, 'A plain list you own: what a part is, in the words of a sheet, and what it costs.'),
      el('label', { for: 'stock' }, 'The stock file'), field, trouble,
      el('div', { class: 'row' }, button('Keep it', async () => {
        try {
          await store.setStock(field.value);
          document.getElementById('dialog').close();
          say('kept');
        } catch (problem) {
          trouble.replaceChildren(...(problem.answer?.faults ?? [{ message: problem.message }]).slice(0, 20).map((fault) => el('p', { class: 'caution' }, `${fault.line ? `line ${fault.line}: ` : ''}${fault.message}${fault.hint ? `; ${fault.hint}` : ''}`)));
        }
      }, { class: 'main' })));
  }

  async function load() {
    [jobs, examples] = await Promise.all([store.list(), store.examples().catch(() => examples)]);
  }

  return {
    load,
    title: () => 'Jobs',
    draw: () => [
      el('header', { class: 'top' }, el('div', { class: 'name' }, el('h1', {}, 'Ampleroom')), modeWords(), themeButton()),
      el('main', { id: 'main', tabindex: -1 },
        el('p', {}, 'Does it fit, and does it pass? Tap in what is in a box; the count is shown, by the edition of the code adopted where you are.'),
        el('div', { class: 'row' },
          button('New job', () => open('job New job\n\n', 'new').catch((trouble) => say(trouble.message, true)), { class: 'main' }),
          el('label', { class: 'button', for: 'file' }, 'Bring in a sheet or workbook'),
          el('input', { id: 'file', type: 'file', class: 'unseen', accept: '.job,.txt,.xlsx,.xls,.ods,.csv', on: { change: bringIn } }),
          button('Parts and prices', () => stockDialog().catch((trouble) => say(trouble.message, true)), { key: 'stock' })),
        removed ? el('p', { class: 'notice' }, `${removed.title} is put away. `, button('Bring it back', async () => { await store.restore(removed.id); removed = null; show(); }, { key: 'restore', class: 'plain' })) : null,
        el('h2', {}, 'Jobs'),
        jobs?.length
          ? el('ul', { class: 'list' }, jobs.map((job) => el('li', {},
            el('a', { class: 'grow', href: to.job(job.id) }, el('strong', {}, job.title), el('br'), el('span', { class: 'small soft' }, `changed ${when(job.changed)}`, job.conflict ? ' · changed on both sides: look' : job.waiting ? ' · waits to be sent' : job.local ? ' · in this browser' : '')),
            button('×', () => putAway(job), { key: `away-${job.id}`, 'aria-label': `Put ${job.title} away`, class: 'plain' }))))
          : el('p', { class: 'soft' }, 'None yet. Try an example, or begin with a new job.'),
        el('h2', {}, 'Examples to try'),
        el('ul', { class: 'list' }, examples.examples.map((example) => el('li', {}, el('span', { class: 'grow' }, example.title, el('br'), el('span', { class: 'small soft' }, example.name)),
          button('Open a copy', () => open(example.sheet, `example ${example.name}`), { key: example.name, 'aria-label': `Open a copy of ${example.title}` })))),
        examples.starter ? el('p', {}, button('Begin with a starter sheet, every line explained', () => open(examples.starter, 'starter'), { key: 'starter', class: 'plain' })) : null,
        el('p', { class: 'standing' }, 'The authority having jurisdiction decides, and local amendments may be stricter. The work is for qualified, licensed people, with the circuit off and tested. This is a calculation aid, not an approval.')),
    ],
  };
}

export function when(text) {
  const date = new Date(text);
  return Number.isNaN(date.getTime()) ? '' : date.toLocaleString([], { dateStyle: 'medium', timeStyle: 'short' });
}

export { link };
