// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { causes, word } from './words.js';

/** How detection begins a sentence about a quantity, and the plot that shows the quantity. @type {[string, string][]} */
export const beginnings = [
  ['Condensing temperature over ambient', 'split'],
  ['Pull-down', 'pull-down'],
  ['Freeze', 'freeze'],
  ['Harvest', 'harvest'],
  ['Drain level signal', 'drain'],
  ['Drain pump run', 'drain'],
  ['Lowest evaporator temperature', 'temperatures'],
];

/** @param {string} sentence */
const plotOf = (sentence) => beginnings.find(([beginning]) => sentence.startsWith(beginning))?.[1];

/** The plot that shows the quantity which an alert is about. @type {Record<string, string>} */
const plotOfMeasure = {
  split: 'split-time', 'condensing-temperature': 'condensing', 'pull-down': 'pull-down', freeze: 'freeze', harvest: 'harvest',
  'drain-level': 'drain', 'drain-run': 'drain', 'evaporator-end': 'temperatures',
};

/** The plots that show why the leading cause is thought of: the quantity that gave the alert first, then what speaks for the cause. @param {import('./api.js').Alert} alert @returns {string[]} */
export function plotsOfEvidence({ measure, diagnosis }) {
  const spoken = (diagnosis[0]?.evidenceFor ?? []).map(plotOf);
  const found = [measure && plotOfMeasure[measure.quantity], ...spoken].filter((plot) => plot !== undefined);
  return [...new Set(found)];
}

/**
 * What a plot shows for and against the causes that are thought of; a sentence that serves several names them all.
 * @param {import('./api.js').Machine} machine @param {string} plot
 */
export function evidenceBeside(machine, plot) {
  /** @type {Map<string, {isFor: boolean, sentence: string, causes: Set<string>}>} */
  const lines = new Map();
  for (const { alert, diagnosis } of machine.openAlerts) {
    if (alert.clearedAt) continue;
    for (const d of diagnosis.slice(0, 3)) {
      for (const [isFor, sentences] of /** @type {[boolean, string[]][]} */ ([[true, d.evidenceFor], [false, d.evidenceAgainst]])) {
        for (const sentence of sentences.filter((s) => plotOf(s) === plot)) {
          const key = `${isFor} ${sentence}`;
          const line = lines.get(key) ?? { isFor, sentence, causes: new Set() };
          line.causes.add(word(causes, d.cause));
          lines.set(key, line);
        }
      }
    }
  }
  if (lines.size === 0) return nothing;
  return html`<ul class="beside-plot">${[...lines.values()].sort((a, b) => Number(b.isFor) - Number(a.isFor)).map((l) => html`
    <li class=${l.isFor ? 'for' : 'against'}><b>${l.isFor ? t.plots.speaksFor : t.plots.speaksAgainst}</b> “${[...l.causes].join(t.plots.orCause)}”: ${prose(l.sentence)}</li>`)}</ul>`;
}
