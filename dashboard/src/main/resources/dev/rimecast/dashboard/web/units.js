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
 * said in minutes, and numbers and dates are written as people here write them. Not for what people have written.
 * @param {string} text
 */
export function prose(text) {
  const said = text.replace(/(?<![\d.,-])(\d{3,6}) s\b/g, (as, v) => (Number(v) < LONG_S ? as : seconds(Number(v))));
  const chosenUnits = chosen === 'c' ? said : said
    .replace(/(?<![\w.,]|[\w.,]-)([-−]?\d+(?:\.\d+)?)(?= (?:to|and) [-−]?\d+(?:\.\d+)?\s°C\b)/g, (_, v) => String(round(toUnit(parse(v)))))
    .replace(/(?<![\w.,]|[\w.,]-)([-−]?\d+(?:\.\d+)?)(?= (?:to|and) [-−]?\d+(?:\.\d+)?\sK\b)/g, (_, v) => String(round(toDifference(parse(v)))))
    .replace(/([-−]?\d+(?:\.\d+)?)\s°C\b/g, (_, v) => `${round(toUnit(parse(v)))} °F`)
    .replace(/([-−+]?\d+(?:\.\d+)?)\sK\b/g, (_, v) => `${round(toDifference(parse(v)))} °F`);
  // dates come last: some are written with points
  return decimals(chosenUnits).replace(/(?<![\d-])\d{4}-\d{2}-\d{2}(?![\dT-])/g, dateInProse);
}

/** Of quantities, which have their unit behind them: times of day, numbers of jobs, names and addresses hold points, too. */
const QUANTITY = /(?<![\w.,]|[\w.,]-)\d+\.(\d{1,3})(?=(?: (?:to|and) \d+(?:\.\d+)?)?\s?(?:°[CF]|%|(?:K|A|s|min|h|kg|kWh|litres?|times|days?|minutes|hours|machine-years)\b))/g;

/** @param {string} text */
const decimals = (text) => text.replace(QUANTITY, (v, behind) => number(Number(v), behind.length));

/** @param {string} v */
const parse = (v) => Number(v.replace('−', '-'));
/** @param {number} v */
const round = (v) => Math.round(v * 10) / 10;
