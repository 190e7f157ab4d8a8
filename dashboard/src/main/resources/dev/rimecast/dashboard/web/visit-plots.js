// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { now } from './clock.js';
import { evidenceBeside, plotsOfEvidence } from './evidence-plots.js';
import { DAY } from './format.js';
import { allPlots } from './machine-plots.js';
import { plotIn } from './machine-figures.js';
import { t } from './texts.js';

/**
 * On the sheet for the engineer: the plots that made detection think of the probable cause, to believe it or not.
 * @typedef {import('./api.js').Alert} Alert
 * @typedef {import('./plot-time.js').Drawn} Drawn
 * @typedef {{machine: import('./api.js').Machine, source: import('./plot-time.js').Source, ids: string[]}} Evidence
 */

const MOST_PLOTS = 3;
const ROWS = 8;
/** From this long before it was raised, so that what was usual shows, too. */
const BEFORE = 7 * DAY;
const LEAST = 14 * DAY;
const MOST = 60 * DAY;

/** @param {Alert} alert @returns {Promise<Evidence | null>} null where nothing of it can be drawn */
export async function loadEvidence(alert) {
  const id = alert.alert.machine;
  const ids = plotsOfEvidence(alert).slice(0, MOST_PLOTS);
  if (!id || !ids.length) return null;
  const to = now();
  const from = to - Math.min(MOST, Math.max(LEAST, to - Date.parse(alert.alert.raisedAt) + BEFORE));
  const [machine, cycles, temperatures, { events }] = await Promise.all([api.machine(id), api.cycles(id, from, to), api.temperatures(id, from, to), api.eventsOfMachine(id)]);
  return { machine, ids, source: { machine, cycles, temperatures, alerts: [alert.alert], events, from, to, isNow: true, zoomed: () => {} } };
}

/** Some of the rows, evenly from the first to the last, the newest first. @param {unknown[][]} rows */
const few = (rows) => (rows.length <= ROWS ? [...rows] : Array.from({ length: ROWS }, (_, i) => rows[Math.round((i * (rows.length - 1)) / (ROWS - 1))])).reverse();

/** @param {Evidence} evidence @returns {Drawn[]} */
const drawn = (evidence) => evidence.ids.flatMap((id) => allPlots(evidence.source).filter((plot) => plot.id === id && plot.spec.x.length));

/** @param {Drawn} plot @param {string} key @param {Evidence} evidence */
function figure(plot, key, evidence) {
  const [heading, hint] = t.plots[/** @type {'freeze'} */ (plot.id)];
  const name = `${evidence.machine.machine}: ${heading}`;
  return html`
    <figure class="plot proving" aria-labelledby="plot-${key}">
      <figcaption><h3 id="plot-${key}">${name}</h3><p class="hint">${hint} ${plot.caption}</p></figcaption>
      <div class="beside"><div><div class="canvas" data-plot=${key}></div>${evidenceBeside(evidence.machine, plot.id)}</div>
        <table class="few" aria-label="${name}, ${t.plots.table.toLowerCase()}"><thead><tr>${plot.columns.map((c) => html`<th scope="col">${c}</th>`)}</tr></thead>
          <tbody>${few(plot.rows).map((row) => html`<tr>${row.map((cell, i) => (i === 0 ? html`<th scope="row">${cell}</th>` : html`<td>${cell ?? '–'}</td>`))}</tr>`)}</tbody></table></div>
    </figure>`;
}

/** @param {Evidence | null | undefined} evidence undefined while it loads @param {string} key unique on the page */
export function evidenceFigures(evidence, key) {
  if (evidence === undefined) return html`<p class="quietly" role="status">${t.visits.plotsLoading}</p>`;
  if (evidence === null) return nothing;
  const plots = drawn(evidence);
  return plots.length ? plots.map((plot) => figure(plot, `${key}-${plot.id}`, evidence)) : html`<p class="hint">${t.plots.empty}</p>`;
}

/** Draws what stands on the page already. @param {Evidence | null | undefined} evidence @param {string} key */
export function drawEvidence(evidence, key) {
  if (!evidence) return;
  for (const plot of drawn(evidence)) plotIn({ id: `${key}-${plot.id}`, spec: { ...plot.spec, height: 200 } });
}
