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

/** What a page that is not open names, and what that imports. @param {string} page its text @returns {Promise<string[]>} */
async function filesOf(page) {
  const found = new Set([...page.matchAll(/(?:href|src)="([^"]+)"/g)].map((m) => new URL(m[1], location.href).href).filter((url) => url.startsWith(base)));
  // what is added while it goes on is looked at, too
  for (const url of found) {
    if (!url.endsWith('.js')) continue;
    const text = await (await fetch(url)).text();
    for (const m of text.matchAll(/(?:from|import) '(\.[^']+)'/g)) found.add(new URL(m[1], url).href);
  }
  return [...found];
}

/** @param {string} address of a page of another kind, e.g. /work-report/ice-1 @returns {Promise<boolean>} */
async function storeOther(address) {
  const cache = await caches.open(CACHE);
  const page = await fetch(address);
  if (!page.ok || page.redirected) return false;
  await cache.addAll(await filesOf(await page.clone().text()));
  await cache.put(address.replace(/[^/]*$/, ''), page);
  return true;
}

async function store() {
  const cache = await caches.open(CACHE);
  await cache.addAll(files());
  const page = await fetch(location.pathname);
  // who is no longer signed in gets another page
  if (!page.ok || page.redirected) return false;
  await cache.put(place, page);
  // what a kept page of another kind was made of stays, until that page is kept anew
  const kept = await cache.keys();
  const pages = await Promise.all(kept.filter((each) => !each.url.includes('/assets/')).map(async (each) => (await (await cache.match(each))?.text()) ?? ''));
  for (const old of kept) {
    const version = new URL(old.url).pathname.match(/^.*\/assets\/[^/]+\//)?.[0];
    if (version && !old.url.startsWith(base) && !pages.some((page) => page.includes(version))) await cache.delete(old);
  }
  return true;
}

/**
 * The page to which this one leads, which nobody may have opened before.
 * @param {string} address @returns {Promise<boolean>} whether it will open without a connection
 */
export async function keepOther(address) {
  if (!('serviceWorker' in navigator) || !('caches' in window)) return false;
  try {
    await navigator.serviceWorker.register(`${base}work-worker.js`, { scope: address.replace(/[^/]*$/, '') });
    return await storeOther(address);
  } catch {
    return false;
  }
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
