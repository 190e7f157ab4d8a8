// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { adviceParts } from './alert-parts.js';
import { api, me, Refused } from './api.js';
import { now } from './clock.js';
import { dateTimeText, when } from './format.js';
import { frame, show, title } from './frame.js';
import { t } from './texts.js';
import { emptyDraft, missing, workForm } from './work-form.js';
import { keepPage } from './work-offline.js';
import { deliver, draft as keptDraft, drop, finish, keepDraft, keepSheet, reopen, sent, sheet as keptSheet, waiting } from './work-outbox.js';

/** @typedef {import('./work-outbox.js').Draft} Draft */

const machine = decodeURIComponent(location.pathname.split('/')[2] ?? '');
const RETRY_MS = 30_000;

let sheet = keptSheet(machine);
/** Whether the sheet is of now. */
let fresh = false;
let failed = '';
/** Whether the server says that there is no such machine. */
let unknown = false;
/** @type {boolean | null} null until it is known */
let offlineReady = null;
/** @type {Draft} */
let draft = keptDraft(machine) ?? emptyDraft(sheet);
let message = '';
let finished = '';
let kept = true;

function visit() {
  const given = new URLSearchParams(location.search).get('visit') ?? '';
  return /^[0-9a-f-]{36}$/i.test(given) ? given : undefined;
}

async function load() {
  try {
    const [data, who] = await Promise.all([api.machine(machine), me()]);
    keepSheet(data, who);
    const first = !sheet;
    sheet = { machine: data, me: who, at: now(), aheadMs: now() - Date.now() };
    if (first && !keptDraft(machine)) draft = emptyDraft(sheet);
    fresh = true;
    failed = '';
  } catch (e) {
    fresh = false;
    unknown = e instanceof Refused && e.status === 404;
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

function changed() {
  kept = keepDraft(machine, draft);
  draw();
}

/** @param {SubmitEvent} e */
function submit(e) {
  e.preventDefault();
  message = missing(draft);
  if (message || !sheet) {
    draw();
    /** @type {HTMLElement | null} */ (document.querySelector('.work .told'))?.focus();
    return;
  }
  // without a connection the product's clock is reckoned from this phone's
  const at = fresh ? now() : Date.now() + sheet.aheadMs;
  try {
    finish({
      id: draft.id, machine, account: sheet.me.account.id, accountName: sheet.me.account.name,
      time: new Date(at).toISOString(), draft: { ...draft, visit: draft.visit ?? visit() },
    });
  } catch {
    message = t.work.noRoom;
    return draw();
  }
  finished = draft.id;
  draft = emptyDraft(sheet);
  draw();
  scrollTo(0, 0);
  deliver();
}

/** @param {import('./work-outbox.js').Waiting} w */
const waits = (w) => html`
  <li data-waiting=${w.id}><b>${w.machine}, ${dateTimeText(w.time)}:</b> ${w.problem ? t.work.notTaken(w.problem) : t.work.waits}
    ${!w.problem && fresh && sheet && sheet.me.account.id !== w.account ? t.work.ofAnother(w.accountName) : nothing}
    <span class="buttons">${w.problem ? html`
      <button type="button" @click=${() => { reopen(w); location.assign(`/work-report/${w.machine}`); }}>${t.work.reopen}</button>
      <button type="button" @click=${() => drop(w.id)}>${t.work.drop}</button>` : html`
      <button type="button" @click=${() => { deliver(); load(); }}>${t.work.sendNow}</button>`}</span></li>`;

function outbox() {
  const list = waiting();
  const here = sent().filter((s) => s.machine === machine).slice(0, 3);
  return html`<div role="status" class="outbox">
    ${list.length ? html`<ul class="well waiting">${list.map(waits)}</ul>` : nothing}
    ${here.length ? html`<ul class="well">${here.map((s) => html`<li data-sent=${s.id}><b>${s.machine}, ${dateTimeText(s.time)}:</b> ${t.work.sent}</li>`)}</ul>` : nothing}
  </div>`;
}

function standing() {
  if (unknown) return html`<p class="notice" role="alert">${t.failed(failed)}</p>`;
  if (!fresh && sheet) return html`<p class="notice" data-offline>${t.work.offline(failed)} ${when(new Date(sheet.at).toISOString())}</p>`;
  if (!fresh) return html`<p class="notice" data-offline>${t.work.nothingKnown(failed)}</p>`;
  if (offlineReady === null) return nothing;
  return html`<p class="hint" data-offline-ready=${offlineReady}>${offlineReady ? t.work.ready : t.work.notReady}</p>`;
}

/** What detection thinks and what to check: the same as on the alert's page. */
const advice = () => sheet && sheet.machine.openAlerts.length > 0 ? html`
  <details class="panel"><summary>${t.work.advice(sheet.machine.openAlerts.length)}</summary>
    ${sheet.machine.openAlerts.map((a, i) => html`<p><b>${a.alert.headline}</b></p>${adviceParts(a.advice, `work-${i}`, 2)}`)}</details>` : nothing;

function content() {
  if (unknown) return nothing;
  if (fresh && sheet && !sheet.me.permissions.includes('report-work')) return html`<p class="notice">${t.work.notPermitted}</p>`;
  if (finished) return html`<p class="buttons"><a class="button" href="/machines/${machine}">${t.work.toMachine}</a>
    <button type="button" @click=${() => { finished = ''; draw(); }}>${t.work.another}</button></p>`;
  if (!sheet && failed === '') return html`<p class="quietly" role="status">${t.loading}</p>`;
  if (!sheet) return nothing;
  return html`${advice()}
    ${workForm(sheet.machine, draft, changed, submit)}
    <p role="alert" class="told" tabindex="-1">${message || (kept ? '' : t.work.noRoom)}</p>`;
}

function draw() {
  const place = sheet ? [sheet.machine.site.name, sheet.machine.room].filter(Boolean).join(', ') : '';
  show(html`<div class="work">
    <div class="head"><h1>${t.work.title(machine)}</h1><p class="summary">${place}</p></div>
    ${outbox()} ${standing()} ${content()}
  </div>`);
}

frame();
title(t.work.title(machine));
draw();
load().then(deliver);
addEventListener('load', () => keepPage().then((ready) => { offlineReady = ready; draw(); }));
addEventListener('work-kept', draw);
addEventListener('online', () => load().then(deliver));
addEventListener('offline', load);
document.addEventListener('visibilitychange', () => { if (!document.hidden) load().then(deliver); });
setInterval(() => { if (!document.hidden && (!fresh || waiting().length)) load().then(deliver); }, RETRY_MS);
