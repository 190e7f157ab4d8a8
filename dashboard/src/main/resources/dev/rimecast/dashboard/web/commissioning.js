// @ts-check
/** What is looked at when a machine is put up or moved: the list, and the record to print. */
import { html, nothing } from './lib/lit-html/lit-html.js';
import { acceptanceParts } from './acceptance.js';
import { api, me } from './api.js';
import { dateTimeText, when } from './format.js';
import { can, failure, frame, show, title, waiting } from './frame.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { newId } from './work-form.js';

/** @typedef {import('./api.js').Commissioning} Commissioning */
/** @typedef {{id: string, answers: Record<string, {result: string, note: string}>, note: string, by: string, job: string}} Draft */

const machine = decodeURIComponent(location.pathname.split('/')[2] ?? '');
const KEY = `rimecast.work.commissioning.${machine}`;

/** @type {Commissioning | null} */
let known = null;
/** @type {import('./api.js').Machine | null} */
let about = null;
let failed = '';
let message = '';
let sending = false;
let draft = kept() ?? empty();

/** @returns {Draft} */
function empty() {
  return { id: newId(), answers: {}, note: '', by: '', job: '' };
}

/** What was begun stays on this device until it is stored. @returns {Draft | null} */
function kept() {
  try { return JSON.parse(localStorage.getItem(KEY) ?? 'null'); } catch { return null; }
}

function changed() {
  try { localStorage.setItem(KEY, JSON.stringify(draft)); } catch { /* no room: it holds as long as the page is open */ }
  draw();
}

async function load() {
  try {
    [known, about] = await Promise.all([api.commissioning(machine), api.machine(machine)]);
    draft.by ||= (await me()).account.name;
    failed = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
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
async function submit(e) {
  e.preventDefault();
  if (!known || sending) return;
  message = missing(known);
  if (!message) {
    sending = true;
    draw();
    try {
      const answers = known.checklist.sections.flatMap((s) => s.items).map((i) => ({ item: i.id, ...answer(i.id) }));
      await api.commission(machine, { ...draft, answers });
      localStorage.removeItem(KEY);
      draft = empty();
      scrollTo(0, 0);
    } catch (e) {
      message = t.commissioning.notStored(/** @type {Error} */ (e).message);
    }
    sending = false;
    if (!message) return load();
  }
  draw();
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
    <p role="alert" class="told">${message}</p>
    <button class="primary" ?disabled=${sending}>${t.commissioning.finish}</button>
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

function draw() {
  if (!known || !about) return show(waiting(t.commissioning.title(machine), failed, load));
  const c = known;
  const m = about;
  show(html`
    <div class="head"><h1>${t.commissioning.title(machine)}</h1>
      <p class="lead">${[m.site.name, m.room, m.modelGroup, m.serial && t.careRecord.serial(m.serial)].filter(Boolean).join(', ')}</p>
      <p class="summary">${t.commissioning.intro}</p>
      <p class="buttons"><button type="button" @click=${() => print()}>${t.machine.print}</button><a class="button" href="/machines/${machine}">${t.work.toMachine}</a></p></div>
    ${failed ? failure(failed, load) : nothing}
    ${acceptanceParts(c.acceptances)}
    ${c.records.map(record)}
    ${can('report-work') ? html`<details class="new" ?open=${c.records.length === 0}><summary>${t.commissioning.fresh}</summary>${form(c)}</details>` : nothing}`);
}

frame();
title(t.commissioning.title(machine));
draw();
load();
addEventListener('me-known', draw);
addEventListener('units-changed', draw);
