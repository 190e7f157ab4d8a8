// @ts-check
import { now } from './clock.js';
import { DAY } from './format.js';

/** The time that the plots show: a length, and an end that either follows now or stays. Kept in the page's address. */
const SHORTEST = DAY / 12;
const LONGEST = 120 * DAY;

/** @typedef {'1d' | '3d' | '7d' | '30d' | '90d'} Preset */
/** @type {Record<Preset, number>} */
export const presets = { '1d': DAY, '3d': 3 * DAY, '7d': 7 * DAY, '30d': 30 * DAY, '90d': 90 * DAY };

let length = 7 * DAY;
/** @type {number | null} */
let end = null;
fromAddress();

function fromAddress() {
  const query = new URLSearchParams(location.search);
  const hours = Number(query.get('hours'));
  if (hours > 0) length = clamp(hours * DAY / 24);
  const to = Date.parse(query.get('to') ?? '');
  if (!Number.isNaN(to)) end = to;
}

function toAddress() {
  const query = new URLSearchParams({ hours: String(Math.round((length / DAY) * 24 * 10) / 10) });
  if (end !== null) query.set('to', new Date(end).toISOString());
  history.replaceState(null, '', `?${query}`);
}

/** @param {number} ms */
function clamp(ms) {
  return Math.min(LONGEST, Math.max(SHORTEST, ms));
}

/** Milliseconds since 1970. */
export function range() {
  const to = end ?? now();
  return { from: to - length, to };
}

export const follows = () => end === null;
/** @param {Preset} name */
export const isPreset = (name) => end === null && Math.abs(length - presets[name]) < 1000;

/** @param {Preset} name */
export function choosePreset(name) {
  length = presets[name];
  end = null;
  toAddress();
}

/** @param {number} from @param {number} to */
export function chooseRange(from, to) {
  length = clamp(to - from);
  end = to;
  toAddress();
}

/** @param {number} factor below 1 looks closer; the middle stays, or now where it follows */
export function zoom(factor) {
  const { from, to } = range();
  const next = clamp(length * factor);
  if (end !== null) end = Math.min(now(), (from + to) / 2 + next / 2);
  length = next;
  toAddress();
}

/** @param {number} share of the length; negative goes back */
export function pan(share) {
  const to = range().to + share * length;
  end = to >= now() ? null : to;
  toAddress();
}
