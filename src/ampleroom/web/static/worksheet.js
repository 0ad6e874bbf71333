// Findings, worksheets and rules, in the words the command line uses.
import { button, el, linesUnread, units, verdict, verdictClass, verdictWord } from './dom.js';
import { steps } from './lines.js';
import { ruleDialog } from './rules.js';

export const standing = (words) => el('p', { class: 'standing' }, words);

/** A number as it is printed: at least two decimals. */
export function number(text) {
  if (text === null || text === undefined) return 'not known';
  const [whole, decimals = ''] = String(text).split('.');
  return `${whole}.${decimals.replace(/0+$/, '').padEnd(2, '0')}`;
}

/** What is weighed of a box, and said beside its verdict. */
const HEADLINE = 'box-fill';

/** Nobody has said anything of this box yet: there is nothing to judge. */
export const isEmpty = (found) => found.headline === HEADLINE && !found.box_kind && !found.items.length && !found.runs.length;

function shownVerdict(found) {
  return isEmpty(found) ? el('span', { class: 'verdict open' }, el('span', { class: 'shape', 'aria-hidden': 'true' }), 'empty') : verdict(found.verdict, found.faults);
}

/** The answer in big letters: spare or over, and the two numbers. */
export function answerCard(found) {
  return el('section', { class: `answer ${isEmpty(found) ? 'open' : verdictClass(found.verdict, found.faults)}`, 'aria-label': 'Verdict', id: 'answer' },
    shownVerdict(found), el('span', { class: 'big' }, isEmpty(found) ? 'Choose the box' : found.says.big), el('span', {}, found.message),
    found.says.hands ? el('span', { class: 'hands' }, found.says.hands) : null);
}

/** The answer in one sentence, to be read aloud after a tap. */
export const spokenAnswer = (found) => (isEmpty(found) ? found.message : found.says.aloud.replace(found.verdict, verdictWord(found.verdict, found.faults)));

export function factsCard(found) {
  const facts = found.findings.flatMap((finding) => finding.facts_to_find);
  if (!facts.length) return null;
  return el('section', { class: 'card' }, el('h2', {}, found.says.check),
    el('ol', {}, facts.map((fact) => el('li', {}, fact.question, fact.settles ? el('div', { class: 'small soft' }, fact.settles) : null))));
}

/** Every line of every worksheet; each opens its rule. */
export function worksheetView(found) {
  return [
    found.faults ? el('p', { class: 'notice' }, linesUnread(found.faults)) : null,
    found.findings.map((finding) => el('section', { class: 'card' },
      el('h3', {}, verdict(finding.verdict), ' ', finding.subject),
      finding.message === found.message ? null : el('p', {}, units(finding.message), finding.too_many ? `: ${finding.too_many}` : ''),
      el('p', { class: 'small soft' }, `${finding.cite}${sure(finding.confidence)}`),
      finding.worksheet ? worksheetTable(finding, found.edition.year) : null,
      finding.other_case ? el('p', { class: 'small' }, `${finding.other_case}.`) : null)),
    readings(found.readings_used, found.says.disputed),
  ];
}

function worksheetTable(finding, year) {
  const sheet = finding.worksheet;
  const reason = (line) => el('div', { class: 'why' }, [units(line.why) + sure(line.confidence), line.cite].filter(Boolean).join(' · '));
  const amount = (line, look) => el('td', { class: 'num' }, line.amount !== null && line.steps ? [steps(line), el('br')] : null, el(look, {}, line.printed));
  const row = (line) => [el('tr', {},
    el('td', {}, button(line.label, () => ruleDialog(line.rule, year), { class: 'plain', key: `rule-${line.rule}-${line.label}`, 'aria-label': `${line.label}: the rule in plain words` }), reason(line)),
    amount(line, 'strong')), line.parts.map((part) => partRows(part, 1))];
  const partRows = (line, depth) => [el('tr', { class: 'part' },
    el('td', { class: `deep-${Math.min(depth, 4)}` }, line.label, reason(line)), amount(line, 'span')), line.parts.map((part) => partRows(part, depth + 1))];
  const sum = (words, printed) => el('tr', { class: 'sum' }, el('td', {}, words), el('td', { class: 'num' }, printed));
  return el('table', {},
    el('thead', {}, el('tr', {}, el('th', { scope: 'col' }, 'Line'), el('th', { scope: 'col', class: 'num' }, sheet.unit_printed))),
    el('tbody', {}, sheet.have.map(row), sum(sheet.have_title, sheet.there_printed), sheet.need.map(row), sum(sheet.need_title, sheet.needed_printed)));
}

/** The rows of the room picture, numbered as in it; each opens its rule. */
export function rowsBeside(finding, year) {
  const sheet = finding.worst_case ?? finding.worksheet;
  return el('ol', { class: 'rows' }, sheet.need.map((line) => el('li', {}, button([line.label, ' ', el('span', { class: 'num' }, line.printed)], () => ruleDialog(line.rule, year), { class: 'plain', key: `row-${finding.subject}-${line.rule}-${line.label}` }))));
}

/** Verdict and number, short enough for the head of the page. */
export function shortAnswer(found) {
  return el('span', { class: 'short' }, shownVerdict(found), !isEmpty(found) && found.says.short ? el('span', { class: 'small num' }, found.says.short) : null);
}

export function sure(confidence) {
  return ['two sources', 'one source', 'computed'].includes(confidence) ? '' : ` (${confidence})`;
}

export function readings(used, heading) {
  const open = (used ?? []).filter((reading) => Object.keys(reading.others).length);
  if (!open.length) return null;
  return el('section', { class: 'card' }, el('h2', {}, heading),
    el('ul', {}, open.map((reading) => el('li', {}, button(reading.name, () => ruleDialog(reading.name), { class: 'plain', key: `reading-${reading.name}` }), ` ${reading.asks} Counted as: ${reading.means}.`))));
}

export function remindersCard(found) {
  const [cautions, others] = [found.reminders.filter((r) => r.caution), found.reminders.filter((r) => !r.caution)];
  if (!found.reminders.length) return null;
  return el('section', { class: 'card' }, el('h2', {}, found.says.on_site),
    cautions.map((reminder) => el('p', { class: 'caution' }, el('strong', {}, 'Caution: '), reminder.text, reminder.cite ? ` (${reminder.cite})` : '')),
    el('ul', {}, others.map((reminder) => el('li', {}, reminder.text, reminder.cite ? ` (${reminder.cite})` : '', sure(reminder.confidence)))));
}
