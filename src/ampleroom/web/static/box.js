// One box, by touch: what it is, what comes in, what is in it; the verdict changes with every tap.
import { ask, state, words as wordsOffered } from './ask.js';
import { conflictDialog, waitingConflict } from './conflict.js';
import { button, closeDialog, dialog, download, el, linesUnread, link, picture, say, tell } from './dom.js';
import { head, starting, to, undoBar } from './frame.js';
import * as store from './store.js';
import { answerCard, factsCard, isEmpty, remindersCard, rowsBeside, shortAnswer, spokenAnswer, standing, worksheetView } from './worksheet.js';

let words = null;
const CLAMP_WORDS = { inside: 'Inside', outside: 'Outside', tabs: 'Plastic tabs', none: 'None', '?': 'Not known' };
const HERE_WORDS = { ends: 'ends here', passes: 'passes through', looped: 'passes, looped' };
const NUMBER = /^\d{1,6}([.,]\d{1,4})?$/;

export function boxView(here, redraw) {
  let job = null;
  let found = null;
  let places = [];
  let open = '';
  let size = '';
  let far = '?';
  let chosenSide = '';
  let barrier = '';
  let plastic = true;
  let gangs = '';
  let images = [];
  let busy = false;
  const queue = [];

  async function load() {
    [words, job] = await Promise.all([wordsOffered(), store.get(here.id)]);
    found = await ask('box', { sheet: job.sheet, box: here.box }).catch((trouble) => {
      if (trouble.kind === 'edition') location.replace(to.job(here.id)); // it is asked for there
      throw trouble;
    });
    if (isEmpty(found)) open = 'base';
    if (job.conflict) waitingConflict(job);
    later();
  }

  /** What the box can be set without is asked for once it is shown. */
  async function later() {
    images = await store.photos(here.id, found.name).catch(() => []);
    const whole = await ask('job', { sheet: job.sheet }).catch(() => null);
    if (whole) places = [...whole.panels, ...whole.subjects.filter((subject) => subject.page === 'box').map((box) => box.name)].filter((name) => name !== found.name);
    redraw();
  }

  /** Make a change; taps made meanwhile wait their turn, so none is lost and each sees what the one before it did. */
  function change(edit) {
    return inTurn(async () => {
      const asked = typeof edit === 'function' ? edit(found) : edit;
      if (!asked) return;
      try {
        job = await store.edit(job, { box: found.name, ...asked }, found.name);
      } catch (trouble) {
        queue.length = 0;
        if (trouble.kind === 'conflict') conflictDialog(trouble, job, undefined, async (current) => { if (await reload(current)) await change(edit); });
        else say(trouble.message, true);
        redraw(); // what was tapped shows again what is so
        return;
      }
      if (job.view) found = job.view;
      redraw();
      tell(spokenAnswer(found));
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
    job = saved;
    let why = `${here.box} is not in the job any more`;
    found = await ask('box', { sheet: job.sheet, box: here.box }).catch((trouble) => {
      if (trouble.kind === 'edition') why = trouble.message;
      return null;
    });
    if (!found) {
      location.hash = to.job(here.id);
      say(why, true);
      return false;
    }
    redraw();
    tell(spokenAnswer(found));
    return true;
  }

  const step = (back) => inTurn(async () => {
    try {
      if (await reload(await store.step(job, back))) say(back ? 'undone' : 'done again');
    } catch (trouble) {
      if (trouble.kind === 'conflict') conflictDialog(trouble, job);
      else say(trouble.message, true);
    }
  });

  const toggle = (name) => { open = open === name ? '' : name; redraw(); };

  // ---- what the box is ----------------------------------------------------------------------------------------------

  const base = () => found.items.find((item) => item.is === 'base')?.text ?? found.from_kind.find((text) => /^(square|octagon|device|masonry|fs|fd|marked|unmarked|inside|conduit)/.test(text));

  function baseCard() {
    const now = base();
    return el('section', { class: 'card', 'aria-labelledby': 'what', data: { key: 'card-what' } },
      el('h2', { id: 'what' }, 'What it is'),
      el('div', { class: 'row what' }, el('span', { class: 'grow' }, el('strong', {}, now ?? 'not said yet'), found.box_kind ? ` (${found.box_kind === '?' ? 'still to be chosen' : `kind ${found.box_kind}`})` : ''),
        button('Change', () => toggle('base'), { key: 'base', 'aria-label': 'Change what it is', 'aria-expanded': open === 'base' ? 'true' : 'false' }),
        button('Not known', () => { open = ''; change({ do: 'set-base', line: 'marked ? in3' }); }, { key: 'base-unknown', 'aria-label': 'What it is: not known', 'aria-pressed': /\?/.test(now ?? '') ? 'true' : 'false' })),
      open === 'base' ? baseChoices() : null);
  }

  function baseChoices() {
    const groups = [['square', 'Square'], ['octagon', 'Octagon'], ['device', 'Device box'], ['masonry', 'Masonry'], ['fs', 'FS'], ['fd', 'FD']];
    const use = () => {
      const value = document.getElementById('volume').value.trim();
      if (!NUMBER.test(value)) {
        say('type the cubic inches, such as 20.3');
        return;
      }
      open = '';
      change({ do: 'set-base', line: `marked ${value.replace(',', '.')} in3${plastic ? ' plastic' : ''}${gangs ? ` ${gangs}-gang` : ''}` });
    };
    return el('div', {},
      el('h3', {}, 'By the volume marked in it'),
      el('label', { for: 'volume' }, 'Cubic inches'), el('p', { class: 'small soft', id: 'volume-like' }, 'as it stands in the box, such as 20.3'),
      el('div', { class: 'row' }, el('input', { id: 'volume', inputmode: 'decimal', autocomplete: 'off', 'aria-describedby': 'volume-like', data: { key: 'volume' }, on: { keydown: (event) => { if (event.key === 'Enter') use(); } } }),
        button('Use it', use, { class: 'main', key: 'use-volume' })),
      el('div', { class: 'row' },
        el('label', { class: 'check' }, el('input', { id: 'plastic', type: 'checkbox', checked: plastic, data: { key: 'plastic' }, on: { change: (event) => { plastic = event.target.checked; } } }), 'plastic'),
        el('label', { for: 'gangs', class: 'beside' }, 'Gangs'),
        el('select', { id: 'gangs', data: { key: 'gangs' }, on: { change: (event) => { gangs = event.target.value; } } }, ['', '1', '2', '3', '4', '5', '6'].map((count) => el('option', { value: count, selected: count === gangs }, count || 'not said')))),
      el('h3', {}, 'Or a standard metal box'),
      groups.map(([shape, title]) => el('details', { open: shape === 'square', data: { key: `shape-${shape}` } }, el('summary', {}, title),
        el('div', { class: 'chips' }, words.boxes.filter((box) => box.line.startsWith(`${shape} `)).map((box) => button(`${box.line.slice(shape.length + 1)} · ${box.volume}`, () => {
          open = '';
          change({ do: 'set-base', line: box.line });
        }, { key: box.line, 'aria-label': `${title} ${box.line.slice(shape.length + 1)}, ${box.volume} cubic inches` }))))));
  }

  // ---- the sides of a divided box -----------------------------------------------------------------------------------

  /** The side that is tapped into; empty where no barrier divides the box. */
  const side = () => (found.spaces.includes(chosenSide) ? chosenSide : found.spaces[0] ?? '');
  const onSide = (name) => (name && found.spaces.length ? `${name}: ` : '');

  function sideCard() {
    if (!found.spaces.length) return null;
    return el('section', { class: 'card', 'aria-labelledby': 'sides', data: { key: 'card-sides' } },
      el('h2', { id: 'sides' }, 'Side of the barrier'),
      el('p', { class: 'small soft' }, 'What you tap goes to this side.'),
      el('div', { class: 'segments', role: 'group', 'aria-labelledby': 'sides' }, found.spaces.map((name) => button(name, () => { chosenSide = name; redraw(); }, { key: `side-${name}`, 'aria-pressed': name === side() ? 'true' : 'false' }))),
      el('p', {}, button('Remove the barrier', () => change({ do: 'remove-barrier' }), { key: 'remove-barrier', class: 'plain' })));
  }

  /** A barrier: what it is of, and how it shares out the box. By gangs where the box has several. */
  function barrierChoices() {
    const gangCount = Number(/(\d+)-gang|(\d+) ganged/.exec(base() ?? '')?.slice(1).find(Boolean) ?? 1);
    const gangsOf = (count) => `${count} ${count === 1 ? 'gang' : 'gangs'}`;
    const shares = [...Array.from({ length: gangCount - 1 }, (_, place) => [gangsOf(place + 1), gangsOf(gangCount - place - 1)]), ['1/2', '1/2'], ['1/3', '2/3'], ['2/3', '1/3']];
    const material = barrier || (/plastic/.test(base() ?? '') ? 'plastic' : 'metal');
    const make = ([left, right]) => { open = ''; change({ do: 'divide', way: material, how: `left ${left}, right ${right}` }); };
    return el('div', {},
      el('div', { class: 'segments', role: 'group', 'aria-label': 'The barrier is of' }, ['metal', 'plastic'].map((each) => button(each, () => { barrier = each; redraw(); }, { key: `barrier-${each}`, 'aria-pressed': each === material ? 'true' : 'false' }))),
      el('p', { class: 'small soft' }, 'Left and right of it; what is in the box now goes to the left.'),
      el('div', { class: 'chips' }, shares.map(([left, right]) => button(`${left} · ${right}`, () => make([left, right]), { key: `divide-${left}-${right}`, 'aria-label': `Left ${left}, right ${right}` }))));
  }

  // ---- cables -------------------------------------------------------------------------------------------------------

  function cablesCard() {
    return el('section', { class: 'card', 'aria-labelledby': 'cables', data: { key: 'card-cables' } },
      el('h2', { id: 'cables' }, 'Cables'),
      el('div', { class: 'row' },
        el('label', { for: 'far', class: 'beside' }, 'From'),
        el('select', { id: 'far', data: { key: 'far' }, on: { change: (event) => { far = event.target.value; } } }, [['?', 'not known where'], ...places.map((name) => [name, name])].map(([value, text]) => el('option', { value, selected: value === far }, text)))),
      el('p', { class: 'small soft' }, 'One tap brings one in.'),
      el('div', { class: 'chips' }, words.cables.map((cable) => button(`+ ${cable.replace(' nm-b', '')}`, () => bring(cable), { key: `add-${cable}`, 'aria-label': `Bring in one ${cable}` })),
        button('Other …', () => toggle('cable'), { key: 'other-cable', 'aria-label': 'Other cables', 'aria-expanded': open === 'cable' ? 'true' : 'false' })),
      open === 'cable' ? otherCable() : null,
      found.runs.length ? el('ul', { class: 'list', 'aria-labelledby': 'cables' }, found.runs.map(runRow)) : el('p', { class: 'soft' }, 'None yet.'));
  }

  const bring = (cable) => change({ do: 'add-cable', cable, to: far, space: side() });

  function otherCable() {
    const add = () => typed('cable', bring);
    return el('div', {},
      el('div', { class: 'chips' }, words.old_cables.map((cable) => button(`+ ${cable}`, () => bring(cable), { key: `add-${cable}`, 'aria-label': `Bring in one ${cable}` }))),
      el('label', { for: 'cable' }, 'Any other, as in a sheet'), el('p', { class: 'small soft', id: 'cable-like' }, 'such as 14/2 old, ground #16'),
      el('div', { class: 'row' }, el('input', { id: 'cable', autocomplete: 'off', autocapitalize: 'off', 'aria-describedby': 'cable-like', data: { key: 'cable-text' }, on: { keydown: (event) => { if (event.key === 'Enter') add(); } } }),
        button('Add', add, { class: 'main', key: 'add-cable', 'aria-label': 'Add this cable' })));
  }

  /** Use what is typed in a field; it is empty again once it was taken. */
  async function typed(id, use) {
    const field = document.getElementById(id);
    const value = field.value.trim();
    if (!value) {
      say('type it first');
      return;
    }
    const before = job;
    await use(value);
    if (job !== before && field.value.trim() === value) field.value = '';
  }

  function runRow(run) {
    // Taps follow one another: the line is looked up in what is there then, by its place and, after another window's change, by its words.
    const line = (now) => now.runs.find((other) => other.index === run.index && other.name === run.name && other.where === run.where && other.side === run.side) ?? now.runs.find((other) => other.text === run.text);
    const by = (more) => change((now) => {
      const same = line(now);
      return same && { do: 'run-count', index: same.index, count: Math.max(0, (same.count === '?' ? 1 : same.count) + more) };
    });
    const becomes = (how) => change((now) => {
      const same = line(now);
      return same && { do: 'run-here', index: same.index, how };
    });
    const here = run.here === 'landed' ? 'looped' : run.here;
    const whole = `${run.name} ${run.where}`;
    return el('li', { class: 'run', data: { key: `run-${run.index}` } },
      el('span', { class: 'grow' }, el('strong', {}, run.name), el('br'), el('span', { class: 'small soft' }, onSide(run.side), run.where, run.circuit ? ` · circuit ${run.circuit}` : '')),
      run.name === 'wires' ? button('Take out', () => change((now) => { const same = line(now); return same && { do: 'drop-run', index: same.index }; }), { key: `drop-run-${run.index}`, 'aria-label': `Take out ${whole}` })
        : el('span', { class: 'stepper', role: 'group', 'aria-label': whole }, button('−', () => by(-1), { key: `less-${run.index}`, 'aria-label': `One ${whole} less` }), el('span', { class: 'count' }, run.count), button('+', () => by(1), { key: `more-${run.index}`, 'aria-label': `One ${whole} more` })),
      el('select', { 'aria-label': `What becomes of ${whole}`, data: { key: `here-${run.index}` }, on: { change: (event) => becomes(event.target.value) } }, Object.entries(HERE_WORDS).map(([how, text]) => el('option', { value: how, selected: here === how }, text))));
  }

  // ---- what is in it ------------------------------------------------------------------------------------------------

  function contentsCard() {
    const items = found.items.filter((item) => item.is === 'device' || item.is === 'part' || item.is === 'other');
    const chosen = size ? ` #${size}` : '';
    const add = () => typed('line', (line) => change({ do: 'add-item', line, space: side() }));
    const takeOut = (item) => change((now) => {
      const alike = now.items.filter((other) => other.text === item.text && other.side === item.side);
      const same = alike.find((other) => other.index === item.index) ?? alike[0];
      return same && { do: 'drop-item', index: same.index };
    });
    return el('section', { class: 'card', 'aria-labelledby': 'contents', data: { key: 'card-contents' } },
      el('h2', { id: 'contents' }, 'In it'),
      el('p', { class: 'small', id: 'on-it' }, 'Largest wire on the device'),
      el('div', { class: 'segments', role: 'group', 'aria-labelledby': 'on-it' }, [['', 'Not known'], ...words.sizes.map((each) => [each, `#${each}`])].map(([value, text]) => button(text, () => { size = value; redraw(); }, { key: `size-${value}`, 'aria-pressed': size === value ? 'true' : 'false' }))),
      el('div', { class: 'chips' }, words.devices.map((device) => button(`+ ${device}`, () => change({ do: 'add-item', line: `${device}${chosen}`, space: side() }), { key: `add-${device}`, 'aria-label': `Add a ${device}${chosen}` })),
        button('+ ring or cover', () => toggle('ring'), { key: 'ring', 'aria-label': 'Add a ring or cover', 'aria-expanded': open === 'ring' ? 'true' : 'false' }),
        found.spaces.length || /^conduit/.test(base() ?? '') ? null : button('+ barrier', () => toggle('barrier'), { key: 'barrier', 'aria-label': 'Add a barrier', 'aria-expanded': open === 'barrier' ? 'true' : 'false' }),
        button('Other …', () => toggle('line'), { key: 'other-line', 'aria-label': 'Other contents', 'aria-expanded': open === 'line' ? 'true' : 'false' })),
      open === 'ring' ? ringChoices() : null,
      open === 'barrier' ? barrierChoices() : null,
      open === 'line' ? el('div', {}, el('label', { for: 'line' }, 'Any line of a sheet'), el('p', { class: 'small soft', id: 'line-like' }, 'such as fixture wires 2 x #16 from domed canopy'),
        el('div', { class: 'row' }, el('input', { id: 'line', autocomplete: 'off', autocapitalize: 'off', 'aria-describedby': 'line-like', data: { key: 'line' }, on: { keydown: (event) => { if (event.key === 'Enter') add(); } } }), button('Add', add, { class: 'main', key: 'add-line', 'aria-label': 'Add this line' }))) : null,
      items.length ? el('ul', { class: 'list' }, items.map((item) => el('li', { data: { key: `item-${item.index}` } }, el('span', { class: 'grow' }, onSide(item.side), item.text), button('Take out', () => takeOut(item), { key: `drop-${item.index}`, 'aria-label': `Take out ${onSide(item.side)}${item.text}` })))) : null,
      found.from_kind.length ? el('p', { class: 'small soft' }, `From its kind: ${found.from_kind.join('; ')}`) : null);
  }

  function ringChoices() {
    const kinds = ['plaster ring', 'raised cover', 'domed cover', 'extension ring'];
    const add = (kind, text) => { open = ''; change({ do: 'add-item', line: `${kind} ${text}` }); };
    const marked = (kind) => {
      const value = document.getElementById('ring-volume').value.trim();
      if (NUMBER.test(value)) add(kind, `${value.replace(',', '.')} in3`);
      else say('type the volume first');
    };
    return el('div', {},
      el('label', { for: 'ring-volume' }, 'Volume marked on it, cubic inches'), el('input', { id: 'ring-volume', inputmode: 'decimal', autocomplete: 'off', data: { key: 'ring-volume' } }),
      kinds.map((kind) => el('div', { class: 'row', role: 'group', 'aria-label': kind }, el('strong', { class: 'whole' }, kind),
        button('marked', () => marked(kind), { key: `${kind}-marked`, 'aria-label': `${kind}, marked` }),
        button('not marked', () => add(kind, 'unmarked'), { key: `${kind}-unmarked`, 'aria-label': `${kind}, not marked` }),
        button('not known', () => add(kind, '?'), { key: `${kind}-unknown`, 'aria-label': `${kind}, not known` }))));
  }

  function clampsCard() {
    const now = found.clamps[''] ?? found.clamps[side()]; // a line above the sides is of them all
    return el('section', { class: 'card', 'aria-labelledby': 'clamps', data: { key: 'card-clamps' } },
      el('h2', { id: 'clamps' }, 'Cable clamps'),
      el('div', { class: 'segments', role: 'group', 'aria-labelledby': 'clamps' }, words.clamps.map((way) => button(CLAMP_WORDS[way], () => change({ do: 'set-clamps', way, space: side() }), { key: `clamps-${way}`, 'aria-pressed': (now ?? '?') === way ? 'true' : 'false' }))));
  }

  // ---- asked for ----------------------------------------------------------------------------------------------------

  async function fitsDialog() {
    try {
      const answer = await ask('fits', { sheet: job.sheet, box: side() ? `${found.name}/${side()}` : found.name });
      dialog(`What else fits in ${answer.box}`, el('table', {}, el('thead', {}, el('tr', {}, el('th', { scope: 'col' }, 'One kind at a time'), el('th', { scope: 'col', class: 'num' }, 'More'))), el('tbody', {}, answer.more.map((fit) => el('tr', {}, el('td', {}, fit.what), el('td', { class: 'num' }, fit.text))))), standing(answer.caution));
    } catch (trouble) {
      say(trouble.message, true);
    }
  }

  async function remediesDialog() {
    try {
      const answer = await ask('remedies', { sheet: job.sheet, box: found.name, stock: await store.stock() });
      dialog(`What would put ${found.name} right`,
        answer.verdict === 'passes' ? el('p', {}, 'It passes as it is.') : null,
        answer.first_find_out ? el('p', { class: 'notice' }, el('strong', {}, 'First go and find out: '), answer.first_find_out.question, ' ', el('span', { class: 'soft' }, answer.first_find_out.settles)) : null,
        answer.nothing_helps ? [el('p', {}, 'Nothing in the stock helps:'), el('ul', {}, answer.nothing_helps.reasons.map((reason) => el('li', {}, reason)))] : null,
        answer.remedies.map((remedy, rank) => el('section', { class: 'card' },
          el('h3', {}, `${rank + 1}. ${remedy.what}`),
          el('p', {}, `${remedy.cost} ${answer.currency}: parts ${remedy.price}, ${Math.round(remedy.minutes)} min; disturbs: ${remedy.disturbs}; leaves ${remedy.margin} in³`),
          remedy.taken_for_granted.length ? el('p', { class: 'small soft' }, `Taken for granted: ${remedy.taken_for_granted.join('; ')}`) : null,
          remedy.picture ? el('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': `Before and after: ${remedy.what}` }, picture(remedy.picture)) : null,
          button('Do this', async () => {
            try {
              const after = await ask('apply', { sheet: job.sheet, box: found.name, stock: await store.stock(), choose: rank + 1 });
              const saved = await store.save(job, after.sheet, `remedy: ${remedy.what}`);
              closeDialog();
              if (await reload(saved)) say('done; Undo brings it back');
            } catch (trouble) {
              closeDialog();
              if (trouble.kind === 'conflict') conflictDialog(trouble, job);
              else say(trouble.message, true);
            }
          }, { class: 'main', key: `do-${rank}`, 'aria-label': `Do this: ${remedy.what}` }))),
        standing(answer.caution));
    } catch (trouble) {
      say(trouble.message, true);
    }
  }

  /** The room to scale: beside its rows on a phone, with its words in it where there is width for them, which two cases seldom have. */
  function roomsCard() {
    if (isEmpty(found)) return null;
    const fills = found.findings.filter((finding) => finding.worksheet);
    const [wide, narrow] = ['room', 'outline'].map((what) => found.pictures.filter((each) => each.what === what));
    const both = (place) => (fills[place]?.worst_case ? ' both' : '');
    return [
      narrow.map((each, place) => el('section', { class: `rooms narrow${both(place)}`, 'aria-label': each.title, data: { key: `narrow-${place}` } }, picture(each), fills[place] ? rowsBeside(fills[place], found.edition.year) : null)),
      wide.map((each, place) => el('div', { class: `scroll rooms broad${both(place)}`, data: { key: `broad-${place}` }, tabindex: 0, role: 'region', 'aria-label': each.title }, picture(each))),
    ];
  }

  const worksheetDialog = () => dialog(`Worksheet of ${found.name}`, worksheetView(found), standing(found.caution));

  function picturesCard() {
    const [rooms, others] = ['room', 'entering'].map((what) => found.pictures.filter((each) => each.what === what));
    return el('section', { class: 'card', data: { key: 'card-pictures' } }, el('h2', {}, 'What enters it'),
      others.map((each) => el('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': each.title }, picture(each))),
      el('div', { class: 'row' }, [...rooms, ...others].map((each) => button(`Save: ${each.title}`, () => download(`${each.title}.svg`, 'svg', each.svg), { class: 'plain', key: `save-${each.title}` }))));
  }

  async function addPhoto(event) {
    const files = [...event.target.files];
    event.target.value = '';
    for (const file of files) {
      say('making the photograph smaller …', true);
      try {
        await store.addPhoto(here.id, found.name, file);
        say('the photograph is kept with the box');
      } catch (trouble) {
        say(`${file.name}: ${trouble.message ?? 'cannot be read'}`, true);
      }
    }
    images = await store.photos(here.id, found.name).catch(() => images);
    redraw();
  }

  async function dropPhoto(photo) {
    try {
      await store.dropPhoto(photo);
      images = images.filter((other) => other.id !== photo.id);
      redraw();
      say('the photograph is taken out');
    } catch (trouble) {
      say(trouble.message, true);
    }
  }

  function photosCard() {
    return el('section', { class: 'card', data: { key: 'card-photos' } }, el('h2', {}, 'Photographs'),
      el('label', { class: 'button', for: 'photo' }, 'Take or add one'),
      el('input', { id: 'photo', type: 'file', accept: 'image/*', multiple: true, class: 'unseen', on: { change: addPhoto } }),
      el('p', { class: 'small soft' }, 'Made smaller and stripped of place and camera; they go into the packet.'),
      el('div', { class: 'photos' }, images.map((photo, place) => el('figure', { data: { key: `figure-${photo.id}` } }, el('img', { src: photo.url, alt: `Photograph ${place + 1} of ${found.name}` }),
        button('Take out', () => dropPhoto(photo), { key: `photo-${photo.id}`, 'aria-label': `Take out photograph ${place + 1}` })))));
  }

  const dropBox = () => inTurn(async () => {
    try {
      await store.edit(job, { do: 'drop-box', box: found.name }, '');
      location.hash = to.job(here.id);
      say(`${found.name} is out; Undo brings it back`);
    } catch (trouble) {
      if (trouble.kind === 'conflict') conflictDialog(trouble, job);
      else say(trouble.message, true);
    }
  });

  return {
    load,
    title: () => `${here.box} · ${job.title}`,
    meanwhile: () => (state.server ? null : el('p', {}, 'The sheet can be read and changed meanwhile: ', link('open the sheet', to.job(here.id, 'sheet')))),
    draw: () => found && [
      head(to.job(here.id), 'All boxes of the job', found.name, [found.at, found.edition.title].filter(Boolean).join(' · '), shortAnswer(found)),
      el('main', { id: 'main', tabindex: -1, class: 'wide' },
        starting(),
        found.faults ? el('p', { class: 'notice' }, linesUnread(found.faults), link('Look', to.job(here.id, 'sheet'))) : null,
        job.conflict ? el('p', { class: 'notice' }, 'Changed here and on the server. ', button('Look', () => waitingConflict(job), { key: 'conflict', 'aria-label': 'Look at both' })) : null,
        el('div', { class: 'bench' },
          el('div', { class: 'seen' },
            answerCard(found),
            isEmpty(found) ? null : el('div', { class: 'asked' }, button('What else fits', fitsDialog, { key: 'fits' }), button('Remedies', remediesDialog, { key: 'remedies' }), button('Worksheet', worksheetDialog, { key: 'worksheet' })),
            roomsCard(), factsCard(found)),
          el('div', { class: 'set' }, baseCard(), sideCard(), cablesCard(), contentsCard(), clampsCard()),
          el('div', { class: 'beside' }, remindersCard(found), isEmpty(found) ? null : picturesCard(), photosCard())),
        el('p', {}, button('Take this box out of the job', dropBox, { class: 'plain', key: 'drop-box' })),
        standing(found.caution)),
      undoBar(job, step),
    ],
  };
}
