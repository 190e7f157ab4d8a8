// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { adviceParts } from './alert-parts.js';
import { api, me, Refused } from './api.js';
import { now } from './clock.js';
import { when } from './format.js';
import { frame, show, title } from './frame.js';
import { listen } from './live.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { emptyDraft, missing, workForm } from './work-form.js';
import { knownJob } from './work-job.js';
import { keepPage } from './work-offline.js';
import { deliver, draft as keptDraft, finish, keepDraft, keepSheet, sheet as keptSheet, tidyPhotos, waiting, waitingPhotos } from './work-outbox.js';
import { photosReady } from './work-photos.js';
import { outbox, standing } from './work-standing.js';

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
let draft = withJob(keptDraft(machine) ?? emptyDraft(sheet));
let message = '';
let finished = '';
let kept = true;

function visit() {
  const given = new URLSearchParams(location.search).get('visit') ?? '';
  return /^[0-9a-f-]{36}$/i.test(given) ? given : undefined;
}

/** With the number that is known. */
function begun() {
  return withJob(emptyDraft(sheet));
}

/**
 * What nobody has touched is the number of what the form is opened for, or none: that of another visit is not sent with
 * this one. Who has emptied it has done so on purpose.
 * @param {Draft} written
 */
function withJob(written) {
  const untouched = (written.job ?? '') === (written.jobKnown ?? '');
  const known = sheet?.jobs?.[visit() ?? ''] ?? '';
  return sheet && untouched && written.job !== known ? Object.assign(written, { job: known, jobKnown: known }) : written;
}

async function load() {
  try {
    const known = api.machine(machine);
    const [data, who, proofs, job] = await Promise.all([known, me(), api.proofs(machine), known.then((m) => knownJob(m, visit()))]);
    const first = !sheet;
    sheet = keepSheet(data, who, proofs, visit() ?? '', job);
    draft = first && !keptDraft(machine) ? begun() : withJob(draft);
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
async function submit(e) {
  e.preventDefault();
  const written = draft;
  await photosReady(draw);
  // pressed twice
  if (written !== draft) return;
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
  draft = begun();
  draw();
  scrollTo(0, 0);
  deliver();
}

/** What detection thinks and what to check: the same as on the alert's page. */
const advice = () => sheet && sheet.machine.openAlerts.length > 0 ? html`
  <details class="panel"><summary>${t.work.advice(sheet.machine.openAlerts.length)}</summary>
    ${sheet.machine.openAlerts.map((a, i) => html`<p><b>${a.alert.headline}</b></p>${adviceParts(a.advice, `work-${i}`, 2)}`)}</details>` : nothing;

/** Whether what was done has held, while it is still being looked at: it changes with each cycle. */
function verdict() {
  const proof = sheet?.proofs?.[0];
  if (!proof || proof.last) return nothing;
  return html`<section class="panel" role="status" data-proof=${proof.verdict}><h2>${t.proof.title}</h2>
    <p class="lead"><b>${t.proof.verdicts[proof.verdict]}.</b> ${prose(proof.summary)}</p>
    <p class="hint">${t.proof.workOf} ${when(proof.workedAt)}. ${t.work.verdictHint}</p></section>`;
}

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
    ${outbox({ machine, account: fresh ? sheet?.me.account.id : undefined, load })}
    ${standing({ unknown, fresh, failed, at: sheet?.at, offlineReady })} ${unknown ? nothing : verdict()} ${content()}
  </div>`);
}

frame();
title(t.work.title(machine));
draw();
load().then(deliver);
tidyPhotos();
addEventListener('load', () => keepPage().then((ready) => { offlineReady = ready; draw(); }));
addEventListener('work-kept', draw);
listen({ kinds: 'alert', machine, changed: () => load(), reload: load, line: () => {} });
addEventListener('units-changed', draw);
addEventListener('online', () => load().then(deliver));
addEventListener('offline', load);
document.addEventListener('visibilitychange', () => { if (!document.hidden) load().then(deliver); });
setInterval(() => { if (!document.hidden && (!fresh || waiting().length || waitingPhotos().length)) load().then(deliver); }, RETRY_MS);
