// @ts-check
/** Work that has not held: for whoever plans, whoever answers for it, and whoever goes there next. */
import { html, nothing } from './lib/lit-html/lit-html.js';
import { dayText, when } from './format.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { causes, word } from './words.js';

/** @typedef {import('./api.js').NotHeld} NotHeld */

/** @param {NotHeld} each @param {unknown} [which] */
const line = (each, which = nothing) => html`<li data-not-held=${each.proof}>${which}${t.notHeld.workOf} ${when(each.workedAt, dayText)}${each.cause ? ` (${word(causes, each.cause)})` : ''} ${t.notHeld.hasNot}: ${prose(each.summary)}</li>`;

/** Of one machine, beside what speaks for a cause. @param {NotHeld[] | undefined} list */
export const notHeldHere = (list) => (list?.length ? html`<ul class="not-held">${list.map((each) => line(each))}</ul>` : nothing);

/** Of every machine. @param {NotHeld[]} list */
export const notHeldPart = (list) => (list.length ? html`
  <section class="group" aria-labelledby="not-held"><h2 id="not-held">${t.notHeld.title} <span class="count">${list.length}</span></h2>
    <p class="hint">${t.notHeld.hint}</p>
    <ul class="history">${list.map((each) => line(each, html`<a class="id" href="/machines/${each.machine}">${each.machine}</a>: `))}</ul></section>` : nothing);
