// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { t } from './texts.js';

const ROWS = 48;

/**
 * The same as the plot, for who does not see it or wants the figures.
 * @param {string} title
 * @param {string[]} columns
 * @param {unknown[][]} rows oldest first
 */
export function plotTable(title, columns, rows) {
  if (rows.length === 0) return nothing;
  const shown = rows.slice(-ROWS).reverse();
  const note = t.plots.lastRows(shown.length, rows.length);
  return html`
    <details class="table"><summary>${t.plots.table}</summary>
      <div class="scroll" tabindex="0" role="region" aria-label="${title}, ${t.plots.table.toLowerCase()}">
        <table><thead><tr>${columns.map((c) => html`<th scope="col">${c}</th>`)}</tr></thead>
          <tbody>${shown.map((row) => html`<tr>${row.map((cell, i) => (i === 0 ? html`<th scope="row">${cell}</th>` : html`<td>${cell ?? '–'}</td>`))}</tr>`)}</tbody></table>
      </div>${note ? html`<p class="hint">${note}</p>` : nothing}
    </details>`;
}
