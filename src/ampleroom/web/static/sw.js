// Keeps the whole page in this browser, so that it opens without a signal. The list of files and its mark come from offline.json.
const NAME = 'ampleroom-';

async function plan() {
  return (await fetch('offline.json', { cache: 'no-store' })).json();
}

self.addEventListener('install', (event) => {
  event.waitUntil((async () => {
    const { mark, files } = await plan();
    const cache = await caches.open(NAME + mark);
    await cache.addAll(files);
    await self.skipWaiting();
  })());
});

self.addEventListener('activate', (event) => {
  event.waitUntil((async () => {
    const { mark } = await plan().catch(() => ({ mark: null }));
    if (mark) for (const name of await caches.keys()) if (name.startsWith(NAME) && name !== NAME + mark) await caches.delete(name);
    await self.clients.claim();
  })());
});

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || url.origin !== location.origin || url.pathname.includes('/api/')) return;
  event.respondWith((async () => {
    const kept = await caches.match(event.request, { ignoreSearch: true });
    if (kept) return kept;
    try {
      return await fetch(event.request);
    } catch (trouble) {
      if (event.request.mode === 'navigate') {
        const page = await caches.match('./', { ignoreSearch: true });
        if (page) return page;
      }
      throw trouble;
    }
  })());
});
