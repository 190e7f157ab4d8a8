// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { t } from './texts.js';
import { now } from './clock.js';
import { differenceName, toDifference, toUnit, unitName } from './units.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
export const DAY = 24 * HOUR;

const local = new Intl.DateTimeFormat(undefined, { weekday: 'short', day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' });
const localDay = new Intl.DateTimeFormat(undefined, { weekday: 'short', day: 'numeric', month: 'short' });
const localDate = new Intl.DateTimeFormat(undefined, { day: 'numeric', month: 'short', year: 'numeric' });
const localFull = new Intl.DateTimeFormat(undefined, { day: 'numeric', month: 'short', year: 'numeric', hour: '2-digit', minute: '2-digit' });
const localClock = new Intl.DateTimeFormat(undefined, { hour: '2-digit', minute: '2-digit' });

/** @param {number} value @param {number} digits */
export const number = (value, digits) =>
  value.toLocaleString(undefined, { minimumFractionDigits: digits, maximumFractionDigits: digits });

/** @param {number} celsius */
export const temperature = (celsius) => `${number(toUnit(celsius), 1)} ${unitName()}`;
/** @param {number} kelvin */
export const difference = (kelvin) => `${number(toDifference(kelvin), 1)} ${differenceName()}`;

/** A measured length of time: 8.4 s, 176 s, 21 min 25 s. @param {number} s */
export function seconds(s) {
  if (s < 100) return t.lengths.seconds(number(s, s < 20 ? 1 : 0));
  if (s < 600) return t.lengths.seconds(String(Math.round(s)));
  const whole = Math.round(s);
  if (whole % 60 === 0) return t.lengths.minutes(whole / 60);
  return t.lengths.minutesAndSeconds(Math.floor(whole / 60), String(whole % 60).padStart(2, '0'));
}

/** The same for an axis, where there is little room. @param {number} s */
export const secondsShort = (s) => (s < 600 ? t.lengths.seconds(number(s, s < 10 && s % 1 ? 1 : 0)) : t.lengths.minutes(number(s / 60, s % 60 ? 1 : 0)));

/** How long a job takes: 45 min, 5 h 15 min. @param {number} minutes */
export function workTime(minutes) {
  const [hours, rest] = [Math.floor(minutes / 60), minutes % 60];
  if (minutes < 90) return t.lengths.minutes(minutes);
  return rest ? t.lengths.hoursAndMinutes(hours, rest) : t.lengths.hours(hours);
}

/** A rough length of time, as people say it. @param {number} ms */
export function rough(ms) {
  const span = Math.abs(ms);
  if (span < 90 * MINUTE) return t.lengths.minutes(Math.max(1, Math.round(span / MINUTE)));
  if (span < 36 * HOUR) return t.lengths.hours(Math.round(span / HOUR));
  if (span < 21 * DAY) return t.lengths.days(Math.round(span / DAY));
  return t.lengths.weeks(Math.round(span / (7 * DAY)));
}

/** @param {string} iso */
export function ago(iso) {
  const past = now() - Date.parse(iso);
  return past < MINUTE ? t.justNow : t.ago(rough(past));
}

/** @param {string | number} when */
export const clockText = (when) => localClock.format(new Date(when));
/** @param {string | number} when */
export const dateTimeText = (when) => local.format(new Date(when));
/** @param {string | number} when */
export const dayText = (when) => localDay.format(new Date(when));
const localShortDay = new Intl.DateTimeFormat(undefined, { day: 'numeric', month: 'short' });
/** @param {Date} date */
export const shortDayText = (date) => localShortDay.format(date);
/** Within half a year of now nobody needs the year. @param {string} date a plain date */
export function dateInProse(date) {
  const noon = Date.parse(`${date}T12:00:00`);
  if (Number.isNaN(noon)) return date;
  return Math.abs(noon - now()) < 182 * DAY ? shortDayText(new Date(noon)) : dateText(date);
}
/** @param {string} date a plain date such as 2026-05-04, which has no time zone */
export const dateText = (date) => localDate.format(new Date(`${date}T12:00:00`));

/** With its year, for what is far back. @param {string} iso */
export const fullDate = (iso) => localDate.format(new Date(iso));

/** The same with the time of day, for a record that is kept. @param {string | number} when */
export const fullDateTime = (when) => localFull.format(new Date(when));

/** @param {string} iso */
export const utcText = (iso) => `${iso.slice(0, 10)} ${iso.slice(11, 16)} UTC`;

/** Local time, with UTC in the tooltip. @param {string | undefined} iso @param {(when: string) => string} text */
export function when(iso, text = dateTimeText) {
  if (!iso) return nothing;
  return html`<time datetime=${iso} title=${utcText(iso)}>${text(iso)}</time>`;
}

/** To the nearest five: more would pretend to know. @param {number} probability */
export const percent = (probability) => Math.min(95, Math.max(5, Math.round(probability * 20) * 5));

/** A value in its SenML unit. @param {number} value @param {string} unit */
export function quantity(value, unit) {
  switch (unit) {
    case 'Cel': return temperature(value);
    case 'K': return difference(value);
    case 's': return seconds(value);
    case '': return number(value, 0);
    case 'm3': return `${number(value, 1)} m³`;
    default: return `${number(value, 1)} ${unit}`;
  }
}
