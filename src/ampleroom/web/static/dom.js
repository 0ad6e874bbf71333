// Elements without markup: text is always text, so nothing a person typed can become part of the page.

/** Make an element. Properties: class, on (events), data, any attribute; false, null and undefined leave one out. */
export function el(tag, properties = {}, ...children) {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(properties)) {
    if (value === false || value === null || value === undefined) continue;
    if (name === 'class') node.className = value;
    else if (name === 'on') for (const [event, run] of Object.entries(value)) node.addEventListener(event, run);
    else if (name === 'data') Object.assign(node.dataset, value);
    else if (name === 'value') node.value = value;
    else if (name === 'checked' || name === 'disabled' || name === 'selected') node[name] = Boolean(value);
    else node.setAttribute(name, value === true ? '' : String(value));
  }
  put(node, children);
  return node;
}

export function put(node, children) {
  for (const child of children.flat(Infinity)) {
    if (child === null || child === undefined || child === false) continue;
    node.append(child instanceof Node ? child : String(child));
  }
  return node;
}

/** A button with a key, so that focus stays on it when the page is drawn anew. */
export function button(words, run, properties = {}) {
  const key = properties.key ?? words;
  const { key: _, ...rest } = properties;
  return el('button', { type: 'button', ...rest, data: { key, ...(rest.data ?? {}) }, on: { click: run } }, words);
}

export function link(words, href, properties = {}) {
  return el('a', { href, ...properties }, words);
}

/** Draw new content in place of the old, keeping focus, scroll and what is typed in a field with the same key. */
export function draw(root, ...content) {
  const active = document.activeElement;
  const key = active && root.contains(active) ? active.dataset.key : null;
  const typed = key && 'selectionStart' in active ? [active.selectionStart, active.selectionEnd] : null;
  const scrolls = [...root.querySelectorAll('[data-scroll]')].map((node) => [node.dataset.scroll, node.scrollTop, node.scrollLeft]);
  root.replaceChildren();
  put(root, content);
  for (const [name, top, left] of scrolls) {
    const node = root.querySelector(`[data-scroll="${CSS.escape(name)}"]`);
    if (node) [node.scrollTop, node.scrollLeft] = [top, left];
  }
  if (key) {
    const again = root.querySelector(`[data-key="${CSS.escape(key)}"]`);
    if (again) {
      again.focus({ preventScroll: true });
      if (typed && 'setSelectionRange' in again && /^(text|search|)$/.test(again.type ?? '') && typed[0] !== null) again.setSelectionRange(...typed);
    }
  }
}

let clearing = 0;
/** Say something for a moment, aloud too. */
export function say(words, long = false) {
  const status = document.getElementById('status');
  status.textContent = words;
  clearTimeout(clearing);
  clearing = setTimeout(() => { status.textContent = ''; }, long ? 9000 : 3500);
}

/** A dialog that can be closed by its button, by Escape, and by the back gesture of the reader. */
export function dialog(title, ...content) {
  const box = document.getElementById('dialog');
  box.replaceChildren();
  put(box, [
    el('button', { type: 'button', class: 'close', 'aria-label': 'Close', on: { click: () => box.close() } }, '×'),
    el('h2', { id: 'dialog-title' }, title),
    ...content,
  ]);
  if (!box.open) box.showModal();
  return box;
}

const WORDS = { passes: 'passes', 'not settled': 'open', fails: 'fails' };
/** A verdict by word, shape and color. */
export function verdict(word) {
  return el('span', { class: `verdict ${WORDS[word] ?? 'open'}` }, el('span', { class: 'shape', 'aria-hidden': 'true' }), word);
}
export const verdictClass = (word) => WORDS[word] ?? 'open';

export function picture(found, properties = {}) {
  return el('img', { class: 'picture', alt: found.alt, src: `data:image/svg+xml;charset=utf-8,${encodeURIComponent(themed(found.svg))}`, ...properties });
}

/** The picture in the page's theme, where the reader chose another than the system's. */
function themed(svg) {
  const chosen = document.documentElement.dataset.theme;
  if (chosen === 'dark') return svg.replace('@media (prefers-color-scheme:dark)', '@media all');
  if (chosen === 'light') return svg.replace('@media (prefers-color-scheme:dark)', '@media not all');
  return svg;
}

export function download(name, type, content) {
  const bytes = typeof content === 'string' && type === 'base64' ? Uint8Array.from(atob(content), (c) => c.charCodeAt(0)) : content;
  const kind = name.endsWith('.pdf') ? 'application/pdf' : name.endsWith('.svg') ? 'image/svg+xml' : 'application/octet-stream';
  const url = URL.createObjectURL(new Blob([bytes], { type: kind }));
  const anchor = el('a', { href: url, download: name.replace(/[\\/:*?"<>|]+/g, '-') });
  document.body.append(anchor);
  anchor.click();
  anchor.remove();
  setTimeout(() => URL.revokeObjectURL(url), 60000);
}
