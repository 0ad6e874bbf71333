// The lines of a worksheet in words: how an amount comes about, and what it is made of.
import { el } from './dom.js';

/** How a line's amount comes about: `4 × 2.25`; empty where it is just there. */
export const steps = (line) => line.steps.replaceAll(' x ', ' × ');

/** A line's whole sum with its unit: `4 × 2.25 = 9.00 in³`. */
export function sumWords(line) {
  if (line.amount === null) return line.printed;
  const sum = [steps(line), line.printed].filter(Boolean).join(' = ');
  return line.unit_printed ? `${sum} ${line.unit_printed}` : sum;
}

/** What a line is made of, as a list under it; nothing where it is made of nothing. */
export function partsList(line) {
  if (!line.parts.length) return null;
  return el('ul', {}, line.parts.map((part) => el('li', {}, `${part.label}: ${sumWords(part)}`, partsList(part))));
}
