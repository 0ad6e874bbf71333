// Elements without markup: text is always text, so nothing a person typed can become part of the page.

/** Make an element. Properties: class, on (events), data, any attribute; false, null and undefined leave one out.
 *  What runs on an event, and the state given to a field, is kept on the node, so that `draw` can hand it to the one on the page. */
export function el(tag, properties = {}, ...children) {
  const node = document.createElement(tag);
  node.given = {};
  for (const [name, value] of Object.entries(properties)) {
    if (name === 'checked' || name === 'disabled' || name === 'selected' || name === 'open') {
      node[name] = Boolean(value);
      node.given[name] = Boolean(value);
    } else if (value === false || value === null || value === undefined) continue;
    else if (name === 'class') node.className = value;
    else if (name === 'on') hear(node, value);
    else if (name === 'data') Object.assign(node.dataset, value);
    else if (name === 'value') {
      node.value = value;
      node.given.value = String(value);
      if (tag === 'option') node.setAttribute('value', value);
    } else node.setAttribute(name, value === true ? '' : String(value));
  }
  put(node, children);
  return node;
}

function run(event) {
  return event.currentTarget.runs[event.type]?.(event);
}

function hear(node, runs) {
  for (const event of Object.keys(runs)) if (!node.runs?.[event]) node.addEventListener(event, run);
  node.runs = { ...node.runs, ...runs };
}

export function put(node, children) {
  for (const child of children.flat(Infinity)) {
    if (child === null || child === undefined || child === false) continue;
    node.append(child instanceof Node ? child : String(child));
  }
  return node;
}

/** A button with a key, so that it stays the same one when the page is drawn anew. One that is `off` can still be reached. */
export function button(words, run, properties = {}) {
  const { key = words, off = false, ...rest } = properties;
  return el('button', { type: 'button', ...rest, 'aria-disabled': off ? 'true' : null, data: { key, ...(rest.data ?? {}) }, on: { click: off ? () => {} : run } }, words);
}

export function link(words, href, properties = {}) {
  return el('a', { href, ...properties }, words);
}

/** Stands in new content for a node that stays on the page as it is, with all that is typed in it. */
export function kept(node) {
  const stand = document.createComment('');
  stand.stands = node;
  standing.push(stand);
  return stand;
}

let standing = [];

// ---- drawing -------------------------------------------------------------------------------------------------------

const REACHED = 'a[href], button, input, select, textarea, summary, [tabindex]';

/** Make what is on the page into the new content, changing only what differs: focus, scroll, what is typed, opened or being
 *  read aloud stays where it is. */
export function draw(root, ...content) {
  within(root, () => settle(root, put(document.createElement('div'), content)));
  for (const stand of standing) if (stand.isConnected) stand.replaceWith(stand.stands);
  standing = [];
}

/** Make one node of the page, by its id and key, into what it is to be, ahead of all others. */
export function renew(fresh) {
  const old = document.getElementById(fresh.id);
  if (old && alike(old, fresh)) within(old, () => become(old, fresh));
}

/** Change what is in a node; the focus stays in it. */
function within(root, change) {
  const active = document.activeElement;
  const before = active && active !== document.body && root.contains(active) ? whereabouts(active, root) : null;
  change();
  if (before && document.activeElement !== active) refocus(active, before);
}

/** Settled once what is on the page now has been painted; in a window nobody sees, a moment later. */
export const painted = () => new Promise((done) => {
  requestAnimationFrame(() => setTimeout(done));
  setTimeout(done, 100);
});

function nameOf(node) {
  return node.nodeType === Node.ELEMENT_NODE ? node.dataset.key ?? node.id : '';
}

function alike(old, fresh) {
  return old.nodeName === fresh.nodeName && nameOf(old) === nameOf(fresh) && old.className?.split?.(' ')[0] === fresh.className?.split?.(' ')[0];
}

function settle(old, fresh) {
  const named = new Map();
  const others = [];
  for (const child of old.childNodes) {
    if (nameOf(child)) named.set(nameOf(child), child);
    else others.push(child);
  }
  let next = 0;
  const wanted = [...fresh.childNodes].map((child) => {
    if (child.stands) return child.stands;
    const name = nameOf(child);
    let found = null;
    if (name) found = named.get(name);
    else {
      const at = others.findIndex((other, place) => place >= next && alike(other, child));
      if (at >= 0) {
        found = others[at];
        next = at + 1;
      }
    }
    if (!found || !alike(found, child)) return child;
    named.delete(name);
    become(found, child);
    return found;
  });
  arrange(old, wanted);
}

/** Make these the children of a node; those that stay are not moved about, so they keep their focus. */
export function arrange(node, wanted) {
  const stays = new Set(wanted);
  for (const child of [...node.childNodes]) if (!stays.has(child)) child.remove();
  let place = node.firstChild;
  for (const child of wanted) {
    if (child === place) place = place.nextSibling;
    else node.insertBefore(child, place);
  }
}

function become(old, fresh) {
  if (old.nodeType !== Node.ELEMENT_NODE) {
    if (old.data !== fresh.data) old.data = fresh.data;
    return;
  }
  for (const { name } of [...old.attributes]) if (!fresh.hasAttribute(name) && name !== 'open') old.removeAttribute(name);
  for (const { name, value } of fresh.attributes) if (name !== 'open' && old.getAttribute(name) !== value) old.setAttribute(name, value);
  for (const event of Object.keys(fresh.runs ?? {})) if (!old.runs?.[event]) old.addEventListener(event, run);
  old.runs = fresh.runs;
  settle(old, fresh);
  const [was, now] = [old.given ?? {}, fresh.given ?? {}];
  // What a reader opened, or is just typing, stays; what the page said before and says otherwise now does not.
  if ('open' in now && was.open !== now.open) old.open = now.open;
  if ('value' in now && old.value !== now.value && (was.value !== now.value || old !== document.activeElement)) old.value = now.value;
  for (const name of ['checked', 'disabled', 'selected']) if (name in now && old[name] !== now[name]) old[name] = now[name];
  old.given = now;
}

/** Where the focus is, told by what is around it. */
function whereabouts(active, root) {
  const around = [];
  for (let node = active.parentElement; node && root.contains(node) && around.length < 6; node = node.parentElement) {
    around.push([node, [...node.querySelectorAll(REACHED)].indexOf(active)]);
  }
  return around;
}

/** Focus again, or, where that is gone, what stands in its place. */
function refocus(active, before) {
  if (active.isConnected) {
    active.focus({ preventScroll: true });
    return;
  }
  for (const [node, place] of before) {
    const reached = node.isConnected ? [...node.querySelectorAll(REACHED)].filter((each) => !each.disabled && each.checkVisibility()) : [];
    if (reached.length) {
      reached[Math.min(Math.max(place, 0), reached.length - 1)].focus({ preventScroll: true });
      return;
    }
  }
}

// ---- saying --------------------------------------------------------------------------------------------------------

let clearing = 0;
/** Say something for a moment, aloud too. */
export function say(words, long = false) {
  const [page, over] = ['status', 'dialog-status'].map((id) => document.getElementById(id));
  const status = document.getElementById('dialog').open ? over : page;
  for (const other of [page, over]) if (other !== status) other.textContent = '';
  status.textContent = words;
  clearTimeout(clearing);
  clearing = setTimeout(() => { status.textContent = ''; }, long ? 9000 : 3500);
}

/** A trouble as a sentence: the engine's words begin small, as they stand in a line of the terminal. */
export const sentence = (words) => `${words[0]?.toUpperCase() ?? ''}${words.slice(1)}`;

/** Say what went wrong. */
export const sayTrouble = (trouble) => say(sentence(trouble.message), true);

/** Tell what is seen anyhow to who does not see it. */
export function tell(words) {
  const spoken = document.getElementById('spoken');
  if (spoken.textContent !== words) spoken.textContent = words;
}

// ---- dialogs -------------------------------------------------------------------------------------------------------

const under = [];
let opener = null;

/** A dialog; one opened from another leads back to it. Closed by its button, by Escape, and by going elsewhere. */
export function dialog(title, ...content) {
  const box = document.getElementById('dialog');
  const [head, body] = ['dialog-title', 'dialog-body'].map((id) => document.getElementById(id));
  if (box.open) under.push({ title: head.textContent, body: [...body.childNodes], focus: document.activeElement, top: box.scrollTop });
  else opener = document.activeElement;
  head.textContent = title;
  box.className = '';
  body.replaceChildren();
  put(body, content);
  document.getElementById('dialog-back').hidden = !under.length;
  if (!box.open) box.showModal();
  box.scrollTop = 0;
  head.focus();
  return box;
}

export function closeDialog() {
  document.getElementById('dialog').close();
}

function back() {
  const last = under.pop();
  if (!last) return closeDialog();
  document.getElementById('dialog-title').textContent = last.title;
  document.getElementById('dialog-body').replaceChildren(...last.body);
  document.getElementById('dialog-back').hidden = !under.length;
  document.getElementById('dialog').scrollTop = last.top;
  return last.focus?.focus({ preventScroll: true });
}

export function readyDialog() {
  const box = document.getElementById('dialog');
  document.getElementById('dialog-close').addEventListener('click', closeDialog);
  document.getElementById('dialog-back').addEventListener('click', back);
  box.addEventListener('cancel', (event) => {
    if (!under.length) return;
    event.preventDefault();
    back();
  });
  box.addEventListener('close', () => {
    under.length = 0;
    document.getElementById('dialog-body').replaceChildren();
    document.getElementById('dialog-status').textContent = '';
    if (opener?.isConnected) opener.focus({ preventScroll: true });
  });
}

// ---- what many views show ------------------------------------------------------------------------------------------

const WORDS = { passes: 'passes', advice: 'advice', 'check needed': 'open', fails: 'fails' };
const ALLOWED = new Set(['passes', 'advice']);
/** A verdict by word, shape and color. While lines cannot be read nobody can say that a box passes. */
export function verdict(word, unread = 0) {
  return el('span', { class: `verdict ${verdictClass(word, unread)}` }, el('span', { class: 'shape', 'aria-hidden': 'true' }), verdictWord(word, unread));
}
export const verdictWord = (word, unread = 0) => (unread && ALLOWED.has(word) ? `${word} so far` : word);
export const verdictClass = (word, unread = 0) => (unread && ALLOWED.has(word) ? 'open' : WORDS[word] ?? 'open');

export const linesUnread = (count) => `${count === 1 ? 'One line' : `${count} lines`} of the sheet cannot be read, and what ${count === 1 ? 'it says is' : 'they say is'} not counted. `;

/** A fault of a sheet: what is wrong, and what to write instead. */
export const faultWords = ({ message, hint }) => `${message}${hint ? `. ${hint[0].toUpperCase()}${hint.slice(1)}` : ''}`;

/** A sentence of the engine with its units as the page writes them. Never for a line of a sheet, which keeps its `in3`. */
export function units(content) {
  if (Array.isArray(content)) return content.map(units);
  return typeof content === 'string' ? content.replace(/\bin3\b/g, 'in³').replace(/\bin2\b/g, 'in²') : content;
}

/** An amount of money: dollars by their sign, any other currency by its name, a comma after the thousands. */
export const money = (amount, currency) => (currency === 'USD' ? `$${thousands(amount)}` : `${thousands(amount)} ${currency}`);

/** ``1403.85`` as ``1,403.85``. */
export const thousands = (amount) => String(amount).replace(/\B(?=(\d{3})+(?:\.|$))/g, ',');

/** What a fix does to the wall, in a few words. */
export const damage = ({ disturbs }) => ({ nothing: 'No wall damage', 'cover off': 'Cover off, no wall damage', plaster: 'Opens plaster' }[disturbs] ?? `Damage: ${disturbs}`);

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
  const bytes = type === 'base64' ? Uint8Array.from(atob(content), (c) => c.charCodeAt(0)) : content;
  const kind = name.endsWith('.pdf') ? 'application/pdf' : name.endsWith('.svg') ? 'image/svg+xml' : 'application/octet-stream';
  const url = URL.createObjectURL(new Blob([bytes], { type: kind }));
  const anchor = el('a', { href: url, download: name.replace(/[\\/:*?"<>|]+/g, '-') });
  document.body.append(anchor);
  anchor.click();
  anchor.remove();
  setTimeout(() => URL.revokeObjectURL(url), 60000);
}

/** Bytes as base64, in pieces that fit a call. */
export function base64(bytes) {
  let text = '';
  for (let start = 0; start < bytes.length; start += 32768) text += String.fromCharCode(...bytes.subarray(start, start + 32768));
  return btoa(text);
}
