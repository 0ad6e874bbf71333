// One job: its boxes, its map, what would put it right, what to buy, the editions side by side, and its sheet as text.
import { ask, state, words } from './ask.js';
import { conflictDialog, waitingConflict } from './conflict.js';
import { button, dialog, download, el, kept, linesUnread, link, picture, say, tell, verdict } from './dom.js';
import { head, page, starting, to, undoBar, when } from './frame.js';
import * as store from './store.js';
import { number, remindersCard, standing, worksheetView } from './worksheet.js';

const TABS = [['boxes', 'Boxes'], ['map', 'Map'], ['remedies', 'Remedies'], ['takeoff', 'Takeoff'], ['editions', 'Editions'], ['sheet', 'Sheet'], ['hand-over', 'Hand over']];
const WIDE = new Set(['map', 'editions', 'sheet']);
const RANK = { fails: 0, 'check needed': 1, advice: 2, passes: 3 };

export function jobView(here, redraw) {
  let job = null;
  let found = null;
  let asks = null; // why nothing can be judged: the sheet does not say which edition is adopted
  let years = null;
  let search = '';
  let adding = false;
  let extra = null;
  let shownVersions = 60;
  let working = '';
  const limits = { no_plaster: false, only_in_stock: false, most_kinds: '', spare: '', margin: '' };
  const paper = sheetPaper();

  async function load() {
    job = await store.get(here.id);
    if (!years) offered();
    paper.take(job.sheet, found?.faults ?? []);
    await look();
    paper.take(job.sheet, faults());
    if (job.conflict) waitingConflict(job);
    await loadTab();
  }

  /** What the sheet says as it is now, however often it was changed while that was worked out. */
  async function look() {
    for (;;) {
      const { sheet } = job;
      let missing = null;
      const answer = await ask('job', { sheet }).catch((trouble) => {
        if (trouble.kind !== 'edition') throw trouble;
        missing = trouble;
        return null;
      });
      if (job.sheet === sheet) {
        found = answer;
        asks = missing;
        return;
      }
    }
  }

  const faults = () => (found ?? asks?.answer)?.faults ?? [];

  /** The editions on offer; nothing waits for them. */
  async function offered() {
    years = (await words().catch(() => null))?.editions ?? null;
    if (found || asks) redraw();
  }

  async function loadTab() {
    const { sheet } = job;
    if (asks) return;
    if (here.tab === 'map') extra = await ask('map', { sheet });
    if (here.tab === 'editions') extra = await ask('editions', { sheet });
    if (here.tab === 'takeoff') extra = await ask('takeoff', { sheet, stock: await store.stock() });
    if (here.tab === 'hand-over') extra = await store.history(here.id).catch(() => ({ versions: [], more: false }));
    if (here.tab === 'remedies') extra = null;
  }

  let saving = Promise.resolve();
  /** One change after another: each on top of what the one before it left. */
  function inTurn(work) {
    saving = saving.then(work, work);
    return saving;
  }

  async function keep(sheet, label) {
    try {
      job = await store.save(job, sheet, label);
      return true;
    } catch (trouble) {
      if (trouble.kind === 'conflict') {
        conflictDialog(trouble, job, sheet, async (current) => {
          job = await store.save(current, sheet, `${label}, on top`);
          await page.show();
        });
      } else say(trouble.message, true);
      return false;
    }
  }

  /** The whole sheet anew: from a remedy, or from a version of before. */
  async function exchange(sheet, label, words) {
    await paper.flush();
    if (!(await inTurn(() => keep(sheet, label)))) return;
    await load();
    redraw();
    say(words);
  }

  async function change(edit) {
    await paper.flush();
    return inTurn(async () => {
      try {
        job = await store.edit(job, edit, edit.box ?? '');
        await look();
        if (found && !extra) await loadTab(); // what a tab shows waited for the edition
        paper.take(job.sheet, faults());
        redraw();
        return true;
      } catch (trouble) {
        if (trouble.kind === 'conflict') {
          conflictDialog(trouble, job, undefined, async (current) => {
            job = current;
            await change(edit);
          });
        } else say(trouble.message, true);
        redraw();
        return false;
      }
    });
  }

  async function step(back) {
    await paper.flush();
    await inTurn(async () => {
      try {
        job = await store.step(job, back);
        await look();
        paper.take(job.sheet, faults());
        await loadTab();
        redraw();
        say(back ? 'undone' : 'done again');
      } catch (trouble) {
        if (trouble.kind === 'conflict') conflictDialog(trouble, job);
        else say(trouble.message, true);
      }
    });
  }

  // ---- boxes --------------------------------------------------------------------------------------------------------

  const unread = () => (found.subjects.length ? found.faults.length : 0);

  function boxesTab() {
    const wanted = search.trim().toLowerCase();
    const boxes = found.subjects.filter((box) => !wanted || `${box.name} ${box.kind} ${box.at} ${box.verdict}`.toLowerCase().includes(wanted))
      .map((box, place) => ({ box, place })).sort((a, b) => RANK[a.box.verdict] - RANK[b.box.verdict] || a.place - b.place).map(({ box }) => box);
    if (!found.subjects.length) return boxForm('The first box');
    return [
      el('div', { class: 'row' }, el('label', { for: 'search', class: 'unseen' }, 'Search boxes'),
        el('input', { id: 'search', type: 'search', placeholder: 'Search boxes', value: search, data: { key: 'search' }, on: { input: (event) => { search = event.target.value; redraw(); } } }),
        button('Another box', () => {
          adding = !adding;
          redraw();
          if (adding) document.getElementById('box-name').focus();
        }, { key: 'another', class: 'main', 'aria-expanded': adding ? 'true' : 'false' })),
      adding ? boxForm('Another box') : null,
      el('p', { class: 'soft', role: 'status', data: { key: 'count' } }, `${boxes.length} of ${found.subjects_text}, failing ones first`),
      el('ul', { class: 'list', id: 'boxes' }, boxes.map((box) => el('li', { data: { key: `${box.kind}-${box.name}` } }, rowLink(box, [el('strong', {}, box.name), box.kind === 'box' ? '' : ` · ${box.kind}`, box.at ? ` · ${box.at}` : '', el('br'), el('span', { class: 'small soft' }, box.message, box.cautions ? ' · caution' : '')]), verdict(box.verdict, unread())))),
      questionsCard(),
    ];
  }

  /** Facts on which several findings lean, each once. */
  function questionsCard() {
    const shared = found.questions.filter((question) => question.findings.length > 1);
    if (!shared.length) return null;
    return el('section', { class: 'card', data: { key: 'questions' } }, el('h2', {}, 'Check once; it settles several findings'),
      el('ol', {}, shared.map((question) => el('li', {}, question.question,
        question.findings.map((each) => el('div', { class: 'small soft' }, `${each.subject}: ${each.settles}`)),
        question.note ? el('div', { class: 'small' }, question.note) : null))));
  }

  /** A row leads to the page of its kind; a kind without one opens its worksheet here. */
  function rowLink(subject, words) {
    if (subject.page === 'box') return el('a', { class: 'grow', href: to.box(here.id, subject.name) }, words);
    return button(words, () => openWorksheet(subject), { class: 'plain grow', key: `open-${subject.kind}-${subject.name}` });
  }

  async function openWorksheet({ kind, name }) {
    try {
      const shown = await ask('box', { sheet: job.sheet, box: name, kind });
      dialog(`Worksheet of ${name}`, worksheetView(shown), remindersCard(shown), standing(shown.caution));
    } catch (trouble) {
      say(trouble.message, true);
    }
  }

  function boxForm(title) {
    const add = async (event) => {
      event.preventDefault();
      const [name, at] = ['box-name', 'box-at'].map((id) => document.getElementById(id).value.trim());
      if (!name) {
        say('a box has a name, such as J1');
        document.getElementById('box-name').focus();
        return;
      }
      if (await change({ do: 'add-box', name, at })) location.hash = to.box(here.id, name);
    };
    return el('form', { class: 'card', data: { key: 'box-form' }, on: { submit: add } }, el('h2', {}, title),
      el('label', { for: 'box-name' }, 'Name'), el('input', { id: 'box-name', autocomplete: 'off', autocapitalize: 'characters', placeholder: 'J1', maxlength: 40, data: { key: 'box-name' } }),
      el('label', { for: 'box-at' }, 'Where it is'), el('input', { id: 'box-at', autocomplete: 'off', placeholder: 'at the door', maxlength: 120, data: { key: 'box-at' } }),
      el('p', {}, el('button', { class: 'main', type: 'submit', data: { key: 'add-box' } }, 'Add it')));
  }

  function headCard() {
    return el('details', { class: 'card', open: !found, data: { key: 'head-card' } }, el('summary', {}, `Name and edition: ${found ? found.edition.title : 'edition not said yet'}`),
      el('label', { for: 'title' }, 'Name of the job'), el('input', { id: 'title', value: found ? found.title : job.title, maxlength: 120, autocomplete: 'off', data: { key: 'title' }, on: { change: (event) => change({ do: 'set-title', title: event.target.value }) } }),
      el('label', { for: 'edition' }, 'Edition adopted here'), found ? null : el('p', { class: 'small soft', id: 'edition-ask' }, 'Nothing is counted before it is known. Not known? Ask your authority.'),
      el('select', { id: 'edition', 'aria-describedby': found ? null : 'edition-ask', data: { key: 'edition' }, on: { change: (event) => change({ do: 'set-edition', edition: Number(event.target.value) }) } }, found ? null : el('option', { value: '', selected: true, disabled: true }, 'not said yet'), (years ?? (found ? [found.edition] : [])).map(({ year, provisional }) => el('option', { value: year, selected: year === found?.edition_written }, provisional ? `${year}, provisional` : year))),
      !found ? null : notesOnEdition());
  }

  function notesOnEdition() {
    return [found.edition.note ? el('p', { class: 'notice' }, `Provisional: ${found.edition.note}.`) : null,
      found.edition.not_compared.length ? el('p', { class: 'small soft' }, `Tables not compared with this edition: ${found.edition.not_compared.join(', ')}`) : null];
  }

  // ---- the other tabs -----------------------------------------------------------------------------------------------

  function mapTab() {
    return extra ? [el('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': 'Map of the job', data: { key: 'map' } }, picture(extra)), button('Save the map', () => download(`${found.title || 'job'} map.svg`, 'svg', extra.svg), { key: 'save-map' })] : waiting();
  }

  function editionsTab() {
    if (!extra) return waiting();
    return [
      el('p', { class: 'soft' }, 'The number is the room to spare in in³; below nothing, what is short.'),
      el('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': 'Verdicts by edition', data: { key: 'editions' } }, el('table', { class: 'sticky' },
        el('thead', {}, el('tr', {}, el('th', { scope: 'col' }, 'Name'), extra.editions.map((edition) => el('th', { scope: 'col' }, `${edition.year}${edition.provisional ? ' (provisional)' : ''}`)))),
        el('tbody', {}, extra.subjects.map((box) => el('tr', {}, el('th', { scope: 'row' }, box.page === 'box' ? link(box.name, to.box(here.id, box.name)) : `${box.kind} ${box.name}`), extra.editions.map((edition) => {
          const cell = box.by_edition[edition.year];
          return el('td', {}, verdict(cell.verdict, unread()), cell.margin !== null && cell.verdict !== 'check needed' ? el('div', { class: 'small soft' }, number(cell.margin).replace('-', '−')) : null);
        })))))),
    ];
  }

  function takeoffTab() {
    if (!extra) return waiting();
    let group = '';
    return [el('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': 'Takeoff', data: { key: 'takeoff' } }, el('table', {},
      el('thead', {}, el('tr', {}, el('th', { scope: 'col' }, 'What'), el('th', { scope: 'col', class: 'num' }, 'Number'), el('th', { scope: 'col', class: 'num' }, extra.currency))),
      el('tbody', {}, extra.lines.flatMap((line) => {
        const rows = line.group === group ? [] : [el('tr', {}, el('th', { colspan: 3, class: 'group' }, line.group))];
        group = line.group;
        return [...rows, el('tr', {}, el('td', {}, line.what, line.note ? el('div', { class: 'why' }, line.note) : null), el('td', { class: 'num wrap' }, `${Number(line.number)} ${line.unit}`), el('td', { class: 'num wrap' }, line.price ?? 'no price'))];
      }), el('tr', { class: 'sum' }, el('td', { colspan: 2 }, 'Together'), el('td', { class: 'num' }, extra.total))))),
    extra.not_known.length ? el('ul', { class: 'small' }, extra.not_known.map((words) => el('li', {}, `Find out first: ${words}`))) : null];
  }

  function remediesTab() {
    const check = (key, words) => el('label', { class: 'check' }, el('input', { type: 'checkbox', checked: limits[key], data: { key }, on: { change: (event) => { limits[key] = event.target.checked; } } }), words);
    const field = (key, words, attributes = {}) => [el('label', { for: key }, words), el('input', { id: key, value: limits[key], autocomplete: 'off', data: { key }, on: { input: (event) => { limits[key] = event.target.value; } }, ...attributes })];
    const asked = () => ({ ...limits, most_kinds: limits.most_kinds.trim() === '' ? null : Number(limits.most_kinds) });
    return [
      el('section', { class: 'card' }, el('h2', {}, 'The least that puts everything right'),
        el('p', { class: 'soft' }, 'Of all ways to make every box pass, the cheapest, by your own parts and prices.'), check('no_plaster', 'open no plaster'), check('only_in_stock', 'only what is in stock'), field('most_kinds', 'Kinds of box to carry, at most', { inputmode: 'numeric', placeholder: 'any number' }), field('spare', 'Keep room for one more', { placeholder: '12/2 nm-b' }), field('margin', 'Leave at least this much room, in³', { inputmode: 'decimal', placeholder: '0' }),
        el('p', {}, button(working || 'Work it out', async () => {
          working = 'working …';
          extra = null;
          redraw();
          try {
            extra = await ask('plan', { sheet: job.sheet, stock: await store.stock(), limits: asked() });
          } catch (trouble) {
            say(trouble.message, true);
          }
          working = '';
          redraw();
          if (extra) tell(planWords());
        }, { class: 'main', key: 'plan', off: Boolean(working) }))),
      extra?.schema === 'ampleroom-plan/1' ? planCard(asked) : null,
    ];
  }

  const some = (count, one, many) => `${count} ${count === 1 ? one : many}`;
  const planWords = () => (extra.remedies.length ? `${some(extra.remedies.length, 'box', 'boxes')} put right for ${extra.cost} ${extra.currency}`
    : extra.nothing_helps.length ? 'Nothing in the stock helps' : 'Every box passes; there is nothing to put right');

  function planCard(asked) {
    const proof = extra.proved ? `Proved least by ${extra.found_by}.` : `Found by ${extra.found_by}; no choice of these can cost less than ${extra.bound}.`;
    return el('section', { class: 'card', data: { key: 'plan-card' } },
      el('h2', {}, planWords()),
      extra.remedies.length ? el('p', {}, `Parts ${extra.parts}, labor ${extra.labor}; ${some(extra.kinds.length, 'kind', 'kinds')} of box carried. ${proof}`) : null,
      Object.entries(extra.first_find_out).map(([box, fact]) => el('p', { class: 'notice' }, `Before you buy for ${box}: ${fact.question}; ${fact.settles}`)),
      el('ul', {}, extra.remedies.map((remedy) => el('li', {}, link(remedy.box, to.box(here.id, remedy.box)), `: ${remedy.what} (${remedy.cost}; disturbs: ${remedy.disturbs})`))),
      extra.nothing_helps.map((nothing) => el('div', { class: 'caution' }, el('strong', {}, `${nothing.box}: nothing in the stock helps`), el('ul', {}, nothing.reasons.map((reason) => el('li', {}, reason))))),
      extra.remedies.length ? button('Write it all into the sheet', async () => {
        try {
          const after = await ask('apply', { sheet: job.sheet, stock: await store.stock(), limits: asked() });
          await exchange(after.sheet, 'remedies for the job', 'done; Undo brings it back');
        } catch (trouble) {
          say(trouble.message, true);
        }
      }, { class: 'main', key: 'apply-plan' }) : null);
  }

  function handOverTab() {
    const make = (words, run) => button(working === words ? 'working …' : words, async () => {
      working = words;
      redraw();
      try {
        await paper.flush();
        await run();
      } catch (trouble) {
        say(trouble.message, true);
      }
      working = '';
      redraw();
    }, { key: words, off: Boolean(working) });
    const packet = async (options) => {
      const onServer = state.server && !job.local;
      const answer = await ask('packet', { sheet: job.sheet, stock: await store.stock(), job: onServer ? job.id : undefined, photos: onServer ? undefined : await store.photosForPacket(job.id), ...options });
      download(answer.name, 'base64', answer.pdf);
      say(`the sheet's fingerprint is ${answer.fingerprint}`, true);
    };
    return [
      el('section', { class: 'card' }, el('h2', {}, 'The inspection packet'), el('p', {}, 'One PDF: a cover to sign, what fails and its remedy, a card for every box with its picture and whole worksheet.'),
        el('div', { class: 'row' }, make('Packet, letter', () => packet({ paper: 'letter' })), make('Packet, A4', () => packet({ paper: 'a4' })), make('Only what fails', () => packet({ only_failing: true })))),
      el('section', { class: 'card' }, el('h2', {}, 'Files'), el('div', { class: 'row' },
        button('The sheet', () => download(`${found.title || 'job'}.job`, 'text', job.sheet), { key: 'save-sheet' }),
        make('Workbook', async () => { const answer = await ask('workbook', { sheet: job.sheet }); download(answer.name, 'base64', answer.xlsx); }))),
      extra?.versions?.length ? historyCard() : null,
    ];
  }

  function historyCard() {
    const older = async () => {
      try {
        if (shownVersions >= extra.versions.length && extra.more) {
          const more = await store.history(here.id, extra.versions.at(-1).version);
          extra = { versions: [...extra.versions, ...more.versions], more: more.more };
        }
        shownVersions += 60;
        redraw();
      } catch (trouble) {
        say(trouble.message, true);
      }
    };
    const bringBack = async (version) => {
      try {
        await exchange(await store.versionOf(here.id, version), `back to version ${version}`, `version ${version} is back; Undo brings back what was`);
      } catch (trouble) {
        say(trouble.message, true);
      }
    };
    return el('section', { class: 'card', data: { key: 'history' } }, el('h2', {}, 'History'),
      el('ul', { class: 'list' }, extra.versions.slice(0, shownVersions).map((version) => el('li', { data: { key: `row-${version.version}` } }, el('span', { class: 'grow' }, `${version.version}: ${version.label}`, el('br'), el('span', { class: 'small soft' }, when(version.made))),
        version.version === job.version ? el('span', { class: 'soft' }, 'now') : button('Bring back', () => bringBack(version.version), { key: `version-${version.version}`, 'aria-label': `Bring back version ${version.version}` })))),
      extra.more || shownVersions < extra.versions.length ? button('Older ones', older, { key: 'older' }) : null);
  }

  const waiting = () => el('p', { class: 'soft' }, 'Working …');

  // ---- the sheet as text --------------------------------------------------------------------------------------------

  /** The sheet as it is typed: one node that stays, with its cursor, while all around it is drawn anew. */
  function sheetPaper() {
    let timer = 0;
    let pending = false;
    const behind = el('pre', { 'aria-hidden': 'true' });
    const field = el('textarea', { id: 'sheet', spellcheck: 'false', autocapitalize: 'off', autocomplete: 'off', wrap: 'off', 'aria-label': 'The sheet as text', 'aria-describedby': 'faults', data: { key: 'sheet' } });
    const list = el('div', { class: 'faults', id: 'faults', role: 'region', 'aria-label': 'Lines that cannot be read' });
    const states = el('p', { class: 'small soft', role: 'status', id: 'kept' });
    const node = el('div', {}, el('p', { class: 'small soft' }, 'One fact a line; what you type is kept as you go, and can be undone.'), el('div', { class: 'paper' }, behind, field), states, list);

    const follow = () => { [behind.scrollTop, behind.scrollLeft] = [field.scrollTop, field.scrollLeft]; };
    field.addEventListener('scroll', follow);
    field.addEventListener('input', () => {
      clearTimeout(timer);
      pending = true;
      states.textContent = 'not kept yet …';
      mark([]);
      timer = setTimeout(flush, 600);
    });

    /** Keep what is typed, if anything is. */
    function flush() {
      clearTimeout(timer);
      if (!pending) return Promise.resolve(true);
      return inTurn(async () => {
        if (!pending) return true;
        const text = field.value;
        pending = false;
        if (!(await keep(text, 'sheet written'))) {
          states.textContent = 'not kept';
          return false;
        }
        if (field.value === text) states.textContent = 'kept';
        settle(text);
        return true;
      });
    }

    /** The boxes, and the faults at their places, follow what is kept. */
    async function settle(text) {
      try {
        await look();
      } catch (trouble) {
        say(trouble.message, true);
        return;
      }
      if (field.value !== text || job.sheet !== text) return;
      show(faults());
      redraw();
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

    function show(faults) {
      mark(faults);
      const words = faults.length ? `${faults.length} ${faults.length === 1 ? 'line' : 'lines'} cannot be read` : '';
      list.replaceChildren(...(faults.length ? [el('h2', {}, words), ...faults.slice(0, 60).map((fault) => button(`line ${fault.line}: ${fault.message}${fault.hint ? `; ${fault.hint}` : ''}`, () => goTo(fault), { key: `fault-${fault.line}-${fault.column}` }))] : []));
      if (states.textContent && words) states.textContent += `; ${words}`;
    }

    function goTo(fault) {
      const lines = field.value.split('\n');
      const start = lines.slice(0, fault.line - 1).reduce((sum, line) => sum + line.length + 1, 0);
      field.focus();
      field.setSelectionRange(start + fault.column - 1, start + Math.max(fault.end, fault.column + 1) - 1);
    }

    return {
      flush,
      node,
      /** The sheet as it is kept now; what is just being typed is not taken away. */
      take(text, faults) {
        if (pending) return;
        if (field.value !== text) {
          field.value = text;
          states.textContent = '';
        }
        show(faults);
      },
    };
  }

  const VIEWS = { map: mapTab, editions: editionsTab, takeoff: takeoffTab, remedies: remediesTab, 'hand-over': handOverTab };

  function body() {
    if (here.tab === 'sheet') return el('div', { class: 'columns two' }, el('section', { 'aria-label': 'Sheet' }, kept(paper.node)), el('section', { 'aria-label': 'Boxes' }, boxesTab()));
    if (here.tab === 'boxes') return [headCard(), boxesTab()];
    return (VIEWS[here.tab] ?? boxesTab)();
  }

  const notJudged = () => (found.not_judged.length ? `Not judged: ${found.not_judged.map((each) => each.text).join(', ')}` : '');

  const counts = () => (found.subjects.length ? found.counts_text : 'no box yet');

  /** Before anybody said which edition is adopted: that is asked, and the sheet can be read and changed. */
  function withoutEdition() {
    return [
      head(to.home, 'All jobs', job.title || 'Job without a name', 'edition not said yet', null),
      el('main', { id: 'main', tabindex: -1, class: 'wide' }, starting(),
        el('p', { class: 'notice', role: 'alert' }, 'Which edition of the code is adopted there? Nothing is judged without it.'), headCard(), kept(paper.node)),
      undoBar(job, step),
    ];
  }

  /** Before it is counted: the sheet itself, to be read and changed. */
  function early() {
    return [
      head(to.home, 'All jobs', job.title, '', null),
      el('main', { id: 'main', tabindex: -1, class: 'wide' }, starting(), kept(paper.node)),
      undoBar({ can_undo: false, can_redo: false }, step),
    ];
  }

  return {
    load,
    leave: () => paper.flush(),
    title: () => found?.title || job?.title || 'Job',
    draw: () => job && (found ? [
      head(to.home, 'All jobs', found.title || 'Job without a name', `${found.edition.title} · ${counts()}`, found.subjects.length ? verdict(found.verdict, unread()) : null),
      el('nav', { class: 'tabs', 'aria-label': 'Of this job' }, TABS.map(([tab, words]) => link(words, to.job(here.id, tab), { class: 'button', 'data-key': `tab-${tab}`, 'aria-current': tab === here.tab ? 'page' : null }))),
      el('main', { id: 'main', tabindex: -1, class: WIDE.has(here.tab) ? 'wide' : '' },
        starting(),
        unread() && here.tab !== 'sheet' ? el('p', { class: 'notice' }, linesUnread(unread()), link('Look', to.job(here.id, 'sheet'))) : null,
        job.conflict ? el('p', { class: 'notice' }, 'Changed here and on the server. ', button('Look', () => waitingConflict(job), { key: 'conflict', 'aria-label': 'Look at both' })) : null,
        notJudged() ? el('p', { class: 'notice', data: { key: 'not-judged' } }, notJudged()) : null,
        found.assumptions.map((text, number) => el('p', { class: 'small soft', data: { key: `assumed-${number}` } }, text)),
        found.warnings.map((warning, number) => el('p', { class: 'notice', data: { key: `warning-${number}` } }, `Line ${warning.where.line}: ${warning.text}. `, here.tab === 'sheet' ? null : link('Open the sheet', to.job(here.id, 'sheet')))),
        body(), standing(found.caution)),
      undoBar(job, step),
    ] : asks ? withoutEdition() : state.server ? null : early()),
  };
}
