// @ts-check
import { number, seconds } from './format.js';
import { thresholdTexts as words } from './texts/thresholds.js';
import { whyTexts } from './texts/why.js';
import { quantities, word } from './words.js';

/** @typedef {import('./thresholds-api.js').PolicyNumber} PolicyNumber */

const UNITS = /_(celsius|kelvin|seconds|minutes|hours|days)$/;

/** What a number is called. @param {string} path */
export function nameOf(path) {
  const [section, what, of] = path.split('.');
  if (section === 'features') return `${word(quantities, what.replaceAll('_', '-'))}: ${words.ofFeature[of] ?? of}`;
  const known = words.names[path] ?? whyTexts.entries[path];
  if (known) return known;
  const plain = what.replace(UNITS, '').replaceAll('_', ' ');
  return plain.charAt(0).toUpperCase() + plain.slice(1);
}

/** As many digits as it has, no more than four that say anything. @param {number} value */
export const plain = (value) => number(value, digits(value));

/** @param {number} value */
function digits(value) {
  for (let d = 0; d < 4; d++) if (Math.abs(value * 10 ** d - Math.round(value * 10 ** d)) < 1e-9 * Math.max(1, Math.abs(value) * 10 ** d)) return d;
  return Math.abs(value) < 1 ? 4 : 2;
}

/** What stands behind its field. @param {PolicyNumber} n */
export function unitOf(n) {
  switch (n.unit) {
    case 'Cel': return '°C';
    case '/': return '%';
    case '': return n.path.endsWith('_year') ? words.perYear : '';
    default: return n.unit;
  }
}

/** What moves when it changes. The unit stands behind the field, so the text need not begin with it. @param {PolicyNumber} n */
export function aboutOf(n) {
  const text = n.text.replace(/^(h|min|s|K|°C|days|kg)(?=[ .,]|$)[ .,]*/, '');
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Shares are shown in per cent. @param {PolicyNumber} n */
export const factor = (n) => (n.unit === '/' ? 100 : 1);

/** @param {number} value @param {PolicyNumber} n */
export const shown = (value, n) => Math.round(value * factor(n) * 1e9) / 1e9;

/** With its unit. @param {number} value @param {PolicyNumber | undefined} n */
export function amount(value, n) {
  if (!n) return plain(value);
  const unit = unitOf(n);
  return `${plain(shown(value, n))}${unit ? ` ${unit}` : ''}`;
}

/** How long is left. @param {number} s */
export const timeLeft = (s) => (s < 90 ? `${Math.max(5, Math.round(s / 5) * 5)} s` : seconds(Math.round(s / 60) * 60));
