// One job: its boxes, its map, what would put it right, what to buy, the editions side by side, and its sheet as text.
import { modeWords, show, to } from './app.js';
import { ask, state } from './ask.js';
import { conflictDialog, waitingConflict } from './conflict.js';
import { button, download, el, link, picture, say, verdict } from './dom.js';
import { when } from './home.js';
import * as store from './store.js';
import { standing } from './worksheet.js';

const TABS = [['boxes', 'Boxes'], ['map', 'Map'], ['remedies', 'Remedies'], ['takeoff', 'Takeoff'], ['editions', 'Editions'], ['sheet', 'Sheet'], ['hand-over', 'Hand over']];
const RANK = { fails: 0, 'not settled': 1, passes: 2 };

export function jobView(here, redraw) {
  let job = null;
  let found = null;
  let search = '';
  let extra = null;
  let limits = { no_plaster: false, only_in_stock: false, most_kinds: '', spare: '', margin: '' };
  let working = '';
  const paper = sheetPaper();

  async function load() {
    job = await store.get(here.id);
    found = await ask('job', { sheet: job.sheet });
    paper.take(job.sheet, found.faults);
    extra = null;
    if (job.conflict) waitingConflict(job);
    await loadTab();
  }

  async function loadTab() {
    const sheet = job.sheet;
    if (here.tab === 'map') extra = await ask('map', { sheet });
    if (here.tab === 'editions') extra = await ask('editions', { sheet });
    if (here.tab === 'takeoff') extra = await ask('takeoff', { sheet, stock: await store.stock() });
    if (here.tab === 'hand-over') extra = { versions: await store.history(here.id).catch(() => []) };
    if (here.tab === 'remedies') extra = null;
  }

  async function keep(sheet, label) {
    try {
      job = await store.save(job, sheet, label);
      found = await ask('job', { sheet: job.sheet });
      return true;
    } catch (trouble) {
      if (trouble.kind === 'conflict') {
        conflictDialog(trouble, job, sheet, async (current) => {
          job = await store.save(current, sheet, `${label}, on top`);
          show();
        });
      } else say(trouble.message, true);
      return false;
    }
  }

  async function change(edit) {
    try {
      job = await store.edit(job, edit, edit.box ?? '');
      found = await ask('job', { sheet: job.sheet });
      paper.take(job.sheet, found.faults);
      redraw();
      return true;
    } catch (trouble) {
      if (trouble.kind === 'conflict') conflictDialog(trouble, job, undefined, async (current) => { job = current; await change(edit); });
      else say(trouble.message, true);
      return false;
    }
  }

  async function step(back) {
    try {
      await store.step(job, back);
      await load();
      redraw();
      say(back ? 'undone' : 'done again');
    } catch (trouble) {
      if (trouble.kind === 'conflict') conflictDialog(trouble, job);
      else say(trouble.message, true);
    }
  }

  // ---- boxes --------------------------------------------------------------------------------------------------------

  function boxesTab() {
    const wanted = search.trim().toLowerCase();
    const boxes = found.boxes.filter((box) => !wanted || `${box.name} ${box.at} ${box.verdict}`.toLowerCase().includes(wanted))
      .map((box, place) => ({ box, place })).sort((a, b) => RANK[a.box.verdict] - RANK[b.box.verdict] || a.place - b.place).map(({ box }) => box);
    const name = el('input', { id: 'box-name', autocomplete: 'off', placeholder: 'J1', maxlength: 40, data: { key: 'box-name' } });
    const at = el('input', { id: 'box-at', autocomplete: 'off', placeholder: 'where it is', maxlength: 120, data: { key: 'box-at' } });
    return [
      el('div', { class: 'row' }, el('label', { for: 'search', class: 'unseen' }, 'Search boxes'), el('input', { id: 'search', type: 'search', placeholder: 'Search boxes', value: search, data: { key: 'search' }, on: { input: (event) => { search = event.target.value; redraw(); } } })),
      el('p', { class: 'soft', 'aria-live': 'polite' }, `${boxes.length} of ${found.boxes.length} boxes; failing ones first.`),
      el('ul', { class: 'list', id: 'boxes' }, boxes.map((box) => el('li', {}, el('a', { class: 'grow', href: to.box(here.id, box.name) }, el('strong', {}, box.name), box.at ? ` · ${box.at}` : '', el('br'), el('span', { class: 'small soft' }, box.message, box.cautions ? ' · caution' : '')), verdict(box.verdict)))),
      el('form', { class: 'card', on: { submit: async (event) => {
        event.preventDefault();
        const [box, place] = [name.value.trim(), at.value];
        if (!box) return say('a box has a name, such as J1');
        if (await change({ do: 'add-box', name: box, at: place })) location.hash = to.box(here.id, box);
        return undefined;
      } } }, el('h2', {}, 'Another box'), el('label', { for: 'box-name' }, 'Name'), name, el('label', { for: 'box-at' }, 'Where'), at, el('p', {}, el('button', { class: 'main', type: 'submit', data: { key: 'add-box' } }, 'Add it'))),
    ];
  }

  function headCard() {
    const title = el('input', { id: 'title', value: found.title, maxlength: 120, data: { key: 'title' }, on: { change: (event) => change({ do: 'set-title', title: event.target.value }) } });
    const years = state.words?.editions ?? [2008, 2011, 2014, 2017, 2020, 2023, 2026].map((year) => ({ year }));
    return el('details', { class: 'card', open: !found.edition_written }, el('summary', {}, `${found.edition.title}${found.edition_written ? '' : ' (not written in the sheet: taken for now)'}`),
      el('label', { for: 'title' }, 'Name of the job'), title,
      el('label', { for: 'edition' }, 'Edition adopted here'),
      el('select', { id: 'edition', data: { key: 'edition' }, on: { change: (event) => change({ do: 'set-edition', edition: Number(event.target.value) }) } }, found.edition_written ? null : el('option', { value: '', selected: true, disabled: true }, 'ask your authority'), years.map(({ year }) => el('option', { value: year, selected: year === found.edition_written }, year === 2026 ? '2026, provisional' : year))),
      found.edition.note ? el('p', { class: 'notice' }, `Provisional: ${found.edition.note}.`) : null,
      found.edition.not_compared.length ? el('p', { class: 'small soft' }, `Tables not compared with this edition: ${found.edition.not_compared.join(', ')}`) : null);
  }

  // ---- the other tabs -----------------------------------------------------------------------------------------------

  function mapTab() {
    return extra ? [el('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': 'Map of the job', data: { scroll: 'map' } }, picture(extra)), button('Save the map', () => download(`${found.title || 'job'} map.svg`, 'svg', extra.svg), { key: 'save-map' })] : waiting();
  }

  function editionsTab() {
    if (!extra) return waiting();
    return el('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': 'Verdicts by edition' }, el('table', {},
      el('thead', {}, el('tr', {}, el('th', { scope: 'col' }, 'Box'), extra.editions.map((edition) => el('th', { scope: 'col' }, `${edition.year}${edition.provisional ? ' (provisional)' : ''}`)))),
      el('tbody', {}, extra.boxes.map((box) => el('tr', {}, el('th', { scope: 'row' }, link(box.name, to.box(here.id, box.name))), extra.editions.map((edition) => {
        const cell = box.by_edition[edition.year];
        return el('td', {}, verdict(cell.verdict), cell.margin !== null && cell.verdict !== 'not settled' ? el('div', { class: 'small soft num' }, cell.margin) : null);
      })))), standing('The number is the room to spare in in³; below nothing, what is short.')));
  }

  function takeoffTab() {
    if (!extra) return waiting();
    let group = '';
    return [el('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': 'Takeoff' }, el('table', {},
      el('thead', {}, el('tr', {}, el('th', { scope: 'col' }, 'What'), el('th', { scope: 'col', class: 'num' }, 'Number'), el('th', { scope: 'col', class: 'num' }, extra.currency))),
      el('tbody', {}, extra.lines.flatMap((line) => {
        const rows = line.group === group ? [] : [el('tr', {}, el('th', { colspan: 3, scope: 'colgroup' }, line.group))];
        group = line.group;
        return [...rows, el('tr', {}, el('td', {}, line.what, line.note ? el('div', { class: 'why' }, line.note) : null), el('td', { class: 'num' }, `${Number(line.number)} ${line.unit}`), el('td', { class: 'num' }, line.price ?? 'no price'))];
      }), el('tr', { class: 'sum' }, el('td', { colspan: 2 }, 'Together'), el('td', { class: 'num' }, extra.total))))),
    extra.not_counted.length ? el('ul', { class: 'small' }, extra.not_counted.map((words) => el('li', {}, `Not counted: ${words}`))) : null, standing(extra.caution)];
  }

  function remediesTab() {
    const check = (key, words) => el('label', { class: 'check' }, el('input', { type: 'checkbox', checked: limits[key], data: { key }, on: { change: (event) => { limits[key] = event.target.checked; } } }), words);
    const field = (key, words, attributes = {}) => [el('label', { for: key }, words), el('input', { id: key, value: limits[key], autocomplete: 'off', data: { key }, on: { input: (event) => { limits[key] = event.target.value; } }, ...attributes })];
    const asked = () => ({ ...limits, most_kinds: limits.most_kinds === '' ? null : Number(limits.most_kinds) });
    return [
      el('section', { class: 'card' }, el('h2', {}, 'The least that puts everything right'),
        check('no_plaster', 'open no plaster'), check('only_in_stock', 'only what is in stock'), field('most_kinds', 'carry at most so many kinds of box', { inputmode: 'numeric' }), field('spare', 'keep room for one more of', { placeholder: '12/2 nm-b' }), field('margin', 'and leave so much room, in³', { inputmode: 'decimal' }),
        el('p', {}, button(working || 'Work it out', async () => {
          working = 'working …';
          redraw();
          try {
            extra = await ask('plan', { sheet: job.sheet, stock: await store.stock(), limits: asked() });
          } catch (trouble) {
            say(trouble.message, true);
          }
          working = '';
          redraw();
        }, { class: 'main', key: 'plan', disabled: Boolean(working) }))),
      extra?.schema === 'ampleroom-plan/1' ? planCard(asked) : null,
    ];
  }

  function planCard(asked) {
    const proof = extra.proved ? `Proved least by ${extra.found_by}.` : `Found by ${extra.found_by}; no choice of these can cost less than ${extra.bound}.`;
    return el('section', { class: 'card', 'aria-live': 'polite' },
      el('h2', {}, extra.remedies.length || extra.nothing_helps.length ? `${extra.remedies.length} boxes put right for ${extra.cost} ${extra.currency}` : 'Every box passes; there is nothing to put right.'),
      extra.remedies.length ? el('p', {}, `Parts ${extra.parts}, labor ${extra.labor}, ${extra.kinds.length} kinds of box carried. ${proof}`) : null,
      Object.entries(extra.first_find_out).map(([box, fact]) => el('p', { class: 'notice' }, `Before you buy for ${box}: ${fact.question}; ${fact.settles}`)),
      el('ul', {}, extra.remedies.map((remedy) => el('li', {}, link(remedy.box, to.box(here.id, remedy.box)), `: ${remedy.what} (${remedy.cost}; disturbs: ${remedy.disturbs})`))),
      extra.nothing_helps.map((nothing) => el('div', { class: 'caution' }, el('strong', {}, `${nothing.box}: nothing in the stock helps`), el('ul', {}, nothing.reasons.map((reason) => el('li', {}, reason))))),
      extra.remedies.length ? button('Write it all into the sheet', async () => {
        try {
          const after = await ask('apply', { sheet: job.sheet, stock: await store.stock(), limits: asked() });
          if (await keep(after.sheet, 'remedies for the job')) {
            await load();
            redraw();
            say('done; Undo brings it back');
          }
        } catch (trouble) {
          say(trouble.message, true);
        }
      }, { class: 'main', key: 'apply-plan' }) : null, standing(extra.caution));
  }

  function handOverTab() {
    const make = (words, run) => button(working === words ? 'working …' : words, async () => {
      working = words;
      redraw();
      try {
        await run();
      } catch (trouble) {
        say(trouble.message, true);
      }
      working = '';
      redraw();
    }, { key: words, disabled: Boolean(working) });
    const packet = async (options) => {
      const answer = await ask('packet', { sheet: job.sheet, stock: await store.stock(), job: state.server ? here.id : undefined, photos: state.server ? undefined : await store.photosForPacket(here.id), ...options });
      download(answer.name, 'base64', answer.pdf);
      say(`the sheet's fingerprint is ${answer.fingerprint}`, true);
    };
    return [
      el('section', { class: 'card' }, el('h2', {}, 'The inspection packet'), el('p', {}, 'One PDF: a cover to sign, what fails and its remedy, a card for every box with its picture and whole worksheet.'),
        el('div', { class: 'row' }, make('Packet, letter', () => packet({ paper: 'letter' })), make('Packet, A4', () => packet({ paper: 'a4' })), make('Only what fails', () => packet({ only_failing: true })))),
      el('section', { class: 'card' }, el('h2', {}, 'Files'), el('div', { class: 'row' },
        button('The sheet', () => download(`${found.title || 'job'}.job`, 'text', job.sheet), { key: 'save-sheet' }),
        make('Workbook', async () => { const answer = await ask('workbook', { sheet: job.sheet }); download(answer.name, 'base64', answer.xlsx); }))),
      extra?.versions?.length ? el('section', { class: 'card' }, el('h2', {}, 'History'), el('ol', { class: 'list', reversed: true }, extra.versions.slice(0, 60).map((version) => el('li', {}, el('span', { class: 'grow' }, `${version.version}: ${version.label}`, el('br'), el('span', { class: 'small soft' }, when(version.made))),
        version.version === job.version ? el('span', { class: 'soft' }, 'now') : button('Bring back', async () => { if (await keep(await store.versionOf(here.id, version.version), `back to version ${version.version}`)) { await load(); redraw(); } }, { key: `version-${version.version}`, 'aria-label': `Bring back version ${version.version}` }))))) : null,
    ];
  }

  const waiting = () => el('p', { class: 'soft' }, 'Working …');

  // ---- the sheet as text --------------------------------------------------------------------------------------------

  function sheetPaper() {
    let timer = 0;
    let faults = [];
    const behind = el('pre', { 'aria-hidden': 'true' });
    const field = el('textarea', { id: 'sheet', spellcheck: 'false', autocapitalize: 'off', autocomplete: 'off', 'aria-label': 'The sheet as text', 'aria-describedby': 'faults', data: { key: 'sheet' } });
    const list = el('div', { class: 'faults', id: 'faults', role: 'region', 'aria-label': 'Lines that cannot be read', 'aria-live': 'polite' });
    const states = el('p', { class: 'small soft', role: 'status' });

    const follow = () => { [behind.scrollTop, behind.scrollLeft] = [field.scrollTop, field.scrollLeft]; };
    field.addEventListener('scroll', follow);
    field.addEventListener('input', () => {
      clearTimeout(timer);
      states.textContent = 'not kept yet …';
      mark([]);
      timer = setTimeout(settle, 700);
    });

    async function settle() {
      const text = field.value;
      if (await keep(text, 'sheet written')) {
        if (field.value === text) {
          states.textContent = 'kept';
          tell(found.faults);
          refresh();
        }
      } else states.textContent = 'not kept';
    }

    function refresh() {
      const list = document.getElementById('boxes');
      if (list && !document.activeElement?.closest?.('.paper')) redraw();
      else if (list) list.replaceChildren(...found.boxes.map((box) => ({ box })).sort((a, b) => RANK[a.box.verdict] - RANK[b.box.verdict]).map(({ box }) => el('li', {}, el('a', { class: 'grow', href: to.box(here.id, box.name) }, el('strong', {}, box.name), el('br'), el('span', { class: 'small soft' }, box.message)), verdict(box.verdict))));
    }

    function mark(marks) {
      const lines = field.value.split('\n');
      behind.replaceChildren();
      lines.forEach((line, number) => {
        const here = marks.filter((fault) => fault.line === number + 1);
        if (here.length) {
          const [from, end] = [Math.min(...here.map((fault) => fault.column)) - 1, Math.max(...here.map((fault) => fault.end)) - 1];
          behind.append(line.slice(0, from), el('mark', {}, line.slice(from, end) || ' '), line.slice(end));
        } else behind.append(line);
        behind.append('\n');
      });
      follow();
    }

    function tell(now) {
      faults = now;
      mark(faults);
      list.replaceChildren(...(faults.length ? [el('p', {}, `${faults.length} ${faults.length === 1 ? 'line' : 'lines'} cannot be read:`), ...faults.slice(0, 60).map((fault) => button(`line ${fault.line}: ${fault.message}${fault.hint ? `; ${fault.hint}` : ''}`, () => goTo(fault), { key: `fault-${fault.line}-${fault.column}` }))] : []));
    }

    function goTo(fault) {
      const lines = field.value.split('\n');
      const start = lines.slice(0, fault.line - 1).reduce((sum, line) => sum + line.length + 1, 0);
      field.focus();
      field.setSelectionRange(start + fault.column - 1, start + Math.max(fault.end, fault.column + 1) - 1);
    }

    return {
      take(text, now) {
        if (field.value !== text) field.value = text;
        tell(now);
        states.textContent = '';
      },
      view: () => [el('p', { class: 'small soft' }, 'One fact a line; what you type is kept as you go, and can be undone.'), el('div', { class: 'paper' }, behind, field), states, list],
    };
  }

  const VIEWS = { map: mapTab, editions: editionsTab, takeoff: takeoffTab, remedies: remediesTab, 'hand-over': handOverTab };

  function body() {
    if (here.tab === 'sheet') return el('div', { class: 'columns two' }, el('section', { 'aria-label': 'Sheet' }, paper.view()), el('section', { 'aria-label': 'Boxes' }, boxesTab()));
    if (here.tab === 'boxes') return [headCard(), boxesTab()];
    return (VIEWS[here.tab] ?? boxesTab)();
  }

  return {
    load,
    title: () => found?.title || 'Job',
    draw: () => [
      el('header', { class: 'top' }, link('‹', to.home, { class: 'button back', 'aria-label': 'All jobs' }),
        el('div', { class: 'name' }, el('h1', {}, found.title || 'Job without a name'), el('span', { class: 'small soft' }, `${found.edition.title} · ${found.counts.fails} fail, ${found.counts['not settled']} not settled, ${found.counts.passes} pass`)), verdict(found.verdict), modeWords()),
      el('nav', { class: 'tabs', 'aria-label': 'Of this job', data: { scroll: 'tabs' } }, TABS.map(([tab, words]) => link(words, to.job(here.id, tab), { class: 'button', 'aria-current': tab === here.tab ? 'page' : null }))),
      el('main', { id: 'main', tabindex: -1, class: here.tab === 'sheet' || here.tab === 'map' || here.tab === 'editions' ? 'wide' : '' },
        found.faults.length && here.tab !== 'sheet' ? el('p', { class: 'notice' }, `${found.faults.length} lines of the sheet cannot be read; what they say is not counted. `, link('Look', to.job(here.id, 'sheet'))) : null,
        job.conflict ? el('p', { class: 'notice' }, 'Changed here and on the server. ', button('Look', () => waitingConflict(job), { key: 'conflict' })) : null,
        body(), standing(found.caution)),
      el('footer', { class: 'bar' }, button('↶ Undo', () => step(true), { key: 'undo', disabled: !job.can_undo }), button('↷ Redo', () => step(false), { key: 'redo', disabled: !job.can_redo })),
    ],
  };
}
