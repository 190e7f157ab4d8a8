// @ts-check
/** What wants somebody on the page of the product, before all its figures, with the way to each. */
import { html } from './lib/lit-html/lit-html.js';
import { now } from './clock.js';
import { DAY } from './format.js';
import { t } from './texts.js';
import { word } from './words.js';

/** @typedef {import('./api.js').System} System */

/** Longer than packs are apart at the slowest: 30 min, and some. */
const SILENT_MS = 35 * 60_000;
/** A disk that has less of itself left is worth a look. */
const LEAST_FREE = 0.1;

/** @param {System['gateways'][0]} g */
export const isSilent = (g) => !g.lastPackAt || now() - Date.parse(g.lastPackAt) > SILENT_MS;

/** What was rejected in the last day, and not taken again since. @param {import('./api.js').RejectedMessage[]} rejects */
const ofToday = (rejects) => rejects.filter((r) => now() - Date.parse(r.at) < DAY && (r.replays.at(-1)?.rejected ?? r.reasons).length > 0);

/**
 * @param {System} s @param {import('./api.js').Status | null} status @param {{rejects: import('./api.js').RejectedMessage[], unclaimed: number, letters: number,
 *   tooMuch: import('./system-flows.js').Flow[]}} more
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
  const rejected = ofToday(rejects).length;
  if (letters) found.push([w.letters(letters), 'letters']);
  if (silent) found.push([w.silent(silent, s.gateways.length), 'gateways']);
  if (unclaimed) found.push([w.unclaimed(unclaimed), 'unclaimed']);
  if (rejected) found.push([w.rejected(rejected), 'rejects']);
  return found;
}

/** @type {(...of: Parameters<typeof wants>) => unknown} */
export function wantsPart(...of) {
  const all = wants(...of);
  return html`<section class="wants" aria-labelledby="wants"><h2 id="wants">${t.system.wants.title}</h2>
    ${all.length === 0 ? html`<p class="well">${t.system.wants.nothing}</p>` : html`<ul>${all.map(([words, section]) => html`<li><a href="#${section}">${words}</a></li>`)}</ul>`}</section>`;
}
