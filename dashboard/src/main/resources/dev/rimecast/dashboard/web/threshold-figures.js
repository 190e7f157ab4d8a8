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

/** A figure with the range it may lie in. @param {Figures} f @param {string} key */
export function figure(f, key) {
  switch (key) {
    case 'found': return shareOf(f.found, f.problems, f.foundShare);
    case 'right': return shareOf(f.right, f.right + f.wrong, f.rightShare);
    case 'leadHours': return lead(f);
    case 'wrongRate': return wrongRate(f);
    default: return number(/** @type {any} */ (f)[key], 0);
  }
}
