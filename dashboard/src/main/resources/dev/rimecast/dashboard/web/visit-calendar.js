// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { when } from './format.js';
import { t } from './texts.js';

/** @type {import('./api.js').CalendarLink[] | null} */
let links = null;
/** The address of a link that was just made; it is told once. */
let made = '';
let failed = '';

/** @param {() => void} draw */
async function load(draw) {
  try {
    links = await api.calendars();
    failed = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

/** @param {SubmitEvent} e @param {() => void} draw */
async function make(e, draw) {
  e.preventDefault();
  const engineer = String(new FormData(/** @type {HTMLFormElement} */ (e.target)).get('engineer') ?? '');
  try {
    made = location.origin + (await api.makeCalendar(engineer ? { engineer } : {})).path;
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  await load(draw);
}

/** @param {string} link @param {() => void} draw */
async function revoke(link, draw) {
  try {
    await api.revokeCalendar(link);
    made = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  await load(draw);
}

/** Links by which a calendar program reads visits. @param {import('./api.js').Engineer[]} engineers @param {() => void} draw */
export const calendarPart = (engineers, draw) => html`
  <details class="table panel calendar" @toggle=${(/** @type {any} */ e) => { if (e.target.open && !links) load(draw); }}>
    <summary>${t.visits.calendar.title}</summary>
    <p class="hint">${t.visits.calendar.intro}</p>
    <form class="filter" @submit=${(/** @type {SubmitEvent} */ e) => make(e, draw)}>
      <label>${t.visits.calendar.whose}<select name="engineer"><option value="">${t.visits.everybody}</option>${engineers.map((e) => html`<option>${e.name}</option>`)}</select></label>
      <button>${t.visits.calendar.make}</button></form>
    <div role="status">${made ? html`<div class="well once"><p>${t.visits.calendar.once}</p><code>${made}</code></div>` : nothing}${failed ? html`<p class="warmly">${failed}</p>` : nothing}</div>
    ${links?.length ? html`<ul class="people">${links.map((l) => html`<li class="person"><div><b>${l.engineer ?? t.visits.everybody}</b> <span class="hint">${t.visits.calendar.since} ${when(l.madeAt)}</span></div>
      <button type="button" aria-label="${t.visits.calendar.revoke}: ${l.engineer ?? t.visits.everybody}" @click=${() => revoke(l.id, draw)}>${t.visits.calendar.revoke}</button></li>`)}</ul>` : nothing}
  </details>`;
