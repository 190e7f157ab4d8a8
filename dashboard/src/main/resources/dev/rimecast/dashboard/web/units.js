// @ts-check
import { dateInProse, number, seconds } from './format.js';

/** °C or °F: a choice of the person at the screen. The server speaks °C and K only. */
const KEY = 'rimecast.units';

/** @type {'c' | 'f'} */
let chosen = read() === 'f' ? 'f' : 'c';

function read() {
  try { return localStorage.getItem(KEY); } catch { return null; }
}

export const units = () => chosen;

/** @param {'c' | 'f'} unit */
export function choose(unit) {
  chosen = unit;
  try { localStorage.setItem(KEY, unit); } catch { /* private window: it holds for this page */ }
  dispatchEvent(new CustomEvent('units-changed'));
}

export const unitName = () => (chosen === 'c' ? '°C' : '°F');
export const differenceName = () => (chosen === 'c' ? 'K' : '°F');

/** @param {number} celsius */
export const toUnit = (celsius) => (chosen === 'c' ? celsius : celsius * 1.8 + 32);

/** @param {number} kelvin */
export const toDifference = (kelvin) => (chosen === 'c' ? kelvin : kelvin * 1.8);

/** From here on minutes are easier to read; a whole number of seconds that stands alone. */
const LONG_S = 600;

/**
 * The server's sentences hold °C, K, whole seconds, decimal points and plain dates: numbers follow the choice, long times are
 * said in minutes, and numbers and dates are written as people here write them.
 * @param {string} text
 */
export function prose(text) {
  const said = text
    .replace(/(?<![\d.,-])(\d{3,6}) s\b/g, (as, v) => (Number(v) < LONG_S ? as : seconds(Number(v))))
    .replace(/(?<![\d-])\d{4}-\d{2}-\d{2}(?![\dT-])/g, dateInProse);
  if (chosen === 'c') return decimals(said);
  return decimals(said
    .replace(/([-−]?\d+(?:\.\d+)?)\s°C\b/g, (_, v) => `${round(toUnit(parse(v)))} °F`)
    .replace(/([-−+]?\d+(?:\.\d+)?)\sK\b/g, (_, v) => `${round(toDifference(parse(v)))} °F`));
}

/** Not of names and addresses, which hold points, too. @param {string} text */
const decimals = (text) => text.replace(/(?<![\w.,-])\d+\.(\d{1,3})(?![\w-]|\.\d)/g, (v, behind) => number(Number(v), behind.length));

/** @param {string} v */
const parse = (v) => Number(v.replace('−', '-'));
/** @param {number} v */
const round = (v) => Math.round(v * 10) / 10;
