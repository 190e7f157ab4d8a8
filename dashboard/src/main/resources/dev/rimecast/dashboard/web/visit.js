// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { adviceParts, evidenceParts } from './alert-parts.js';
import { api, Refused } from './api.js';
import { eventItem } from './event-parts.js';
import { dateText, when } from './format.js';
import { can, failure, frame, line, show, title, waiting } from './frame.js';
import { listen } from './live.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { askToAct, askToMove, dayLong, partsOf } from './visit-parts.js';
import { conditions, word } from './words.js';

/** @typedef {import('./api.js').Visit} Visit */
/** @typedef {import('./api.js').Alert} Alert */

const id = decodeURIComponent(location.pathname.split('/')[2] ?? '');
const MOST_ALERTS = 6;
const MOST_EVENTS = 8;
/** @type {Visit | null} */
let visit = null;
/** Of each need, its alerts with everything about them. @type {Map<string, Alert[]>} */
const alerts = new Map();
/** @type {Map<string, import('./api.js').HappenedEvent[]>} */
const events = new Map();
let failed = '';

async function load() {
  try {
    visit = await api.visit(id);
    failed = '';
    title(`${visit.siteName}, ${dayLong(visit.day)}`);
    draw();
    await Promise.all([...visit.needs.map(loadNeed), ...new Set(visit.needs.flatMap((n) => n.machines))].map((part) => typeof part === 'string' ? loadEvents(part) : part));
  } catch (e) {
    failed = e instanceof Refused && e.status === 404 ? t.visits.missing : /** @type {Error} */ (e).message;
  }
  draw();
}

/** What is open of a case, or the care that is due. @param {import('./api.js').VisitNeed} need */
async function loadNeed(need) {
  const ids = need.kind === 'care' ? [need.ref]
    : (await api.oneCase(need.ref)).alerts.filter((a) => !a.clearedAt).map((a) => a.id).slice(0, MOST_ALERTS);
  alerts.set(need.id, await Promise.all(ids.map((each) => api.alert(each))));
}

/** @param {string} machine */
async function loadEvents(machine) {
  events.set(machine, (await api.eventsOfMachine(machine)).events.slice(0, MOST_EVENTS));
}

/** @param {Visit} v */
function facts(v) {
  const rows = /** @type {[string, unknown][]} */ ([
    [t.visits.day, html`${dayLong(v.day)}, ${v.from} <span class="hint">(${v.timeZone})</span>`],
    [t.visits.onSite, t.visits.minutes(v.minutes)],
    [t.visits.engineer, v.engineer],
    [t.alert.site, v.siteName],
    v.contact ? [t.visits.contact, v.contact] : null,
    [t.alert.state, t.visits.states[v.state]],
    v.note ? [t.visits.note, v.note] : null,
  ].filter(Boolean));
  return html`<dl class="facts">${rows.map(([name, value]) => html`<div><dt>${name}</dt><dd>${value}</dd></div>`)}</dl>`;
}

/** @param {Visit} v */
function buttons(v) {
  const plans = can('plan-visits');
  const button = (/** @type {string} */ text, /** @type {() => void} */ act, primary = false) => html`<button type="button" class=${primary ? 'primary' : nothing} @click=${act}>${text}</button>`;
  return html`<p class="buttons">
    ${plans && v.state === 'proposed' ? button(t.visits.accept.title, () => askToAct(v, 'accept', load), true) : nothing}
    ${plans && (v.state === 'proposed' || v.state === 'accepted') ? button(t.visits.move.title, move) : nothing}
    ${can('report') && v.state === 'accepted' ? button(t.visits.done.title, () => askToAct(v, 'done', load)) : nothing}
    ${button(t.visits.print, () => print())}</p>`;
}

async function move() {
  if (!visit) return;
  askToMove(visit, (await api.visits(false)).means.engineers, visit.day, load);
}

/** @param {import('./api.js').VisitNeed} need @param {number} index */
function needPart(need, index) {
  const found = alerts.get(need.id);
  return html`
    <section class="panel need" aria-labelledby="need-${index}">
      <h2 id="need-${index}">${index + 1}. ${need.title}</h2>
      <p class="likely">${need.machines.map((m) => html`<a class="id" href="/machines/${m}">${m}</a> `)}
        ${need.latest ? t.visits.latest(dateText(need.latest)) : t.visits.noDate} ${t.visits.takes(need.minutes)}</p>
      ${need.why ? html`<p>${prose(need.why)}</p>` : nothing}
      ${need.problem ? html`<p class="warmly">${need.problem}.</p>` : nothing}
      ${need.siteCanCheck ? html`<p>${t.visits.siteFirst}</p>` : nothing}
      ${!found ? html`<p class="quietly" role="status">${t.loading}</p>` : found.length === 0 ? html`<p>${t.visits.noAlert}</p>` : html`
        ${found.slice(0, 1).map((a) => adviceParts(a.advice, `${index}`, 3, `${index + 1}`))}
        ${found.map((a, i) => html`
          ${i > 0 || found.length > 1 ? html`<h3>${a.alert.machine ?? a.alert.gateway ?? ''}: ${word(conditions, a.alert.condition)}</h3><p>${prose(a.alert.summary)}</p>` : nothing}
          ${evidenceParts(a, `${index}-${i}`, found.length > 1 ? 4 : 3, found.length > 1 ? `${index + 1}.${i + 1}` : `${index + 1}`)}`)}`}
      ${need.machines.map((m) => html`<h3>${t.visits.machineHistory(m)}</h3>
        <p class="no-print"><a href="/machines/${m}">${t.visits.plots}</a></p>
        ${events.get(m)?.length ? html`<ul class="history">${events.get(m)?.map((e) => eventItem(e, false))}</ul>` : html`<p class="hint">${t.visits.noHistory}</p>`}`)}
      <p class="write">${t.visits.found} <span></span></p>
      <p class="write">${t.visits.didDo} <span></span></p>
    </section>`;
}

function draw() {
  const v = visit;
  if (!v) return show(waiting(t.visits.sheet, failed, load));
  const parts = partsOf(v.needs);
  show(html`
    <article class="one visit-sheet">
      <div class="head"><h1>${t.visits.sheetTitle(v.siteName)}</h1>
        <p class="lead">${dayLong(v.day)}, ${v.from}, ${v.engineer}</p>${buttons(v)}</div>
      ${failed ? failure(failed, load) : nothing}
      ${facts(v)}
      <section><h2>${t.visits.take}</h2>${parts.length ? html`<ul class="take">${parts.map((p) => html`<li>${p}</li>`)}</ul>` : html`<p>${t.visits.noParts}</p>`}</section>
      ${v.needs.length ? v.needs.map(needPart) : html`<p class="well">${t.visits.nothing}</p>`}
      <section class="no-print"><h2>${t.visits.history}</h2><ol class="history">${v.history.map((h) => html`<li>${when(h.at)} <b>${h.who}</b> ${h.what}${h.why ? html`: ${h.why}` : nothing}</li>`)}</ol></section>
    </article>`);
}

frame();
title(t.visits.sheet);
draw();
load();
listen({ kinds: 'visit', changed: () => load(), reload: load, line });
addEventListener('me-known', draw);
addEventListener('units-changed', draw);
