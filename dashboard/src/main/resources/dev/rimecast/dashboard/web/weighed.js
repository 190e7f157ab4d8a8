// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { number, quantity, when } from './format.js';
import { can } from './frame.js';
import { t } from './texts.js';

/** @typedef {import('./api.js').Weighed} Weighed */

let message = '';
let sending = false;

/** A decimal with a point, at most three places, whatever the browser took. @param {string} value */
export const kilograms = (value) => String(Math.round(Number(value) * 1000) / 1000);

/** @param {SubmitEvent} e @param {string} machine @param {() => void} changed */
async function send(e, machine, changed) {
  e.preventDefault();
  const form = /** @type {HTMLFormElement} */ (e.target);
  if (sending) return;
  sending = true;
  try {
    await api.reportOfMachine(machine, { event: 'harvest-weighed', detail: kilograms(String(new FormData(form).get('kilograms'))) });
    form.reset();
    message = '';
  } catch (e) {
    message = t.weighed.notStored(/** @type {Error} */ (e).message);
  }
  sending = false;
  changed();
}

/** @param {Weighed} w */
const row = (w) => html`<tr><th scope="row">${when(w.time)}${w.by ? html` <span class="hint">${w.by}</span>` : nothing}</th><td>${t.weighed.inKilograms(number(w.kilograms, 2))}</td>
  ${w.rate ? html`<td>${quantity(w.rate.kgPerDay, 'kg')}</td><td>${t.weighed.share(Math.round(w.rate.share * 100), quantity(w.rate.allowedKgPerDay, 'kg'))}${w.rate.enough ? nothing : html` <b>${t.weighed.little}</b>`}</td>`
    : html`<td colspan="2" class="hint">${t.weighed.noCycle}</td>`}</tr>`;

/** @param {Weighed[]} harvests newest first @param {import('./api.js').Machine} machine @param {() => void} changed */
export const weighedHarvests = (harvests, machine, changed) => html`
  <section class="panel" aria-labelledby="weighed"><h2 id="weighed">${t.weighed.title}</h2>
    ${harvests.length ? html`<div class="scroll" tabindex="0" role="region" aria-label=${t.weighed.title}><table class="care"><thead><tr><th scope="col">${t.weighed.when}</th><th scope="col">${t.weighed.weight}</th><th scope="col">${t.weighed.day}</th><th scope="col">${t.weighed.allowed}</th></tr></thead>
      <tbody>${harvests.map(row)}</tbody></table></div>` : html`<p>${t.weighed.none}</p>`}
    ${can('report') ? html`<form class="filter" @submit=${(/** @type {SubmitEvent} */ e) => send(e, machine.machine, changed)}>
      <label>${t.weighed.kilograms}<input name="kilograms" type="number" inputmode="decimal" min="0.01" max="50" step="any" required autocomplete="off"></label>
      <button>${t.weighed.send}</button></form>` : nothing}
    <div role="alert">${message ? html`<p class="told">${message}</p>` : nothing}</div>
    <p class="hint">${t.weighed.hint}</p></section>`;
