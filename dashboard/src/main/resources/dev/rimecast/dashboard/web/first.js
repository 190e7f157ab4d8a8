// @ts-check
/** What the server put into the page, so that it is drawn before anything is asked for. */
import { hear, hearDemo } from './clock.js';

/** @typedef {{status: import('./api.js').Status, session: import('./api.js').Me, fleet: {total: number, machines: import('./api.js').FleetRow[]}}} First */

const block = document.getElementById('first');
const [way] = /** @type {PerformanceNavigationTiming[]} */ (performance.getEntriesByType('navigation'));

/** Null where there is nothing, or the browser went back to a page that it kept: what was true then is not now. @type {First | null} */
export const first = block && way?.type !== 'back_forward' ? JSON.parse(block.textContent ?? '') : null;

if (first) {
  hearDemo(first.status.demo);
  hear(first.status.now);
}
