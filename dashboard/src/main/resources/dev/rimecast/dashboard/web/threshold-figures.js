// @ts-check
import { number, rough } from './format.js';
import { thresholdTexts as words } from './texts/thresholds.js';

/** @typedef {import('./thresholds-api.js').Figures} Figures */

const HOUR = 3_600_000;

/** In per cent. @param {import('./thresholds-api.js').Ends | undefined} e */
const share = (e) => (e ? words.shareBetween(number(e.low * 100, 0), number(e.high * 100, 0)) : '');

/** @param {number} count @param {number} all @param {import('./thresholds-api.js').Ends | undefined} e */
export const shareOf = (count, all, e) => (all === 0 ? words.noneKnown : `${words.ofAll(count, all)} ${share(e)}`);

/** How long before, with what the median may be. @param {Figures} f */
export function lead(f) {
  if (f.leadHours === undefined) return '–';
  return `${rough(f.leadHours * HOUR)} ${f.leadEnds ? words.between(rough(f.leadEnds.low * HOUR), rough(f.leadEnds.high * HOUR)) : words.fewForRange}`;
}

/** @param {Figures} f */
export const wrongRate = (f) => (f.wrongRate === undefined ? words.noSound
  : `${number(f.wrongRate, 2)} ${words.between(number(f.wrongRateLow ?? 0, 2), number(f.wrongRateHigh ?? 0, 2))}`);

/** Of all problems, in days. @param {Figures} f */
export const leadOfAll = (f) => (f.leadOfAllHours === undefined ? '–' : f.leadOfAllHours === 0 ? words.noneLead : rough(f.leadOfAllHours * HOUR));

/** So many visits in such a time. @param {number} count @param {import('./thresholds-api.js').Ends} e */
export const visits = (count, e) => `${number(count, 0)} ${words.between(number(e.low, 1), number(e.high, 1))}`;

/** A figure with the range it may lie in. @param {Figures} f @param {string} key */
export function figure(f, key) {
  switch (key) {
    case 'found': return shareOf(f.found, f.problems, f.foundShare);
    case 'right': return shareOf(f.right, f.right + f.wrong, f.rightShare);
    case 'leadHours': return lead(f);
    case 'wrongRate': return wrongRate(f);
    case 'avoided': return visits(f.avoided, f.avoidedEnds);
    case 'planned': return visits(f.planned, f.plannedEnds);
    case 'wasted': return visits(f.wasted, f.wastedEnds);
    default: return number(/** @type {any} */ (f)[key], 0);
  }
}
