// @ts-check
/** Has the browser keep this page and its files, so that it opens without a connection. */

const CACHE = 'rimecast-work';

/** Where pages of this kind are, e.g. /work-report/: each kind is kept by itself. */
const place = location.pathname.replace(/[^/]*$/, '');

/** Where the files of this version are. */
const base = new URL('.', import.meta.url).href;

/** Everything that this page has loaded, or names. */
function files() {
  const named = [...document.querySelectorAll('link[href], script[src]')].map((e) => /** @type {any} */ (e).href || /** @type {any} */ (e).src);
  const loaded = performance.getEntriesByType('resource').map((e) => e.name);
  return [...new Set([...named, ...loaded])].filter((url) => url.startsWith(base) && !url.endsWith('/work-worker.js'));
}

async function store() {
  const cache = await caches.open(CACHE);
  await cache.addAll(files());
  const page = await fetch(location.pathname);
  // who is no longer signed in gets another page
  if (!page.ok || page.redirected) return false;
  await cache.put(place, page);
  for (const old of await cache.keys()) {
    if (old.url.includes('/assets/') && !old.url.startsWith(base)) await cache.delete(old);
  }
  return true;
}

/** @returns {Promise<boolean>} whether the page will open without a connection */
export async function keepPage() {
  // browsers have neither of both except over HTTPS, or on the machine itself
  if (!('serviceWorker' in navigator) || !('caches' in window)) return false;
  try {
    await navigator.serviceWorker.register(`${base}work-worker.js`, { scope: place });
    await navigator.serviceWorker.ready;
    return await store();
  } catch {
    return (await caches.match(place).catch(() => undefined)) !== undefined;
  }
}
