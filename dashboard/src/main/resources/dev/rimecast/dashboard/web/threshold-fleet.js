// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { difference, number, when } from './format.js';
import { machines } from './texts/common.js';
import { fleetLookTexts as words } from './texts/fleet-look.js';
import { progressParts } from './threshold-past.js';
import { bench } from './thresholds-api.js';
import { channels, conditions, quantities, word } from './words.js';

/** The fleet itself: how well detection knows it. The section keeps its own state, and the page asks it to load and to draw. */

/** @typedef {import('./thresholds-api.js').Look} Look */
/** @typedef {import('./thresholds-api.js').Found} Found */

const HOURS_A_DAY = 24;

/** @type {import('./thresholds-api.js').Looks | null} */
let looks = null;
let problem = '';
let busy = false;
let days = '60';
let fitDays = '14';

/** @param {Look | undefined} look */
const isOpen = (look) => look?.state === 'waiting' || look?.state === 'running';
export const isLooking = () => isOpen(looks?.newest);

export async function loadLooks() {
  looks = await bench.looks();
}

/** Does something, and says what is wrong where it can't be. @param {() => Promise<unknown>} deed @param {() => void} draw */
async function after(deed, draw) {
  busy = true;
  problem = '';
  draw();
  try {
    await deed();
    await loadLooks();
  } catch (e) {
    problem = /** @type {Error} */ (e).message;
  }
  busy = false;
  draw();
}

/** The machine's plots over the days that were looked at. @param {string} machine @param {string} until @param {number} over */
const plots = (machine, until, over) => html`<a href="/machines/${encodeURIComponent(machine)}?hours=${over * HOURS_A_DAY}&amp;to=${encodeURIComponent(until)}">${machine}</a>`;

/** @param {number} deviations */
const off = (deviations) => words.off(number(Math.abs(deviations), 1), deviations > 0);

/** @param {string} label @param {string[]} columns @param {unknown[][]} rows the first cell of each is what it is about */
const table = (label, columns, rows) => html`
  <div class="sheet fleet-look" tabindex="0" role="region" aria-label=${label}><table><thead><tr>${columns.map((c) => html`<th scope="col">${c}</th>`)}</tr></thead>
    <tbody>${rows.map((row) => html`<tr>${row.map((cell, i) => (i === 0 ? html`<th scope="row">${cell}</th>` : html`<td data-column=${columns[i]}>${cell}</td>`))}</tr>`)}</tbody></table></div>`;

/** @param {number} listed @param {number} all */
const rest = (listed, all) => (listed < all ? html`<p class="hint">${words.more(all - listed)}</p>` : nothing);

/** @param {Found} f @param {Look} look */
const expectations = (f, look) => html`
  <h3>${words.expectations}</h3>
  <p>${words.share(f.off, f.judged, f.judged ? number((100 * f.off) / f.judged, 1) : '0', f.off - f.unexplained, f.unexplained)}</p>
  ${f.unfit.length ? html`${table(words.expectations, words.unfitColumns, f.unfit.map((u) => [
    plots(u.machine, f.until, look.fitDays), word(quantities, u.feature), html`${off(u.median)}<br><span class="hint">${words.cycles(u.cycles)}</span>`,
    u.alerts.length ? u.alerts.map((c) => word(conditions, c)).join(', ') : html`<b>${words.noAlert}</b>`]))}
    ${rest(f.unfit.length, f.unfitCount)}<p class="hint">${words.unfitMeans}</p>` : nothing}
  ${f.fits.length ? html`<h3>${words.spread}</h3><p class="hint">${words.spreadMeans}</p>
    ${table(words.spread, words.fitColumns, f.fits.map((fit) => [word(quantities, fit.feature), html`<b>${number(100 * fit.withinTwo, 1)} %</b>`,
    words.within(machines(fit.machines), number(fit.cycles, 0))]))}` : nothing}`;

/** @param {import('./thresholds-api.js').SensorChange} s */
const changed = (s) => (s.change === 'silent' ? words.silent(number(100 * s.amount, 0))
  : html`${words.changes[s.change] ?? s.change}: <b>${signed(s.amount)}</b><br><span class="hint">${words.interval(signed(s.low), signed(s.high))}</span>`);

/** @param {number} kelvin */
const signed = (kelvin) => `${kelvin > 0 ? '+' : kelvin < 0 ? '−' : ''}${difference(Math.abs(kelvin))}`;

/** @param {Found} f @param {Look} look */
const sensors = (f, look) => html`
  <h3>${words.sensors}</h3>
  ${f.sensors.length ? html`${table(words.sensors, words.sensorColumns, f.sensors.map((s) => [plots(s.machine, f.until, look.days), word(channels, s.channel), changed(s)]))}
    ${rest(f.sensors.length, f.sensorCount)}` : html`<p>${words.noSensor}</p>`}`;

/** @param {Found} f */
const groups = (f) => html`
  <h3>${words.groups}</h3>
  ${f.groups.length ? html`${table(words.groups, words.groupColumns, f.groups.map((g) => [g.group, word(quantities, g.feature),
    html`${off(g.median)}<br><span class="hint">${machines(g.machines)}</span>`, off(g.others)]))}<p class="hint">${words.groupMeans}</p>` : html`<p>${words.noGroup}</p>`}`;

/** @param {import('./thresholds-api.js').LeftOut} l */
const reason = (l) => html`<li>${machines(l.count)}: ${word(words.reasons, l.reason)}<br><span class="hint">${l.machines.map((m, i) => html`${i ? ', ' : ''}<a href="/machines/${encodeURIComponent(m)}">${m}</a>`)}${l.count > l.machines.length ? ` ${words.andMore(l.count - l.machines.length)}` : ''}</span></li>`;

/** Nothing is left out silently. @param {Found} f */
const leftOut = (f) => html`
  <h3>${words.leftOut}</h3><p class="hint">${words.leftOutMeans}</p>
  ${table(words.leftOut, words.leftColumns, f.parts.map((p) => [word(words.parts, p.part), machines(p.looked),
    p.leftOut.length ? html`<ul class="plain">${p.leftOut.map(reason)}</ul>` : words.none]))}`;

/** @param {Look} look */
const answer = (look) => (look.found ? html`
  <div class="panel run" data-look=${look.id}>
    <div class="openhead"><h3>${words.asOf} ${when(look.found.until)}</h3><span class="hint">${words.asked(look.by)}, ${when(look.askedAt)}; ${words.spans(look.fitDays, look.days)}</span></div>
    ${expectations(look.found, look)}${sensors(look.found, look)}${groups(look.found)}${leftOut(look.found)}</div>` : nothing);

/** What of the newest is to be told beside the last answer. @param {Look | undefined} look @param {() => void} draw */
function underWay(look, draw) {
  if (!look || look.state === 'done') return nothing;
  return html`
    <p>${words.states[look.state]} <span class="hint">${words.asked(look.by)}, ${when(look.askedAt)}</span></p>
    ${progressParts(look.progress, words.step)}
    ${look.problem ? html`<p class="told" role="alert">${look.problem}</p>` : nothing}
    ${isOpen(look) ? html`<p class="buttons"><button type="button" ?disabled=${busy} @click=${() => after(bench.endLook, draw)}>${words.cancel}</button></p>` : nothing}`;
}

/** @param {string} name @param {string} label @param {string} chosen @param {string[]} of @param {(d: string) => void} take */
const span = (name, label, chosen, of, take) => html`<label>${label}<select name=${name} @change=${(/** @type {any} */ e) => take(e.target.value)}>
  ${of.map((d) => html`<option value=${d} ?selected=${d === chosen}>${words.days(d)}</option>`)}</select></label>`;

/** Everybody who sees every site may ask: it changes nothing. @param {boolean} canLookBack @param {() => void} draw */
export const fleetParts = (canLookBack, draw) => html`
  <section id="fleet-look"><h2>${words.title}</h2><p class="hint">${words.hint}</p>
    ${canLookBack ? html`<div class="filter">
      <button type="button" ?disabled=${busy || isLooking()} @click=${() => after(() => bench.look({ days: Number(days), fitDays: Number(fitDays) }), draw)}>${looks?.answered ? words.again : words.look}</button>
      ${span('fitDays', words.fitDays, fitDays, ['7', '14', '28'], (d) => { fitDays = d; })}${span('days', words.sensorDays, days, ['30', '60', '120'], (d) => { days = d; })}</div>` : nothing}
    <div role="status">${underWay(looks?.newest, draw)}</div>
    ${problem ? html`<p class="told" role="alert">${problem}</p>` : nothing}
    ${looks === null ? html`<p class="quietly">${words.loading}</p>` : looks.answered ? answer(looks.answered) : isOpen(looks.newest) ? nothing : html`<p class="well">${words.nothing}</p>`}</section>`;
