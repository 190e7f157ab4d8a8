// @ts-check
/**
 * Keeps the visit sheet and the pages of work and of commissioning at hand where there is no connection: the last one that was loaded, and its
 * files, which the page itself puts into the cache. Each kind of page has a worker of its own. What people write is kept by
 * the page, not here.
 */
const PATIENCE_MS = 5_000;
/** What is global in a worker. @type {any} */
const scope = self;

/** The page without any data in it: the same for every machine. */
const page = () => caches.match(new URL(scope.registration.scope).pathname);

scope.addEventListener('install', () => { scope.skipWaiting(); });
scope.addEventListener('activate', (/** @type {any} */ e) => e.waitUntil(scope.clients.claim()));
scope.addEventListener('fetch', (/** @type {any} */ e) => {
  const url = new URL(e.request.url);
  if (e.request.method !== 'GET' || url.origin !== scope.location.origin) return;
  if (e.request.mode === 'navigate') e.respondWith(navigate(e.request));
  else if (url.pathname.startsWith('/assets/')) e.respondWith(file(e.request));
});

/** From the server where it answers soon. @param {Request} request */
async function navigate(request) {
  const kept = await page();
  if (!kept) return fetch(request);
  const late = new Promise((resolve) => { setTimeout(resolve, PATIENCE_MS); }).then(() => kept);
  return Promise.race([fetch(request).then((answer) => (answer.status >= 500 ? kept : answer), () => kept), late]);
}

/** Files never change under their address. @param {Request} request */
const file = async (request) => (await caches.match(request)) ?? fetch(request);
