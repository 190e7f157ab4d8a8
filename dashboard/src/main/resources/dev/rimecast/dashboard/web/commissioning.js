// @ts-check
/** What is looked at when a machine is put up or moved: the list, and the record to print. */
import { html, nothing } from './lib/lit-html/lit-html.js';
import { acceptanceParts } from './acceptance.js';
import { api, me, Refused } from './api.js';
import { now } from './clock.js';
import { dateTimeText, when } from './format.js';
import { frame, show, title } from './frame.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { newId } from './new-id.js';
import { keepPage } from './work-offline.js';
import { deliver, finish, keepRecord, keepRecordSheet, record as keptRecord, recordSheet, sent, waiting } from './work-outbox.js';
import { outbox, standing } from './work-standing.js';

/** @typedef {import('./api.js').Commissioning} Commissioning */
/** @typedef {import('./work-outbox.js').RecordDraft} Draft */

const machine = decodeURIComponent(location.pathname.split('/')[2] ?? '');
const RETRY_MS = 30_000;

let sheet = recordSheet(machine);
/** Whether the sheet is of now. */
let fresh = false;
let failed = '';
/** Whether the server says that there is no such machine. */
let unknown = false;
/** @type {boolean | null} null until it is known */
let offlineReady = null;
let message = '';
let roomy = true;
let draft = keptRecord(machine) ?? empty();
let sentBefore = sent().length ? sent()[0].id : '';

/** @returns {Draft} */
function empty() {
  return { id: newId(), answers: {}, note: '', by: sheet?.me.account.name ?? '', job: '' };
}

function changed() {
  roomy = keepRecord(machine, draft);
  draw();
}

async function load() {
  try {
    const [commissioning, about, who] = await Promise.all([api.commissioning(machine), api.machine(machine), me()]);
    sheet = { machine: about, commissioning, me: who, at: now(), aheadMs: now() - Date.now() };
    keepRecordSheet(sheet);
    draft.by ||= who.account.name;
    fresh = true;
    failed = '';
  } catch (e) {
    fresh = false;
    unknown = e instanceof Refused && e.status === 404;
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

/** What this phone has sent is among the records by now. */
function kept() {
  const newest = sent().length ? sent()[0].id : '';
  if (newest !== sentBefore) {
    sentBefore = newest;
    load();
  }
  draw();
}

/** @param {string} item */
const answer = (item) => (draft.answers[item] ??= { result: '', note: '' });

/** What keeps it from being stored, in words. @param {Commissioning} c */
function missing(c) {
  const items = c.checklist.sections.flatMap((s) => s.items);
  const open = items.find((i) => !answer(i.id).result);
  if (open) return t.commissioning.open(open.check);
  const bare = items.find((i) => answer(i.id).result !== 'ok' && !answer(i.id).note.trim());
  return bare ? t.commissioning.sayWhy(bare.check) : '';
}

/** @param {SubmitEvent} e */
function submit(e) {
  e.preventDefault();
  if (!sheet?.commissioning) return;
  message = missing(sheet.commissioning);
  if (message) return draw();
  // without a connection the product's clock is reckoned from this phone's
  const at = fresh ? now() : Date.now() + sheet.aheadMs;
  const items = sheet.commissioning.checklist.sections.flatMap((s) => s.items).map((i) => i.id);
  try {
    finish({
      kind: 'commissioning', id: draft.id, machine, account: sheet.me.account.id, accountName: sheet.me.account.name,
      time: new Date(at).toISOString(), draft, items,
    });
  } catch {
    message = t.work.noRoom;
    return draw();
  }
  draft = empty();
  draw();
  scrollTo(0, 0);
  deliver();
}

/** @param {{id: string, check: string, expect: string}} item */
function itemPart(item) {
  const a = answer(item.id);
  const radio = (/** @type {string} */ code) => html`<label class="check"><input type="radio" name=${item.id} value=${code} .checked=${a.result === code}
    @change=${() => { a.result = code; changed(); }}> ${t.commissioning.results[code]}</label>`;
  return html`<fieldset class="item" data-item=${item.id}><legend>${prose(item.check)}</legend><p class="hint">${prose(item.expect)}</p>
    <div class="choices">${Object.keys(t.commissioning.results).map(radio)}</div>
    ${a.result && a.result !== 'ok' ? html`<label>${t.commissioning.why}<input name="note-${item.id}" maxlength="200" autocomplete="off" .value=${a.note}
      @input=${(/** @type {any} */ e) => { a.note = e.target.value; changed(); }}></label>` : nothing}</fieldset>`;
}

/** @param {string[]} texts */
const cautions = (texts) => texts.length ? html`<ul class="cautions">${texts.map((text) => html`<li>${prose(text)}</li>`)}</ul>` : nothing;

/** @param {'by' | 'job'} key @param {string} label */
const field = (key, label) => html`<label>${label}<input name=${key} maxlength="200" autocomplete="off" .value=${draft[key]} @input=${(/** @type {any} */ e) => { draft[key] = e.target.value; changed(); }}></label>`;

/** @param {Commissioning} c */
const form = (c) => html`
  <form class="ack commissioning" @submit=${submit}>
    ${cautions(c.checklist.cautions)}
    ${c.checklist.sections.map((s) => html`<section class="panel" aria-labelledby="s-${s.id}"><h2 id="s-${s.id}">${s.title}</h2>
      ${cautions(s.cautions)}${s.items.map(itemPart)}</section>`)}
    <section class="panel ack" aria-labelledby="rest"><h2 id="rest">${t.commissioning.rest}</h2>
      ${field('by', t.work.by)}${field('job', t.work.job)}
      <label>${t.work.note}<textarea name="note" rows="3" maxlength="2000" .value=${draft.note} @input=${(/** @type {any} */ e) => { draft.note = e.target.value; changed(); }}></textarea></label></section>
    <p role="alert" class="told">${message || (roomy ? '' : t.work.noRoom)}</p>
    <button class="primary">${t.commissioning.finish}</button>
    <section aria-labelledby="defer"><h2 id="defer">${t.advice.defer}</h2><ul class="defer">${c.checklist.deferTo.map((text) => html`<li>${prose(text)}</li>`)}</ul></section>
  </form>`;

/** @param {Commissioning['records'][0]} r @param {number} i */
const record = (r, i) => html`
  <section class="panel record" data-record=${r.id} aria-labelledby="r-${i}"><h2 id="r-${i}">${t.commissioning.record} ${when(r.time)}: ${r.good ? t.commissioning.good : t.commissioning.notGood}</h2>
    <p>${[r.by && t.commissioning.by(r.by), r.job && t.events.jobNumber(r.job), t.events.enteredBy(r.enteredBy)].filter(Boolean).join(', ')}</p>
    <div class="scroll" tabindex="0" role="region" aria-label="${t.commissioning.record} ${dateTimeText(r.time)}"><table class="care"><thead><tr><th scope="col">${t.commissioning.item}</th><th scope="col">${t.commissioning.result}</th><th scope="col">${t.commissioning.note}</th></tr></thead>
      <tbody>${r.answers.map((a) => html`<tr><th scope="row">${prose(a.check)}</th><td>${t.commissioning.results[a.result]}</td><td>${a.note}</td></tr>`)}</tbody></table></div>
    ${r.note ? html`<p>${r.note}</p>` : nothing}
    <p class="sign">${t.commissioning.sign}</p></section>`;

function content() {
  if (unknown) return nothing;
  if (!sheet?.commissioning) return failed ? nothing : html`<p class="quietly" role="status">${t.loading}</p>`;
  const c = sheet.commissioning;
  const may = sheet.me.permissions.includes('report-work');
  const waits = waiting().some((w) => w.kind && w.machine === machine);
  return html`
    ${acceptanceParts(c.acceptances)}
    ${c.records.map(record)}
    ${may ? html`<details class="new" ?open=${c.records.length === 0 && !waits}><summary>${t.commissioning.fresh}</summary>${form(c)}</details>` : nothing}`;
}

function draw() {
  const m = sheet?.machine;
  show(html`
    <div class="head"><h1>${t.commissioning.title(machine)}</h1>
      <p class="lead">${m ? [m.site.name, m.room, m.modelGroup, m.serial && t.careRecord.serial(m.serial)].filter(Boolean).join(', ') : ''}</p>
      <p class="summary">${t.commissioning.intro}</p>
      <p class="buttons"><button type="button" @click=${() => print()}>${t.machine.print}</button><a class="button" href="/machines/${machine}">${t.work.toMachine}</a></p></div>
    ${outbox({ machine, kind: 'commissioning', account: fresh ? sheet?.me.account.id : undefined, load })}
    ${standing({ unknown, fresh, failed, at: sheet?.at, offlineReady })}
    ${content()}`);
}

frame();
title(t.commissioning.title(machine));
draw();
load().then(deliver);
addEventListener('load', () => keepPage().then((ready) => { offlineReady = ready; draw(); }));
addEventListener('work-kept', kept);
addEventListener('online', () => load().then(deliver));
addEventListener('offline', load);
document.addEventListener('visibilitychange', () => { if (!document.hidden) load().then(deliver); });
setInterval(() => { if (!document.hidden && (!fresh || waiting().length)) load().then(deliver); }, RETRY_MS);
addEventListener('me-known', draw);
addEventListener('units-changed', draw);
