// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { call, change, post } from './api.js';
import { ask } from './ask.js';
import { now } from './clock.js';
import { when } from './format.js';
import { can, failure } from './frame.js';
import { markTexts as words } from './texts/marks.js';
import { causes, word } from './words.js';

/** What analysts say of a machine's past: on the page of an alert and on that of the machine. */

/**
 * @typedef {{id: string, machine: string, site: string, alert?: string, from: string, to: string, mark: 'real' | 'not' | 'unknown', cause?: string,
 *   note: string, at: string, who: string, state: 'standing' | 'superseded' | 'withdrawn', withdrawnAt?: string, withdrawnBy?: string}} Mark
 * @typedef {{machine: string, alert?: string, from: number, to: number}} Subject
 */

const MINUTE = 60_000;

/** @type {Mark[]} */
let marks = [];
let failed = '';

/** @param {string} machine @param {() => void} draw */
export async function loadMarks(machine, draw) {
  try {
    marks = await call(`marks?machine=${encodeURIComponent(machine)}`);
    failed = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

/** As an input of local time takes it. @param {number} at */
const local = (at) => new Date(at - new Date(at).getTimezoneOffset() * MINUTE).toISOString().slice(0, 16);
/** @param {string} text of such an input */
const iso = (text) => new Date(text).toISOString();

const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
const byName = Object.entries(causes).sort(([, a], [, b]) => a.localeCompare(b));

/** @param {Subject} subject @param {() => void} draw */
function add(subject, draw) {
  let verdict = 'real';
  // of the same alert the same span again, so that what is said now goes before what was said
  const said = marks.find((m) => m.state === 'standing' && subject.alert && m.alert === subject.alert);
  // to the minute below and above, so that the alert itself lies in it, and never later than now
  const [from, to] = said ? [Date.parse(said.from), Date.parse(said.to)] : [Math.floor(subject.from / MINUTE) * MINUTE, Math.min(Math.ceil(subject.to / MINUTE), Math.floor(now() / MINUTE)) * MINUTE];
  ask(words.ask, html`<b>${subject.machine}</b>`, (/** @type {() => void} */ again) => html`
    <label>${words.what}<select name="mark" @change=${(/** @type {any} */ e) => { verdict = e.target.value; again(); }}>
      ${Object.entries(words.verdicts).map(([code, name]) => html`<option value=${code} ?selected=${code === verdict}>${name}</option>`)}</select></label>
    ${verdict === 'real' ? html`<label>${words.cause}<select name="cause"><option value="">${words.causeUnknown}</option>
      ${byName.map(([code, name]) => html`<option value=${code}>${name}</option>`)}</select></label>` : nothing}
    <label>${words.from(zone)}<input type="datetime-local" name="from" .defaultValue=${local(from)} required></label>
    <label>${words.to}<input type="datetime-local" name="to" .defaultValue=${local(Math.max(to, from + MINUTE))} required></label>
    <label>${words.note}<textarea name="note" rows="2" maxlength="2000"></textarea></label>`,
  (data) => change('marks', post({ machine: subject.machine, alert: subject.alert, mark: data.mark, cause: data.cause || undefined, from: iso(data.from), to: iso(data.to), note: data.note })),
  () => loadMarks(subject.machine, draw));
}

/** @param {Mark} m */
const text = (m) => html`<b>${words.verdicts[m.mark]}</b>${m.cause ? html`: ${word(causes, m.cause)}` : nothing}<br>${when(m.from)} ${words.until} ${when(m.to)}
  ${m.note ? html`<br><q>${m.note}</q>` : nothing}`;

/** @param {Mark} m @param {() => void} draw */
const withdraw = (m, draw) => ask(words.withdraw, text(m), nothing, () => change(`marks/${m.id}`, { method: 'DELETE' }), () => loadMarks(m.machine, draw));

/** @param {Mark} m @param {() => void} draw */
const item = (m, draw) => html`
  <li class="person" data-mark=${m.id}><div>${text(m)}
      <p class="hint">${m.who}, ${when(m.at)}${m.state === 'withdrawn' ? html`; ${words.withdrawnBy(m.withdrawnBy ?? '')} ${when(m.withdrawnAt ?? m.at)}` : m.state === 'superseded' ? `; ${words.superseded}` : ''}</p></div>
    ${m.state === 'standing' && can('edit-thresholds') ? html`<p class="buttons"><button type="button" aria-label="${words.withdraw.send}: ${words.verdicts[m.mark]}, ${m.who}" @click=${() => withdraw(m, draw)}>${words.withdraw.send}</button></p>` : nothing}</li>`;

/** Nothing where there is nothing to see or to do. @param {Subject | null} subject @param {() => void} draw */
export function markParts(subject, draw) {
  const may = can('edit-thresholds');
  if (!subject || (!may && marks.length === 0 && !failed)) return nothing;
  const standing = marks.filter((m) => m.state === 'standing');
  const over = marks.filter((m) => m.state !== 'standing');
  return html`
    <section id="marks"><h2>${words.title}</h2><p class="hint">${words.hint}</p>
      ${failed ? failure(failed, () => loadMarks(subject.machine, draw)) : nothing}
      ${standing.length ? html`<ul class="people">${standing.map((m) => item(m, draw))}</ul>` : html`<p class="quietly">${words.none}</p>`}
      ${over.length ? html`<details class="fold"><summary>${words.over(over.length)}</summary><ul class="people">${over.map((m) => item(m, draw))}</ul></details>` : nothing}
      ${may ? html`<p class="buttons"><button type="button" @click=${() => add(subject, draw)}>${words.add}</button></p>` : nothing}</section>`;
}
