// @ts-check
/**
 * What this phone keeps of visit sheets that it has shown, or that are next, for a plant room without a connection: in the browser's cache, since
 * plots take more room than its other store has.
 *
 * @typedef {import('./api.js').Visit} Visit
 * @typedef {{visit: Visit, alerts: [string, import('./api.js').Alert[]][], events: [string, import('./api.js').HappenedEvent[]][],
 *   evidence: [string, import('./visit-plots.js').Evidence | null][], permissions: string[], at: number}} KeptVisit
 */

export const KEPT_VISITS = 'rimecast-visits';
const MOST = 20;

/** @param {string} id */
const place = (id) => `/visits/kept/${encodeURIComponent(id)}`;

/** @param {string} id @param {KeptVisit} sheet @returns {Promise<boolean>} whether it is kept */
export async function keepVisit(id, sheet) {
  try {
    const cache = await caches.open(KEPT_VISITS);
    await cache.delete(place(id));
    await cache.put(place(id), new Response(JSON.stringify(sheet)));
    for (const old of (await cache.keys()).slice(0, -MOST)) await cache.delete(old);
    return true;
  } catch {
    return false;
  }
}

/** @param {string} id @returns {Promise<KeptVisit | null>} */
export async function keptVisit(id) {
  try {
    const kept = await (await caches.open(KEPT_VISITS)).match(place(id));
    return kept ? await kept.json() : null;
  } catch {
    return null;
  }
}

/** All that are kept. @returns {Promise<KeptVisit[]>} */
export async function keptVisits() {
  try {
    const cache = await caches.open(KEPT_VISITS);
    return await Promise.all((await cache.keys()).map(async (key) => (await cache.match(key))?.json()));
  } catch {
    return [];
  }
}

/** It is no more. @param {string} id */
export async function forgetVisit(id) {
  try { await (await caches.open(KEPT_VISITS)).delete(place(id)); } catch { /* nothing is kept */ }
}
