// The sheet as text, with the lines that cannot be read marked. `view` is the job view's state, see job.js.
import { button, el, faultWords, sayTrouble } from './dom.js';

/** The sheet as it is typed: one node that stays, with its cursor, while all around it is drawn anew. */
export function sheetPaper(view) {
  let timer = 0;
  let pending = false;
  const behind = el('pre', { 'aria-hidden': 'true' });
  const field = el('textarea', { id: 'sheet', spellcheck: 'false', autocapitalize: 'off', autocomplete: 'off', wrap: 'off', 'aria-label': 'The sheet as text', 'aria-describedby': 'faults', data: { key: 'sheet' } });
  const list = el('div', { class: 'faults', id: 'faults', role: 'region', 'aria-label': 'Lines that cannot be read' });
  const states = el('p', { class: 'small soft', role: 'status', id: 'kept' });
  const node = el('div', {}, el('p', { class: 'small soft' }, 'One fact a line. What you type is saved as you go, and you can undo it.'), states, el('div', { class: 'paper-bench' }, el('div', { class: 'paper' }, behind, field), list));

  const lineHigh = () => parseFloat(getComputedStyle(field).lineHeight);

  /** What lies behind the text, and the faults beside their lines where there is width for them, follow it. */
  function follow() {
    [behind.scrollTop, behind.scrollLeft] = [field.scrollTop, field.scrollLeft];
    const beside = node.isConnected && getComputedStyle(list).position === 'relative';
    let free = 0;
    for (const told of list.querySelectorAll('[data-line]')) {
      const wanted = beside ? Math.max((Number(told.dataset.line) - 1) * lineHigh() - field.scrollTop, free) : 0;
      told.style.top = beside ? `${wanted}px` : '';
      free = wanted + (beside ? told.offsetHeight + 4 : 0);
    }
  }
  field.addEventListener('scroll', follow, { passive: true });
  new ResizeObserver(follow).observe(field);
  field.addEventListener('input', () => {
    clearTimeout(timer);
    pending = true;
    states.textContent = 'not saved yet …';
    mark([]);
    timer = setTimeout(flush, 600);
  });

  /** Keep what is typed, if anything is. */
  function flush() {
    clearTimeout(timer);
    if (!pending) return Promise.resolve(true);
    return view.inTurn(async () => {
      if (!pending) return true;
      const text = field.value;
      pending = false;
      if (!(await view.keep(text, 'sheet written'))) {
        states.textContent = 'not saved';
        return false;
      }
      if (field.value === text) states.textContent = 'saved';
      settle(text);
      return true;
    });
  }

  /** The boxes, and the faults at their places, follow what is kept. */
  async function settle(text) {
    try {
      await view.look();
    } catch (trouble) {
      sayTrouble(trouble);
      return;
    }
    if (field.value !== text || view.job.sheet !== text) return;
    show(view.faults());
    view.redraw();
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
    list.replaceChildren(...(faults.length ? [el('h2', {}, words), ...faults.slice(0, 60).map((fault) => button(`Line ${fault.line}: ${faultWords(fault)}`, () => goTo(fault), { key: `fault-${fault.line}-${fault.column}`, data: { line: fault.line } }))] : []));
    follow();
    if (states.textContent && words) states.textContent += `; ${words}`;
  }

  function goTo(fault) {
    const lines = field.value.split('\n');
    const start = lines.slice(0, fault.line - 1).reduce((sum, line) => sum + line.length + 1, 0);
    field.focus();
    field.setSelectionRange(start + fault.column - 1, start + Math.max(fault.end, fault.column + 1) - 1);
    field.scrollTop = Math.max(0, (fault.line - 4) * lineHigh());
  }

  return {
    flush,
    node,
    /** The cursor at the start of a line, once the sheet is shown. */
    goToLine: (line) => requestAnimationFrame(() => goTo({ line, column: 1, end: (field.value.split('\n')[line - 1] ?? '').length + 1 })),
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
