// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { now } from './clock.js';
import { DAY } from './format.js';
import { plotIn } from './machine-figures.js';
import { featurePlots } from './machine-plots.js';
import { plotTable } from './plot-table.js';
import { at } from './plot-time.js';
import { t } from './texts.js';

/**
 * What the work was to bring back, before and after it, over what the machine should do.
 * @typedef {import('./api.js').ProofOfFix} ProofOfFix
 * @typedef {import('./plot-time.js').Drawn} Drawn
 * @typedef {{of: string, cycles: import('./api.js').Cycle[], from: number, to: number}} Around
 */

/** As long before the work as shows what was wrong, and as long after it as is looked. */
const BEFORE = 7 * DAY;
const AFTER = 31 * DAY;
const MINUTE = 60_000;

/** The plot that shows a quantity which is judged. @type {Record<string, string>} */
const plotOf = {
  split: 'split-time', 'pull-down': 'pull-down', freeze: 'freeze', harvest: 'harvest', 'drain-level': 'drain', 'drain-run': 'drain',
};

/** @param {ProofOfFix} proof */
const shownPlot = (proof) => proof.shown.map((s) => plotOf[s.feature]).find((id) => id !== undefined);

/** Changes with every cycle that was judged. @param {ProofOfFix} proof */
const nameOf = (proof) => `${proof.id} ${proof.at}`;

/**
 * @param {string} machine @param {ProofOfFix | undefined} proof the newest @param {Around | null} before what there is already
 * @returns {Promise<Around | null>} null where there is nothing to draw
 */
export async function loadAround(machine, proof, before) {
  if (!proof || !shownPlot(proof)) return null;
  if (before?.of === nameOf(proof)) return before;
  const worked = Date.parse(proof.workedAt);
  const [from, to] = [worked - BEFORE, Math.min(now(), worked + AFTER)];
  return { of: nameOf(proof), cycles: await api.cycles(machine, from, to), from, to };
}

/** @param {import('./api.js').Machine} machine @param {ProofOfFix | undefined} proof @param {Around | null} around @param {import('./api.js').HappenedEvent[]} events @returns {Drawn | undefined} */
export function drawnProof(machine, proof, around, events) {
  if (!proof || !around) return undefined;
  const source = { machine, cycles: around.cycles, alerts: [], events: events.filter((e) => Math.abs(Date.parse(e.time) - Date.parse(proof.workedAt)) > MINUTE), from: around.from, to: around.to, isNow: false, zoomed: () => {} };
  const plot = featurePlots(source).find((each) => each.id === shownPlot(proof));
  if (!plot?.spec.x.length) return undefined;
  const work = /** @type {const} */ ({ at: at(proof.workedAt), label: t.proof.work, kind: 'event' });
  return { ...plot, id: `proof-${plot.id}`, spec: { ...plot.spec, marks: [...(plot.spec.marks ?? []), work] } };
}

/** @param {Drawn | undefined} plot */
export function proofFigure(plot) {
  if (!plot) return nothing;
  const [heading, hint] = t.plots[/** @type {'freeze'} */ (plot.id.replace(/^proof-/, ''))];
  return html`<section class="plot" aria-labelledby="plot-${plot.id}">
    <h4 id="plot-${plot.id}">${heading}, ${t.proof.around}</h4><p class="hint">${hint}</p>
    <div class="canvas" data-plot=${plot.id}></div>${plotTable(`${heading}, ${t.proof.around}`, plot.columns, plot.rows)}</section>`;
}

/** Draws what stands on the page already. @param {Drawn | undefined} plot */
export const drawProof = (plot) => { if (plot) plotIn({ id: plot.id, spec: { ...plot.spec, height: 200 } }); };
