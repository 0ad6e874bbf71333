// Keeps the whole page in this browser, so that it opens without a signal. The build writes into this script the mark of the
// folder and the hash of offline.json, and there stand the hashes of all files: files of two builds are never kept together.
// Every file is fetched once, whoever asks for it first, and compressed on the way.
const BUILD = '';
const LIST = '';
const NAME = 'ampleroom-';
const ALL = 'all-kept'; // stands in a cache that has every file of its build
const TYPES = {
  html: 'text/html; charset=utf-8', css: 'text/css; charset=utf-8', js: 'text/javascript; charset=utf-8', mjs: 'text/javascript; charset=utf-8', json: 'application/json',
  svg: 'image/svg+xml', png: 'image/png', webmanifest: 'application/manifest+json', wasm: 'application/wasm', zip: 'application/zip', whl: 'application/zip',
};

const place = (name) => new URL(name, self.registration.scope).href;
const nameOf = (url) => url.split(/[?#]/)[0].slice(self.registration.scope.length) || 'index.html';
const ours = () => caches.open(NAME + BUILD);

async function hashOf(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return `sha256-${btoa(String.fromCharCode(...digest))}`;
}

// ---- fetching ------------------------------------------------------------------------------------------------------

/** Codings this browser can unpack by itself, the best first, and how a copy in one ends. */
const UNPACKED = [['br', 'brotli', '.br'], ['gzip', 'gzip', '.gz']].filter(([, format]) => {
  try {
    return new DecompressionStream(format);
  } catch {
    return false;
  }
});
/** All bytes of an answer. `came` is told which part of the file has come, from 0 to 1, and in which coding. */
async function read(body, size, coding, came) {
  const pieces = [];
  let count = 0;
  for (const reader = body.getReader(); ;) {
    const { done, value } = await reader.read();
    if (done) break;
    pieces.push(value);
    count += value.length;
    came(Math.min(1, count / size.plain), coding);
  }
  return new Blob(pieces).arrayBuffer();
}

async function get(name, cache, method = 'GET') {
  const reply = await fetch(new Request(place(name), { cache, method }));
  if (!reply.ok) throw new Error(`${name}: ${reply.status}`);
  return reply;
}

const codingOf = (reply) => reply.headers.get('content-encoding') ?? '';

/** The bytes of a file, compressed on the way: by the host, or, where it sends files as they are, by asking for the copy. */
async function bytesOf(name, size, cache, came) {
  const copy = cache === 'no-store' && UNPACKED.find(([coding]) => size[coding]);
  if (copy && !codingOf(await get(name, cache, 'HEAD'))) {
    const [coding, format, end] = copy;
    try {
      const reply = await get(name + end, cache);
      // Some hosts know by a name's end that it is compressed, and the browser has unpacked it already.
      return await read(codingOf(reply) ? reply.body : reply.body.pipeThrough(new DecompressionStream(format)), size, coding, came);
    } catch { /* the copies were not put on this host */ }
  }
  const reply = await get(name, cache);
  return read(reply.body, size, codingOf(reply), came);
}

/** A file as it is in this build; refused if its hash is another. What the page has just shown is not fetched again. */
async function checked(name, hash, size, came = () => {}) {
  const shown = !size || !name.includes('/') && size.plain < 200_000;
  for (const cache of shown ? ['force-cache', 'reload'] : ['no-store']) {
    const bytes = await bytesOf(name, size ?? { plain: 1e9 }, cache, came);
    if (await hashOf(bytes) === hash) return bytes;
  }
  throw new Error(`${name} is not the file that belongs to this page`);
}

const answerOf = (name, content, policy) => new Response(content, {
  headers: { 'content-type': TYPES[name.split('.').pop()] ?? 'application/octet-stream', 'content-security-policy': policy, 'x-content-type-options': 'nosniff' },
});

const going = new Map(); // files on their way: whoever asks meanwhile waits for the same one

/** Have a file in the cache: kept already, fetched by another, or fetched now. */
function obtain(name, plan, cache, came) {
  const way = going.get(name) ?? { listeners: new Set(), done: fetchInto(name, plan, cache, (...part) => way.listeners.forEach((each) => each(...part))) };
  if (came) way.listeners.add(came);
  if (!going.has(name)) {
    going.set(name, way);
    way.done.catch(() => {}).then(() => going.delete(name));
  }
  return way.done;
}

async function fetchInto(name, plan, cache, came) {
  if (await cache.match(place(name))) return;
  const content = await checked(name, plan.files[name], plan.sizes[name], came);
  if (name === 'index.html') await cache.put(place('./'), answerOf(name, content, plan.policy));
  await cache.put(place(name), answerOf(name, content, plan.policy));
}

/** What the builds before had that is the same is not fetched again. Whether one of them was whole. */
async function takeOver(plan, cache) {
  let whole = false;
  for (const other of (await caches.keys()).filter((name) => name.startsWith(NAME) && name !== NAME + BUILD)) {
    const old = await caches.open(other);
    whole ||= Boolean(await old.match(place(ALL)));
    const { files } = await (await old.match(place('offline.json')))?.json() ?? { files: {} };
    for (const name of Object.keys(plan.files)) {
      if (files[name] !== plan.files[name] || await cache.match(place(name))) continue;
      const kept = await old.match(place(name));
      if (kept) await cache.put(place(name), answerOf(name, kept.body, plan.policy));
    }
  }
  return whole;
}

// ---- keeping -------------------------------------------------------------------------------------------------------

self.addEventListener('install', (event) => {
  event.waitUntil((async () => {
    if (BUILD) {
      const text = new TextDecoder().decode(await checked('offline.json', LIST));
      const plan = JSON.parse(text);
      if (plan.mark !== BUILD) throw new Error('the folder is being changed');
      const cache = await ours();
      const whole = await takeOver(plan, cache);
      // The first time only the page itself: the rest comes when it asks, in the order it is needed. Over a build that is
      // whole only one that is whole.
      const now = whole ? Object.keys(plan.files) : plan.stages[0];
      await Promise.all(now.map((name) => obtain(name, plan, cache)));
      if (whole) await cache.put(place(ALL), new Response(''));
      await cache.put(place('offline.json'), answerOf('offline.json', text, plan.policy)); // last: where it is, the page is whole
    }
    await self.skipWaiting();
  })());
});

self.addEventListener('activate', (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) if (name.startsWith(NAME) && name !== NAME + BUILD) await caches.delete(name);
    if (BUILD) await self.clients.claim();
    else await self.registration.unregister(); // these pages were not made for use without a server
  })());
});

async function planIn(cache) {
  const list = await cache.match(place('offline.json'));
  return list ? list.json() : null;
}

/** The page asks for one file after another, and is told how each comes along: no browser lets one event run on for long. */
self.addEventListener('message', (event) => {
  const [port] = event.ports;
  if (!port) return;
  event.waitUntil((async () => {
    try {
      const cache = await ours();
      const plan = await planIn(cache);
      if (event.data.keep) await obtain(event.data.keep, plan, cache, (part, coding) => port.postMessage({ part, coding }));
      else { // are all there?
        const there = await Promise.all(Object.keys(plan.files).map((name) => cache.match(place(name))));
        if (there.every(Boolean)) await cache.put(place(ALL), new Response(''));
        port.postMessage({ all: there.every(Boolean) });
        return;
      }
      port.postMessage({ kept: true });
    } catch (trouble) {
      port.postMessage({ failed: String(trouble?.message ?? trouble) });
    }
  })());
});

/** A file of this build that is not kept yet, or that the browser has dropped: fetched now, and kept. */
async function again(request, cache) {
  const plan = await planIn(cache);
  const name = nameOf(request.url);
  if (!plan || !Object.hasOwn(plan.files, name)) return fetch(request);
  await obtain(name, plan, cache);
  return await cache.match(place(name)) ?? fetch(request);
}

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (!BUILD || event.request.method !== 'GET' || url.origin !== location.origin || url.pathname.includes('/api/')) return;
  event.respondWith((async () => {
    const cache = await ours();
    const kept = await cache.match(event.request, { ignoreSearch: true });
    if (kept) return kept;
    try {
      return await again(event.request, cache);
    } catch (trouble) {
      const page = event.request.mode === 'navigate' && await cache.match(place('./'));
      if (page) return page;
      throw trouble;
    }
  })());
});
