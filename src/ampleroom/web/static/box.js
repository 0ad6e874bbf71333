// One box, by touch: what it is, what comes in, what is in it; the verdict changes with every tap.
import { modeWords, to } from './app.js';
import { ask } from './ask.js';
import { conflictDialog, waitingConflict } from './conflict.js';
import { button, dialog, download, el, link, picture, say } from './dom.js';
import * as store from './store.js';
import { answerCard, factsCard, remindersCard, rowsBeside, shortAnswer, standing, worksheetView } from './worksheet.js';

let words = null;
const CLAMP_WORDS = { inside: 'Inside', outside: 'Outside', tabs: 'Plastic tabs', none: 'None', '?': 'Not known' };
const HERE_WORDS = { ends: 'ends here', passes: 'passes through', looped: 'passes, looped' };

export function boxView(here, redraw) {
  let job = null;
  let found = null;
  let places = [];
  let open = '';
  let size = '';
  let far = '?';
  let side = '';
  let images = [];
  let busy = false;
  const queue = [];

  async function load() {
    words ??= await ask('words');
    job = await store.get(here.id);
    const [view, whole, photos] = await Promise.all([
      ask('box', { sheet: job.sheet, box: here.box }),
      ask('job', { sheet: job.sheet }),
      store.photos(here.id, here.box).catch(() => []),
    ]);
    found = view;
    images = photos;
    places = [...whole.panels, ...whole.boxes.map((box) => box.name)].filter((name) => name !== found.name);
    if (job.conflict) waitingConflict(job);
  }

  /** Make a change; taps made meanwhile wait their turn, so none is lost and each sees what the one before it did. */
  function change(edit) {
    queue.push(edit);
    work();
  }

  async function work() {
    if (busy) return;
    busy = true;
    while (queue.length) {
      const next = queue.shift();
      const edit = typeof next === 'function' ? next(found) : next;
      if (!edit) continue;
      try {
        const answer = await store.edit(job, { box: found.name, ...edit }, found.name);
        job = answer;
        if (answer.view) found = answer.view;
        redraw();
      } catch (trouble) {
        queue.length = 0;
        if (trouble.kind === 'conflict') conflictDialog(trouble, job, undefined, async (current) => { job = current; await reload(current); change(edit); });
        else say(trouble.message, true);
      }
    }
    busy = false;
  }

  async function reload(saved) {
    job = saved;
    const again = await ask('box', { sheet: job.sheet, box: here.box }).catch(() => null);
    if (!again) {
      location.hash = to.job(here.id);
      return;
    }
    found = again;
    redraw();
  }

  async function step(back) {
    try {
      await reload(await store.step(job, back));
      say(back ? 'undone' : 'done again');
    } catch (trouble) {
      if (trouble.kind === 'conflict') conflictDialog(trouble, job);
      else say(trouble.message, true);
    }
  }

  const toggle = (name) => { open = open === name ? '' : name; redraw(); };

  // ---- what the box is ----------------------------------------------------------------------------------------------

  const base = () => found.items.find((item) => item.is === 'base')?.text ?? found.from_kind.find((text) => /^(square|octagon|device|masonry|fs|fd|marked|unmarked|inside|conduit)/.test(text));

  function baseCard() {
    const now = base();
    return el('section', { class: 'card', 'aria-labelledby': 'what' },
      el('h2', { id: 'what' }, 'What it is'),
      el('div', { class: 'row' }, el('span', { class: 'grow' }, el('strong', {}, now ?? 'not said yet'), found.kind ? ` (${found.kind === '?' ? 'still to be chosen' : `kind ${found.kind}`})` : ''),
        button(open === 'base' ? 'Close' : 'Change', () => toggle('base'), { key: 'base', 'aria-expanded': open === 'base' ? 'true' : 'false' }),
        button('Not known', () => change({ do: 'set-base', line: 'marked ? in3' }), { key: 'base-unknown', 'aria-pressed': /\?/.test(now ?? '') ? 'true' : 'false' })),
      open === 'base' ? baseChoices() : null);
  }

  function baseChoices() {
    const groups = [['square', 'Square'], ['octagon', 'Octagon'], ['device', 'Device box'], ['masonry', 'Masonry'], ['fs', 'FS'], ['fd', 'FD']];
    const volume = el('input', { id: 'volume', inputmode: 'decimal', placeholder: '20.3', autocomplete: 'off', data: { key: 'volume' } });
    const plastic = el('input', { id: 'plastic', type: 'checkbox', checked: true });
    const gangs = el('select', { id: 'gangs' }, ['', '1', '2', '3', '4', '5', '6'].map((count) => el('option', { value: count }, count || 'not said')));
    return el('div', {},
      el('h3', {}, 'By the volume marked in it'),
      el('div', { class: 'row' }, el('label', { class: 'unseen', for: 'volume' }, 'Volume in cubic inches'), volume,
        button('Use it', () => {
          const value = volume.value.trim().replace(',', '.');
          if (!/^\d+(\.\d+)?$/.test(value)) return say('type the cubic inches, such as 20.3');
          open = '';
          return change({ do: 'set-base', line: `marked ${value} in3${plastic.checked ? ' plastic' : ''}${gangs.value ? ` ${gangs.value}-gang` : ''}` });
        }, { class: 'main', key: 'use-volume' })),
      el('div', { class: 'row' }, el('label', { class: 'check' }, plastic, 'plastic'), el('label', { for: 'gangs', class: 'unseen' }, 'Gangs'), gangs),
      el('h3', {}, 'Or a standard metal box'),
      groups.map(([shape, title]) => el('details', { open: shape === 'square' }, el('summary', {}, title),
        el('div', { class: 'chips' }, words.boxes.filter((box) => box.line.startsWith(`${shape} `)).map((box) => button(`${box.line.slice(shape.length + 1)} · ${box.volume}`, () => {
          open = '';
          change({ do: 'set-base', line: box.line });
        }, { key: box.line, 'aria-label': `${title} ${box.line.slice(shape.length + 1)}, ${box.volume} cubic inches` }))))));
  }

  // ---- cables -------------------------------------------------------------------------------------------------------

  function cablesCard() {
    return el('section', { class: 'card', 'aria-labelledby': 'cables' },
      el('h2', { id: 'cables' }, 'Cables'),
      el('p', { class: 'small soft' }, 'One tap brings one in.'),
      el('div', { class: 'chips' }, words.cables.map((cable) => button(`+ ${cable.replace(' nm-b', '')}`, () => change({ do: 'add-cable', cable, to: far, space: side }), { key: `add-${cable}`, 'aria-label': `Bring in one ${cable}` })),
        button('Other …', () => toggle('cable'), { key: 'other-cable', 'aria-expanded': open === 'cable' ? 'true' : 'false' })),
      open === 'cable' ? otherCable() : null,
      el('div', { class: 'row' },
        el('label', { for: 'far', class: 'small' }, 'They come from'),
        el('select', { id: 'far', data: { key: 'far' }, on: { change: (event) => { far = event.target.value; } } }, [['?', 'not known'], ...places.map((name) => [name, name])].map(([value, text]) => el('option', { value, selected: value === far }, text))),
        found.spaces.length ? [el('label', { for: 'side', class: 'small' }, 'on side'), el('select', { id: 'side', on: { change: (event) => { side = event.target.value; } } }, found.spaces.map((name) => el('option', { value: name, selected: name === side }, name)))] : null),
      found.runs.length ? el('ul', { class: 'list' }, found.runs.map(runRow)) : el('p', { class: 'soft' }, 'None yet.'));
  }

  function otherCable() {
    const field = el('input', { id: 'cable', autocomplete: 'off', autocapitalize: 'off', placeholder: '14/2 old, ground #16', data: { key: 'cable-text' } });
    return el('div', {},
      el('div', { class: 'chips' }, words.old_cables.map((cable) => button(`+ ${cable}`, () => change({ do: 'add-cable', cable, to: far, space: side }), { key: `add-${cable}` }))),
      el('label', { for: 'cable' }, 'Any other, as in a sheet'),
      el('div', { class: 'row' }, field, button('Add', () => { if (field.value.trim()) change({ do: 'add-cable', cable: field.value, to: far, space: side }); }, { class: 'main', key: 'add-cable' })));
  }

  function runRow(run) {
    const less = () => change((now) => { const same = now.runs.find((other) => other.index === run.index); return same && { do: 'run-count', index: same.index, count: Math.max(0, (same.count === '?' ? 1 : same.count) - 1) }; });
    const more = () => change((now) => { const same = now.runs.find((other) => other.index === run.index); return same && { do: 'run-count', index: same.index, count: (same.count === '?' ? 1 : same.count) + 1 }; });
    const here = run.here === 'landed' ? 'looped' : run.here;
    return el('li', { class: 'run' },
      el('span', { class: 'grow' }, el('strong', {}, run.name), el('br'), el('span', { class: 'small soft' }, run.where, run.circuit ? ` · circuit ${run.circuit}` : '')),
      run.name === 'wires' ? button('Take out', () => change({ do: 'drop-run', index: run.index }), { key: `drop-run-${run.index}` })
        : el('span', { class: 'stepper' }, button('−', less, { key: `less-${run.index}`, 'aria-label': `One ${run.name} ${run.where} less` }), el('span', { class: 'count' }, run.count), button('+', more, { key: `more-${run.index}`, 'aria-label': `One ${run.name} ${run.where} more` })),
      el('select', { 'aria-label': `What becomes of ${run.name} ${run.where}`, data: { key: `here-${run.index}` }, on: { change: (event) => change({ do: 'run-here', index: run.index, how: event.target.value }) } }, Object.entries(HERE_WORDS).map(([how, text]) => el('option', { value: how, selected: here === how }, text))));
  }

  // ---- what is in it ------------------------------------------------------------------------------------------------

  function contentsCard() {
    const items = found.items.filter((item) => item.is === 'device' || item.is === 'part' || item.is === 'other');
    const chosen = size ? ` #${size}` : '';
    const field = el('input', { id: 'line', autocomplete: 'off', autocapitalize: 'off', placeholder: 'fixture wires 2 x #16 from domed canopy', data: { key: 'line' } });
    return el('section', { class: 'card', 'aria-labelledby': 'contents' },
      el('h2', { id: 'contents' }, 'In it'),
      el('p', { class: 'small', id: 'on-it' }, 'Largest wire on the device'),
      el('div', { class: 'segments', role: 'group', 'aria-labelledby': 'on-it' }, [['', 'Not known'], ...words.sizes.map((each) => [each, `#${each}`])].map(([value, text]) => button(text, () => { size = value; redraw(); }, { key: `size-${value}`, 'aria-pressed': size === value ? 'true' : 'false' }))),
      el('div', { class: 'chips' }, words.devices.map((device) => button(`+ ${device}`, () => change({ do: 'add-item', line: `${device}${chosen}` }), { key: `add-${device}`, 'aria-label': `Add a ${device}${chosen}` })),
        button('+ ring or cover', () => toggle('ring'), { key: 'ring', 'aria-expanded': open === 'ring' ? 'true' : 'false' }),
        button('Other …', () => toggle('line'), { key: 'other-line', 'aria-expanded': open === 'line' ? 'true' : 'false' })),
      open === 'ring' ? ringChoices() : null,
      open === 'line' ? el('div', {}, el('label', { for: 'line' }, 'Any line of a sheet'), el('div', { class: 'row' }, field, button('Add', () => { if (field.value.trim()) change({ do: 'add-item', line: field.value }); }, { class: 'main', key: 'add-line' }))) : null,
      items.length ? el('ul', { class: 'list' }, items.map((item) => el('li', {}, el('span', { class: 'grow' }, item.text), button('Take out', () => change({ do: 'drop-item', index: item.index }), { key: `drop-${item.index}`, 'aria-label': `Take out ${item.text}` })))) : null,
      found.from_kind.length ? el('p', { class: 'small soft' }, `From its kind: ${found.from_kind.join('; ')}`) : null);
  }

  function ringChoices() {
    const volume = el('input', { id: 'ring-volume', inputmode: 'decimal', placeholder: '3.5', autocomplete: 'off', data: { key: 'ring-volume' } });
    const kinds = ['plaster ring', 'raised cover', 'domed cover', 'extension ring'];
    const add = (kind, text) => { open = ''; change({ do: 'add-item', line: `${kind} ${text}` }); };
    return el('div', {},
      el('label', { for: 'ring-volume' }, 'Volume marked on it, cubic inches'), volume,
      kinds.map((kind) => el('div', { class: 'row' }, el('strong', { class: 'grow' }, kind),
        button('marked', () => (/^\d+(\.\d+)?$/.test(volume.value.trim()) ? add(kind, `${volume.value.trim()} in3`) : say('type the volume first')), { key: `${kind}-marked`, 'aria-label': `${kind}, marked` }),
        button('not marked', () => add(kind, 'unmarked'), { key: `${kind}-unmarked`, 'aria-label': `${kind}, not marked` }),
        button('not known', () => add(kind, '?'), { key: `${kind}-unknown`, 'aria-label': `${kind}, not known` }))));
  }

  function clampsCard() {
    const now = found.items.find((item) => item.is === 'clamps')?.way ?? found.from_kind.find((text) => text.startsWith('clamps '))?.slice(7);
    return el('section', { class: 'card', 'aria-labelledby': 'clamps' },
      el('h2', { id: 'clamps' }, 'Cable clamps'),
      el('div', { class: 'segments', role: 'group', 'aria-labelledby': 'clamps' }, words.clamps.map((way) => button(CLAMP_WORDS[way], () => change({ do: 'set-clamps', way }), { key: `clamps-${way}`, 'aria-pressed': (now ?? '?') === way ? 'true' : 'false' }))));
  }

  // ---- asked for ----------------------------------------------------------------------------------------------------

  async function fitsDialog() {
    try {
      const answer = await ask('fits', { sheet: job.sheet, box: side ? `${found.name}/${side}` : found.spaces[0] ? `${found.name}/${found.spaces[0]}` : found.name });
      dialog(`What else fits in ${found.name}`, el('table', {}, el('thead', {}, el('tr', {}, el('th', { scope: 'col' }, 'One kind at a time'), el('th', { scope: 'col', class: 'num' }, 'More'))), el('tbody', {}, answer.more.map((fit) => el('tr', {}, el('td', {}, fit.what), el('td', { class: 'num' }, fit.text))))), standing(answer.caution));
    } catch (trouble) {
      say(trouble.message, true);
    }
  }

  async function remediesDialog() {
    try {
      const answer = await ask('remedies', { sheet: job.sheet, box: found.name, stock: await store.stock() });
      const close = () => document.getElementById('dialog').close();
      dialog(`What would put ${found.name} right`,
        answer.verdict === 'passes' ? el('p', {}, 'It passes as it is.') : null,
        answer.first_find_out ? el('p', { class: 'notice' }, el('strong', {}, 'First go and find out: '), answer.first_find_out.question, ' ', el('span', { class: 'soft' }, answer.first_find_out.settles)) : null,
        answer.nothing_helps ? [el('p', {}, 'Nothing in the stock helps:'), el('ul', {}, answer.nothing_helps.reasons.map((reason) => el('li', {}, reason)))] : null,
        answer.remedies.map((remedy, rank) => el('section', { class: 'card' },
          el('h3', {}, `${rank + 1}. ${remedy.what}`),
          el('p', {}, `${remedy.cost} ${answer.currency}: parts ${remedy.price}, ${Math.round(remedy.minutes)} min; disturbs: ${remedy.disturbs}; leaves ${remedy.margin} in³`),
          remedy.taken_for_granted.length ? el('p', { class: 'small soft' }, `Taken for granted: ${remedy.taken_for_granted.join('; ')}`) : null,
          remedy.picture ? el('div', { class: 'scroll' }, picture(remedy.picture)) : null,
          button('Do this', async () => {
            try {
              const after = await ask('apply', { sheet: job.sheet, box: found.name, stock: await store.stock(), choose: rank + 1 });
              close();
              await reload(await store.save(job, after.sheet, `remedy: ${remedy.what}`));
              say('done; Undo brings it back');
            } catch (trouble) {
              if (trouble.kind === 'conflict') conflictDialog(trouble, job);
              else say(trouble.message, true);
            }
          }, { class: 'main', key: `do-${rank}`, 'aria-label': `Do this: ${remedy.what}` }))),
        standing(answer.caution));
    } catch (trouble) {
      say(trouble.message, true);
    }
  }

  /** The room to scale: beside its rows on a phone, with its words in it where there is width for them. */
  function roomsCard() {
    const fills = found.findings.filter((finding) => finding.worksheet && finding.unit === 'in3');
    const [wide, narrow] = ['room', 'outline'].map((what) => found.pictures.filter((each) => each.what === what));
    return [
      narrow.map((each, place) => el('section', { class: 'rooms narrow', 'aria-label': each.title }, picture(each), fills[place] ? rowsBeside(fills[place]) : null)),
      wide.map((each) => el('div', { class: 'scroll rooms broad', data: { scroll: each.title }, tabindex: 0, role: 'region', 'aria-label': each.title }, picture(each))),
    ];
  }

  const worksheetDialog = () => dialog(`Worksheet of ${found.name}`, worksheetView(found), standing(found.caution));

  function picturesCard() {
    const [rooms, others] = ['room', 'entering'].map((what) => found.pictures.filter((each) => each.what === what));
    return el('section', { class: 'card' }, el('h2', {}, 'Pictures'),
      others.map((each) => el('div', { class: 'scroll', data: { scroll: 'entering' }, tabindex: 0, role: 'region', 'aria-label': each.title }, picture(each))),
      el('div', { class: 'row' }, [...rooms, ...others].map((each) => button(`Save: ${each.title}`, () => download(`${each.title}.svg`, 'svg', each.svg), { class: 'plain', key: `save-${each.title}` }))));
  }

  async function addPhoto(event) {
    for (const file of event.target.files) {
      try {
        await store.addPhoto(here.id, found.name, file);
      } catch (trouble) {
        say(`${file.name}: ${trouble.message ?? 'cannot be read'}`, true);
      }
    }
    images = await store.photos(here.id, found.name).catch(() => images);
    redraw();
  }

  function photosCard() {
    return el('section', { class: 'card' }, el('h2', {}, 'Photographs'),
      el('label', { class: 'button', for: 'photo' }, 'Take or add one'),
      el('input', { id: 'photo', type: 'file', accept: 'image/*', multiple: true, class: 'unseen', on: { change: addPhoto } }),
      el('p', { class: 'small soft' }, 'Made smaller and stripped of place and camera; they go into the packet.'),
      el('div', { class: 'photos' }, images.map((photo, place) => el('figure', {}, el('img', { src: photo.url, alt: `Photograph ${place + 1} of ${found.name}` }),
        button('Take out', async () => { await store.dropPhoto(photo); images = images.filter((other) => other !== photo); redraw(); }, { key: `photo-${photo.id}`, 'aria-label': `Take out photograph ${place + 1}` })))));
  }

  return {
    load,
    title: () => `${here.box} · ${job?.title ?? ''}`,
    draw: () => [
      el('header', { class: 'top' }, link('‹', to.job(here.id), { class: 'button back', 'aria-label': 'All boxes of the job' }),
        el('div', { class: 'name' }, el('h1', {}, found.name), el('span', { class: 'small soft' }, [found.at, found.edition.title].filter(Boolean).join(' · '))), shortAnswer(found), modeWords()),
      el('main', { id: 'main', tabindex: -1, class: 'wide' },
        found.faults ? el('p', { class: 'notice' }, `${found.faults} lines of the sheet cannot be read. `, link('Look', to.job(here.id, 'sheet'))) : null,
        job.conflict ? el('p', { class: 'notice' }, 'Changed here and on the server. ', button('Look', () => waitingConflict(job), { key: 'conflict' })) : null,
        el('div', { class: 'bench' },
          el('div', { class: 'seen' },
            answerCard(found),
            el('div', { class: 'row' }, button('What else fits', fitsDialog, { key: 'fits' }), button('Remedies', remediesDialog, { key: 'remedies' }), button('Worksheet', worksheetDialog, { key: 'worksheet' })),
            roomsCard(), factsCard(found)),
          el('div', { class: 'set' }, baseCard(), cablesCard(), contentsCard(), clampsCard()),
          el('div', { class: 'beside' }, remindersCard(found), picturesCard(), photosCard())),
        el('p', {}, button('Take this box out of the job', async () => {
          try {
            await store.edit(job, { do: 'drop-box', box: found.name }, '');
            location.hash = to.job(here.id);
            say(`${found.name} is out; Undo brings it back`);
          } catch (trouble) {
            say(trouble.message, true);
          }
        }, { class: 'plain', key: 'drop-box' })),
        standing(found.caution)),
      el('footer', { class: 'bar' }, button('↶ Undo', () => step(true), { key: 'undo', disabled: !job.can_undo }), button('↷ Redo', () => step(false), { key: 'redo', disabled: !job.can_redo })),
    ],
  };
}
