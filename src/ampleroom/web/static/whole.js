// The answer about a whole job, kept while its sheet is the same: the views of a job share it, and a tap brings only the rows
// that changed.
import { ask } from './ask.js';

let kept = { sheet: null, answer: null, asked: null };

/** The list of a job, asked for once for a sheet. */
export function whole(sheet) {
  if (kept.sheet !== sheet || (!kept.asked && kept.answer?.partly)) {
    const mine = { sheet, answer: kept.sheet === sheet ? kept.answer : null };
    mine.asked = ask('job', { sheet }).then((answer) => {
      mine.answer = answer;
      return answer;
    });
    mine.asked.catch(() => { if (kept === mine) kept = { sheet: null, answer: null, asked: null }; });
    kept = mine;
  }
  return kept.asked;
}

/** The list of this sheet as far as it is known: null, whole, or `partly` where a tap changed rows and nobody asked since. */
export const known = (sheet) => (kept.sheet === sheet ? kept.answer : null);

/** A tap made one sheet of another and changed these rows only; what else the list says is asked for when it is shown. */
export function follow(before, after, rows) {
  const { answer } = kept;
  if (kept.sheet !== before || before === after || !answer || !rows) return;
  const fresh = new Map(rows.map((row) => [`${row.kind}/${row.name}`, row]));
  kept = { sheet: after, asked: null, answer: { ...answer, partly: true, subjects: answer.subjects.map((row) => fresh.get(`${row.kind}/${row.name}`) ?? row) } };
}
