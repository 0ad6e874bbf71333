// Keeps the whole page in this browser, so that it opens without a signal. The build writes into this script the mark of the
// folder and the hash of offline.json, and there stand the hashes of all files: files of two builds are never kept together.
const BUILD = '';
const LIST = '';
const NAME = 'ampleroom-';

const place = (name) => new URL(name, self.registration.scope).href;

/** Fetch a file; refused unless it has this hash. The folder's policy is put on it, whoever serves it. */
async function checked(name, integrity, policy) {
  const reply = await fetch(new Request(place(name), { cache: 'no-cache', integrity }));
  if (!reply.ok) throw new Error(`${name}: ${reply.status}`);
  const headers = new Headers(reply.headers);
  for (const about of ['content-encoding', 'content-length']) headers.delete(about); // of the bytes as sent, not as kept
  if (policy) headers.set('content-security-policy', policy);
  return new Response(reply.body, { status: 200, headers });
}

self.addEventListener('install', (event) => {
  event.waitUntil((async () => {
    if (BUILD) {
      const list = await checked('offline.json', LIST);
      const { mark, files, policy } = await list.clone().json();
      if (mark !== BUILD) throw new Error('the folder is being changed');
      const cache = await caches.open(NAME + BUILD);
      await Promise.all(Object.entries(files).map(async ([name, hash]) => {
        const reply = await checked(name, hash, policy);
        if (name === 'index.html') await cache.put(place('./'), reply.clone());
        await cache.put(place(name), reply);
      }));
      await cache.put(place('offline.json'), list); // last: where it is, all the others are
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

/** A file that the browser has dropped from its cache is fetched again, but only as it was in this build. */
async function again(request, cache) {
  const list = await cache.match(place('offline.json'));
  const { files, policy } = list ? await list.json() : { files: {} };
  const name = request.url.split(/[?#]/)[0].slice(self.registration.scope.length) || 'index.html';
  return Object.hasOwn(files, name) ? checked(name, files[name], policy) : fetch(request);
}

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (!BUILD || event.request.method !== 'GET' || url.origin !== location.origin || url.pathname.includes('/api/')) return;
  event.respondWith((async () => {
    const cache = await caches.open(NAME + BUILD);
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
