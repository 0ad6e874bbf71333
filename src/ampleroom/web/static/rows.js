// A list drawn only where it is seen: a job of 4,000 boxes puts as many rows on the page as one of 40.
import { arrange, el } from './dom.js';

const WHOLE = 80; // up to so many rows are drawn at once
const AHEAD = 15; // rows drawn above and below those in sight

const lists = new Set();
let waiting = 0;
for (const event of ['scroll', 'resize']) {
  window.addEventListener(event, () => {
    waiting ||= requestAnimationFrame(() => {
      waiting = 0;
      for (const list of lists) list();
    });
  }, { capture: true, passive: true });
}

/** A list with a node that stays on the page. `rowOf` makes the `li` of a row; all rows are equally high (`.rows-even`).
 *  `take` shows other rows; a row whose `mark` is the same is left as it is. */
export function rowList(id, rowOf) {
  const gaps = [0, 1].map(() => el('li', { class: 'gap', 'aria-hidden': 'true' }));
  const node = el('ul', { class: 'list rows-even', id });
  let rows = [];
  let drawn = new Map();

  function show() {
    const [from, to, high] = node.isConnected || rows.length <= WHOLE ? inSight() : [0, WHOLE, 0];
    const fresh = new Map();
    rows.slice(from, to).forEach((row, place) => {
      const old = drawn.get(row.key);
      const mark = JSON.stringify(row);
      const made = old?.mark === mark ? old : { mark, node: rowOf(row) };
      made.node.dataset.key = row.key;
      if (rows.length > WHOLE) {
        made.node.setAttribute('aria-posinset', from + place + 1);
        made.node.setAttribute('aria-setsize', rows.length);
      }
      fresh.set(row.key, made);
    });
    const active = document.activeElement?.closest('li');
    const lost = active && node.contains(active) ? active.dataset.key : '';
    drawn = fresh;
    gaps[0].style.height = `${from * high}px`;
    gaps[1].style.height = `${(rows.length - to) * high}px`;
    arrange(node, [...(from ? [gaps[0]] : []), ...[...fresh.values()].map((made) => made.node), ...(to < rows.length ? [gaps[1]] : [])]);
    if (lost && !node.contains(document.activeElement)) fresh.get(lost)?.node.querySelector('a, button')?.focus({ preventScroll: true });
  }

  /** The first row to draw, the one after the last, and how high a row is. */
  function inSight() {
    if (rows.length <= WHOLE) return [0, rows.length, 0];
    const high = node.querySelector('li:not(.gap)')?.offsetHeight || 64;
    const around = node.closest('.scroller')?.getBoundingClientRect() ?? { top: 0, bottom: window.innerHeight };
    const { top } = node.getBoundingClientRect();
    const first = Math.floor((Math.max(around.top, 0) - top) / high);
    const last = Math.ceil((Math.min(around.bottom, window.innerHeight) - top) / high);
    const from = Math.min(Math.max(first - AHEAD, 0), rows.length);
    return [from, Math.min(Math.max(last + AHEAD, from + 1), rows.length), high];
  }

  lists.add(() => { if (node.isConnected && rows.length > WHOLE) show(); });

  return {
    node,
    take(wanted) {
      rows = wanted;
      show();
      if (rows.length > WHOLE) requestAnimationFrame(show); // once it stands where it is seen
    },
    /** Bring a row into sight. */
    reveal(key) {
      const place = rows.findIndex((row) => row.key === key);
      const high = node.querySelector('li:not(.gap)')?.offsetHeight;
      const around = node.closest('.scroller');
      if (place < 0 || !high || !around) return;
      const top = node.offsetTop + place * high;
      if (top < around.scrollTop || top + high > around.scrollTop + around.clientHeight) around.scrollTop = top - around.clientHeight / 2;
    },
  };
}
