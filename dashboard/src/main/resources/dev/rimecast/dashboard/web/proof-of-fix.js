// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { dayText, quantity, when } from './format.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { causes, conditions, quantities, word } from './words.js';

/** @typedef {import('./api.js').ProofOfFix} ProofOfFix */

/** @param {ProofOfFix} proof */
const numbers = (proof) => html`
  <div class="scroll" tabindex="0" role="region" aria-label=${t.proof.table}><table class="proved">
    <thead><tr><th scope="col">${t.proof.what}</th><th scope="col">${t.proof.before}</th><th scope="col">${t.proof.lastCycle}</th><th scope="col">${t.proof.expected}</th></tr></thead>
    <tbody>${proof.shown.map((s) => html`<tr><th scope="row">${word(quantities, s.feature)}</th>
      <td>${s.before === undefined ? '–' : quantity(s.before, s.unit)}</td>
      <td>${quantity(s.measured, s.unit)}</td>
      <td>${quantity(s.expected, s.unit)} ± ${quantity(2 * s.sigma, s.unit === 'Cel' ? 'K' : s.unit)}</td></tr>`)}</tbody></table></div>`;

/** @param {ProofOfFix} proof */
const looks = (proof) => html`
  <ol class="looks">${proof.looks.map((l) => html`<li><b>${t.proof.checks[l.check]}</b>: ${t.proof.verdicts[l.verdict]} <span class="hint">${when(l.at)}</span></li>`)}</ol>`;

/** @param {ProofOfFix} proof */
const about = (proof) => (proof.about.length
  ? proof.about.map((c) => word(conditions, c)).join(', ')
  : t.proof.aboutNothing);

/** @param {ProofOfFix} proof @param {boolean} open @param {unknown} [figure] */
const one = (proof, open, figure = nothing) => html`
  <article class="proof">
    <h3>${t.proof.workOf} ${when(proof.workedAt, dayText)}${proof.cause ? html`: ${word(causes, proof.cause)}` : nothing}</h3>
    <p class="lead"><b>${t.proof.verdicts[proof.verdict]}.</b> ${prose(proof.summary)}</p>
    <p>${t.proof.about}: ${about(proof)}.${proof.raisedSince.length ? ` ${t.proof.since}: ${proof.raisedSince.map((c) => word(conditions, c)).join(', ')}.` : ''}</p>
    ${figure}
    <details class="fold" ?open=${open}><summary>${t.proof.details}</summary>
      ${proof.shown.length ? numbers(proof) : nothing}${looks(proof)}</details>
  </article>`;

/**
 * Whether the last work has held, and the work before it. Nothing where no work was ever recorded.
 * @param {ProofOfFix[]} proofs newest first @param {unknown} figure of the newest
 */
export const proofOfFix = (proofs, figure) => (proofs.length === 0 ? nothing : html`
  <section class="panel" aria-labelledby="proof"><h2 id="proof">${t.proof.title}</h2>
    ${one(proofs[0], !proofs[0].last, figure)}
    ${proofs.length > 1 ? html`<details class="fold"><summary>${t.proof.earlier(proofs.length - 1)}</summary>${proofs.slice(1).map((p) => one(p, false))}</details>` : nothing}
    <p class="hint">${t.proof.hint}</p></section>`);
