// @ts-check
/** What wants somebody on the page of the product, before all its figures, with the way to each. */
import { html, nothing } from './lib/lit-html/lit-html.js';
import { MOST_LISTED } from './api.js';
import { now } from './clock.js';
import { DAY } from './format.js';
import { t } from './texts.js';
import { word } from './words.js';

/** @typedef {import('./api.js').System} System */
/** What is known of a list. @template T @typedef {{is: T | null, failed: boolean}} Heard null while it loads, or where it never came */
/** @typedef {{n: number, atLeast: boolean}} Count at least so many, where a list is as long as an answer may be */
/** @typedef {{rejects: Heard<import('./api.js').RejectedMessage[]>, unclaimed: Heard<number>, letters: Heard<Count>, tooMuch: import('./system-flows.js').Flow[]}} More */

/** Longer than packs are apart at the slowest: 30 min, and some. */
const SILENT_MS = 35 * 60_000;
/** A disk that has less of itself left is worth a look. */
const LEAST_FREE = 0.1;

/** @param {System['gateways'][0]} g */
export const isSilent = (g) => !g.lastPackAt || now() - Date.parse(g.lastPackAt) > SILENT_MS;

/** What was rejected in the last day, and not taken again since. @param {import('./api.js').RejectedMessage[]} rejects */
const ofToday = (rejects) => rejects.filter((r) => isOfToday(r) && (r.replays.at(-1)?.rejected ?? r.reasons).length > 0);

/** @param {import('./api.js').RejectedMessage} r */
const isOfToday = (r) => now() - Date.parse(r.at) < DAY;

/** A list has the newest first: more of the last day is left where all of a whole answer is of it. @param {import('./api.js').RejectedMessage[]} rejects @returns {Count} */
const rejectedToday = (rejects) => ({ n: ofToday(rejects).length, atLeast: rejects.length >= MOST_LISTED && rejects.every(isOfToday) });

/**
 * @param {System} s @param {import('./api.js').Status | null} status @param {More} more
 * @returns {[string, string][]} words, and the section that they lead to
 */
function wants(s, status, { rejects, unclaimed, letters, tooMuch }) {
  const w = t.system.wants;
  /** @type {[string, string][]} */
  const found = [];
  for (const stage of status?.stages ?? []) if (stage.state !== 'up') found.push([w.stage(word(t.stageNames, stage.name), word(t.system.states, stage.state)), 'stages']);
  for (const flow of tooMuch) found.push([w.tooMuch(word(t.stageNames, flow.stage), flow.what, flow.text), 'stages']);
  for (const d of s.disks) if (d.freeBytes < LEAST_FREE * d.totalBytes) found.push([w.disk(d.path, Math.round((100 * d.freeBytes) / d.totalBytes)), 'base']);
  const silent = s.gateways.filter(isSilent).length;
  const rejected = rejectedToday(rejects.is ?? []);
  if (letters.is?.n) found.push([w.letters(letters.is.n, letters.is.atLeast), 'letters']);
  if (silent) found.push([w.silent(silent, s.gateways.length), 'gateways']);
  if (unclaimed.is) found.push([w.unclaimed(unclaimed.is), 'unclaimed']);
  if (rejected.n) found.push([w.rejected(rejected.n, rejected.atLeast), 'rejects']);
  return found;
}

/** What is missing for the word that nothing else wants anybody. @param {More} more */
function missing({ rejects, unclaimed, letters }) {
  const lists = [rejects, unclaimed, letters];
  const rejected = rejectedToday(rejects.is ?? []);
  if (lists.some((list) => list.failed) || (rejected.atLeast && !rejected.n) || (letters.is?.atLeast && !letters.is.n)) return t.system.wants.notKnown;
  return lists.some((list) => list.is === null) ? t.loading : '';
}

/** @type {(...of: Parameters<typeof wants>) => unknown} */
export function wantsPart(...of) {
  const all = wants(...of);
  const gap = missing(of[2]);
  return html`<section class="wants" aria-labelledby="wants"><h2 id="wants">${t.system.wants.title}</h2>
    ${all.length ? html`<ul>${all.map(([words, section]) => html`<li><a href="#${section}">${words}</a></li>`)}</ul>` : gap ? nothing : html`<p class="well">${t.system.wants.nothing}</p>`}
    ${gap ? html`<p class="hint">${gap}</p>` : nothing}</section>`;
}
