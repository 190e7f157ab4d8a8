// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { evidenceBeside } from './evidence-plots.js';
import { main } from './frame.js';
import { Plot } from './plot.js';
import { plotTable } from './plot-table.js';
import { t } from './texts.js';

/** Pictures on the page: their frames, and drawing into them only what has changed. */

export const scheme = matchMedia('(prefers-color-scheme: dark)');

/** Paper is white, however dark the screen is: pictures are drawn for it before they are printed. @param {() => void} draw */
export function drawForPaper(draw) {
  const { dataset } = document.documentElement;
  addEventListener('beforeprint', () => { dataset.paper = 'true'; draw(); });
  addEventListener('afterprint', () => { delete dataset.paper; draw(); });
}

/** @param {import('./plot-time.js').Drawn} plot @param {import('./api.js').Machine} machine */
export function figure(plot, machine) {
  const [heading, hint] = t.plots[/** @type {'freeze'} */ (plot.id)];
  const empty = plot.spec.x.length === 0;
  return html`
    <section class="panel plot" aria-labelledby="plot-${plot.id}">
      <h3 id="plot-${plot.id}">${heading}</h3><p class="hint">${hint} ${plot.caption}</p>
      ${empty ? html`<p class="notice">${t.plots.empty}</p>` : nothing}
      <div class="canvas" data-plot=${plot.id} ?hidden=${empty}></div>
      ${evidenceBeside(machine, plot.id)}
      ${plotTable(heading, plot.columns, plot.rows)}
    </section>`;
}

/** @type {Map<string, Plot>} */
const plots = new Map();
/** @type {Map<string, string>} what was drawn last, so that a plot under the finger is not drawn for nothing */
const last = new Map();

/** Draws into its frame, which is on the page already. @param {{id: string, spec: import('./plot.js').Spec}} figure */
export function plotIn({ id, spec }) {
  const place = /** @type {HTMLElement | null} */ (main.querySelector(`[data-plot="${id}"]`));
  if (!place) return;
  const before = plots.get(id);
  const plot = before && before.place === place ? before : new Plot(place);
  plots.set(id, plot);
  const what = JSON.stringify([spec, scheme.matches, document.documentElement.dataset.paper]);
  if (plot === before && last.get(id) === what) return;
  last.set(id, what);
  plot.draw(spec);
}
