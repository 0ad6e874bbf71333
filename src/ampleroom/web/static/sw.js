// Keeps the whole page in this browser, so that it opens without a signal. Which files, stands in offline.json.
// The build writes the folder's mark here: only a changed script makes a browser look whether the files changed.
const MARK = '';
const NAME = 'ampleroom-';

self.addEventListener('install', (event) => {
  event.waitUntil((async () => {
    if (MARK) {
      const { mark, files } = await (await fetch('offline.json', { cache: 'no-cache' })).json();
      if (mark !== MARK) throw new Error('the folder is being changed');
      const cache = await caches.open(NAME + MARK);
      await cache.addAll(files.map((name) => new Request(name, { cache: 'no-cache' })));
    }
    await self.skipWaiting();
  })());
});

self.addEventListener('activate', (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) if (name.startsWith(NAME) && name !== NAME + MARK) await caches.delete(name);
    if (MARK) await self.clients.claim();
    else await self.registration.unregister(); // these pages were not made for use without a server
  })());
});

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (!MARK || event.request.method !== 'GET' || url.origin !== location.origin || url.pathname.includes('/api/')) return;
  event.respondWith((async () => {
    const cache = await caches.open(NAME + MARK);
    const kept = await cache.match(event.request, { ignoreSearch: true });
    if (kept) return kept;
    try {
      return await fetch(event.request);
    } catch (trouble) {
      const page = event.request.mode === 'navigate' && await cache.match('./');
      if (page) return page;
      throw trouble;
    }
  })());
});
