// Rule pages: of one rule, of a disputed point, of what standard boxes hold; and the box in which to look one up.
import { ask } from './ask.js';
import { button, dialog, el, sayTrouble, sentence, units } from './dom.js';
import { partsList, sumWords } from './lines.js';

/** What stands beside a value: nothing, unless it rests on less than a printed source. */
const mark = (confidence) => (['two sources', 'one source', 'computed'].includes(confidence) ? '' : ` (${confidence})`);

const sized = (size) => `#${size}`;

/** A box's name that breaks after its shape only. */
const unbroken = (name) => name.replaceAll(' x ', '\u00a0x\u00a0').replaceAll('-', '\u2011');

/** What a name, a word of the trade or a code section means, over whatever is shown. */
export async function ruleDialog(name, edition) {
  try {
    const found = await ask('rule', { name, edition });
    dialog(found.title, view(found, edition));
  } catch (trouble) {
    sayTrouble(trouble);
  }
}

function view(found, edition) {
  if (found.pages) return links(found.pages, edition);
  if (found.boxes) return boxTable(found);
  if (found.choices) return point(found);
  if (found.readings && !found.example) return found.readings.filter((reading) => reading.judged).map((reading) => [el('h3', {}, reading.name), el('p', {}, sentence(reading.asks)), choices(reading)]);
  return rulePage(found, edition);
}

const links = (pages, edition) => el('ul', {}, pages.map((page) => el('li', {}, button(sentence(page.title), () => ruleDialog(page.name, edition), { class: 'plain', key: `rule-page-${page.name}` }))));

function rulePage(rule, edition) {
  return [
    rule.sections.length ? el('p', { class: 'small soft' }, `Code section: ${rule.sections.join('; ')}`) : null,
    rule.says.map((words) => el('p', {}, units(words))),
    el('p', {}, el('strong', {}, 'Why: '), units(rule.why)),
    el('h3', {}, 'By edition'),
    el('ul', {}, rule.editions.map((period) => el('li', {}, el('strong', {}, `${period.label}: `), units(period.text), period.mark ? ` ${period.mark}` : ''))),
    rule.provisional ? el('p', { class: 'small soft' }, rule.provisional) : null,
    Object.keys(rule.allowances).length ? el('p', { class: 'small' }, `One allowance by conductor size, ${rule.example.edition}, in in³: ${rule.allowance_sizes.map((size) => `${sized(size)} ${rule.allowances[size]}`).join(', ')}`) : null,
    example(rule.example),
    rule.readings.length ? [el('h3', {}, 'Disputed points'), links(rule.readings, edition)] : null,
    el('details', { data: { key: 'rule-sources' } }, el('summary', {}, 'How sure, and sources'),
      el('ul', { class: 'small' }, rule.sure.map((one) => el('li', {}, `${one.cite}, ${one.label}: ${one.confidence}`))),
      el('ul', { class: 'small' }, rule.sources.map((source) => el('li', {}, source)))),
    el('p', { class: 'small soft' }, rule.caution),
  ];
}

function example(shown) {
  const told = [
    ...shown.lines.map((line) => [units(`${line.label}: ${sumWords(line)}. ${sentence(line.why)}, ${line.cite}${mark(line.confidence)}`), partsList(line)]),
    ...shown.findings.map((finding) => units(`${sentence(finding.verdict)}: ${finding.message} (${finding.cite})${mark(finding.confidence)}`)),
    ...shown.reminders.map((reminder) => `${sentence(reminder.text)} (${reminder.cite})${mark(reminder.confidence)}`),
  ];
  return [
    el('h3', {}, `Example, ${shown.edition} edition`),
    el('pre', { class: 'side', tabindex: 0, role: 'region', 'aria-label': 'Example sheet' }, shown.sheet),
    told.length ? el('ul', {}, told.map((words) => el('li', {}, units(words)))) : el('p', {}, `The ${shown.edition} edition has no such rule.`),
  ];
}

const choices = (reading) => el('ul', {}, Object.entries(reading.choices).map(([choice, means]) => el('li', {}, el('strong', {}, choice), choice === reading.default ? ' (default)' : '', units(`: ${means}.`))));

function point(reading) {
  return [
    el('p', {}, sentence(reading.asks)),
    choices(reading),
    el('details', { data: { key: 'point-sources' } }, el('summary', {}, 'Discussed in'), el('ul', { class: 'small' }, reading.sources.map((source) => el('li', {}, source)))),
    el('p', { class: 'small soft' }, reading.caution),
  ];
}

function boxTable(table) {
  return [
    el('p', { class: 'small soft' }, `${table.edition} edition. Code section: ${table.cites.join('; ')}`),
    el('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': table.title }, el('table', {},
      el('thead', {}, el('tr', {}, el('th', { scope: 'col' }, 'Box'), el('th', { scope: 'col', class: 'num' }, 'in³'), table.sizes.map((size) => el('th', { scope: 'col', class: 'num' }, sized(size))))),
      el('tbody', {}, table.boxes.map((row) => el('tr', {}, el('th', { scope: 'row' }, `${unbroken(row.box)}${row.per_gang ? '*' : ''}${row.confidence === 'from memory' ? ' (from memory)' : ''}`), el('td', { class: 'num' }, row.volume), table.sizes.map((size) => el('td', { class: 'num' }, String(row.holds[size])))))))),
    table.notes.map((words) => el('p', { class: 'small' }, units(words))),
    el('p', { class: 'small soft' }, table.caution),
  ];
}

/** Where a rule is looked up by a word, a section or a name. */
export function ruleBox() {
  const look = (event) => {
    event.preventDefault();
    const word = event.target.elements.rule.value.trim();
    if (word) ruleDialog(word);
  };
  return el('form', { class: 'card', data: { key: 'rule-box' }, on: { submit: look } },
    el('label', { for: 'rule' }, 'Look up a rule: a word such as grounds, or a code section'),
    el('div', { class: 'row' },
      el('input', { id: 'rule', name: 'rule', class: 'grow', maxlength: 80, autocomplete: 'off', autocapitalize: 'none', data: { key: 'rule-word' } }),
      el('button', { type: 'submit', data: { key: 'look-up-rule' } }, 'Look up')),
    el('div', { class: 'row' },
      button('What standard boxes hold', () => ruleDialog('box'), { class: 'plain', key: 'rule-boxes' }),
      button('Disputed points', () => ruleDialog('disputed'), { class: 'plain', key: 'rule-disputed' })));
}
