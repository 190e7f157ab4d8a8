// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { DAY } from './format.js';
import { thresholdTexts as words } from './texts/thresholds.js';
import { shareOf } from './threshold-figures.js';
import { causes, word } from './words.js';

/** Two policies side by side by machine and by cause, with a way to the plots that show it. */

/** @typedef {import('./thresholds-api.js').Sums} Sums */
/** @typedef {import('./thresholds-api.js').MachineSides} MachineSides */
/** @typedef {import('./thresholds-api.js').CauseSides} CauseSides */
/** @typedef {import('./thresholds-api.js').BackTest} BackTest */

const MACHINES_IN_WORDS = 3;

/** A week of a machine's plots, up to three days after a moment. @param {string} machine @param {number} at */
export const plotsAround = (machine, at) => `/machines/${encodeURIComponent(machine)}?hours=168&to=${encodeURIComponent(new Date(at + 3 * DAY).toISOString())}`;

/** @param {import('./thresholds-api.js').Plots} p @param {unknown} text */
const link = (p, text) => html`<a href=${plotsAround(p.machine, Date.parse(p.at))} aria-label="${words.plots}: ${p.machine}">${text}</a>`;

/** One figure by both policies; as one where it is the same. @param {unknown} current @param {unknown} candidate */
const pair = (current, candidate) => (current === candidate ? current : html`${current} ${words.becomes} <b>${candidate}</b>`);

/** Problems that both knew, the changed numbers earlier or later. @param {Sums} s of the changed */
const shifted = (s) => [s.earlier ? words.sideEarlier(s.earlier) : '', s.later ? words.sideLater(s.later) : ''].filter(Boolean).join(', ') || '–';

/** @param {Sums} a in force @param {Sums} c changed @param {unknown} known */
const cells = (a, c, known) => html`
  <td data-column=${words.sideColumns.known}>${known}</td>
  <td data-column=${words.sideColumns.missed}>${pair(a.problems - a.found, c.problems - c.found)}</td>
  <td data-column=${words.sideColumns.shifted}>${shifted(c)}</td>
  <td data-column=${words.sideColumns.right}>${pair(a.right, c.right)}</td>
  <td data-column=${words.sideColumns.wrong}>${pair(a.wrong, c.wrong)}</td>
  <td data-column=${words.sideColumns.unlabelled}>${pair(a.unlabelled + a.contradicting, c.unlabelled + c.contradicting)}</td>`;

/** @param {string} first what rows are of */
const head = (first) => html`<thead><tr>${[first, words.sideColumns.known, words.sideColumns.missed, words.sideColumns.shifted, words.sideColumns.right, words.sideColumns.wrong, words.sideColumns.unlabelled, words.sideColumns.plots]
  .map((c) => html`<th scope="col">${c}</th>`)}</tr></thead>`;

/** @param {Sums} s */
const known = (s) => (s.problems ? words.ofAll(s.found, s.problems) : '–');

/** @param {MachineSides} m */
const machineRow = (m) => html`
  <tr class=${m.differs ? 'moves' : nothing}><th scope="row">${m.plots?.machine === m.name ? html`<a href="/machines/${encodeURIComponent(m.name)}">${m.name}</a>` : m.name || words.noMachine}</th>
    ${cells(m.current, m.candidate, pair(known(m.current), known(m.candidate)))}
    <td data-column=${words.sideColumns.plots}>${m.plots ? link(m.plots, words.plots) : '–'}</td></tr>`;

/** @param {string} label @param {MachineSides[]} list */
const machineTable = (label, list) => html`
  <div class="sheet sides" tabindex="0" role="region" aria-label=${label}><table>${head(words.sideColumns.machine)}<tbody>${list.map(machineRow)}</tbody></table></div>`;

/** @param {BackTest} b */
function machineParts(b) {
  const [differ, alike] = [b.byMachine.filter((m) => m.differs), b.byMachine.filter((m) => !m.differs)];
  return html`
    <h3>${words.sideMachines}</h3><p class="hint">${words.sideMachinesMeans}</p>
    ${b.byMachine.length < b.byMachineCount ? html`<p class="hint">${words.sideListed(b.byMachine.length, b.byMachineCount)}</p>` : nothing}
    ${differ.length ? machineTable(words.sideMachines, differ) : html`<p>${b.byMachine.length ? words.sideNoneDiffers : words.sideNone}</p>`}
    ${alike.length ? html`<details class="fold"><summary>${words.sideAlike(alike.length)}</summary>${machineTable(words.sideAlike(alike.length), alike)}</details>` : nothing}`;
}

/** @param {CauseSides} c */
const causeRow = (c) => html`
  <tr class=${c.differs ? 'moves' : nothing}><th scope="row">${c.cause ? word(causes, c.cause) : words.noCause}</th>
    ${cells(c.current, c.candidate, c.current.problems === 0 ? '–' : pair(shareOf(c.current.found, c.current.problems, c.currentShare), shareOf(c.candidate.found, c.candidate.problems, c.candidateShare)))}
    <td data-column=${words.sideColumns.plots}>${c.plots.length ? c.plots.slice(0, MACHINES_IN_WORDS).map((p, i) => html`${i ? ', ' : ''}${link(p, p.machine)}`) : '–'}</td></tr>`;

/** @param {BackTest} b */
export const sideParts = (b) => html`
  ${machineParts(b)}
  ${b.byCause.length ? html`<h3>${words.causes}</h3><p class="hint">${words.causesMean}</p>
    <div class="sheet sides" tabindex="0" role="region" aria-label=${words.causes}><table>${head(words.sideColumns.cause)}<tbody>${b.byCause.map(causeRow)}</tbody></table></div>` : nothing}`;
