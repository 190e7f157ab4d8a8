// @ts-check
import { comparison, isUsual, judged } from './last-cycle.js';
import { html } from './lib/lit-html/lit-html.js';
import { ago, seconds, temperature, when } from './format.js';
import { now } from './clock.js';
import { t } from './texts.js';
import { phases, word } from './words.js';

/** @typedef {import('./api.js').Cycle} Cycle */

/**
 * How the machine is, as somebody would say it who has looked at all of its figures.
 * @param {import('./api.js').Machine} machine
 * @param {Cycle[]} recent of the last two days at least, oldest first
 */
export function nowInWords(machine, recent) {
  const w = t.nowWords;
  const { phase, bin_full: bin, ambient_temperature: air } = machine.now;
  const full = bin?.value ? w.binFull : '';
  const doing = phase ? w.doing(word(phases, phase.text)) : '';
  const room = air ? w.room(temperature(air.value)) : '';
  const last = recent.findLast((c) => c.complete);
  const day = recent.filter((c) => c.complete && Date.parse(c.end) > now() - 86_400_000).length;
  return html`<p class="lead">${[doing, full, room].filter(Boolean).join(' ')} ${last ? html`${w.lastEnded} ${when(last.end, ago)}${took(last)}. ${verdict(last)}` : w.noCycle} ${w.cyclesOfDay(day)}</p>`;
}

/** @param {Cycle} c */
const took = (c) => (c.freezeSeconds !== undefined && c.harvestSeconds !== undefined ? t.nowWords.took(seconds(c.freezeSeconds), seconds(c.harvestSeconds)) : '');

/** @param {Cycle} c */
function verdict(c) {
  const rows = judged(c).filter((r) => r.expected);
  if (rows.length === 0) return t.nowWords.learning;
  const off = rows.filter((r) => !isUsual(r));
  if (off.length === 0) return t.nowWords.asItShould;
  return t.nowWords.off(off.map((r) => `${r.name[0].toLowerCase()}${r.name.slice(1)} ${comparison(r)}`).join('; '), off.length < rows.length);
}
