// @ts-check
/** A machine's hygiene record, to look at and to print. */
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { now } from './clock.js';
import { dateTimeText, when } from './format.js';
import { failure, frame, show, title, waiting } from './frame.js';
import { t } from './texts.js';
import { eventKinds, word } from './words.js';

const id = decodeURIComponent(location.pathname.split('/')[2] ?? '');
/** @type {import('./api.js').Machine | null} */
let machine = null;
/** @type {import('./api.js').CareLine[]} */
let lines = [];
let failed = '';

async function load() {
  try {
    [machine, lines] = await Promise.all([api.machine(id), api.careRecord(id)]);
    failed = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

/** @param {import('./api.js').CareLine} line */
const what = (line) => (line.detail === 'descaled' ? t.careRecord.descaled : `${t.work.deeds[line.what] ?? word(eventKinds, line.what)}${line.detail ? `: ${line.detail}` : ''}`);

/** What is not known takes no line on a phone. @param {string} name @param {string | undefined} value */
const cell = (name, value) => html`<td data-column=${value ? name : nothing}>${value ?? ''}</td>`;

function draw() {
  if (!machine) return show(waiting(t.careRecord.title(id), failed, load));
  const m = machine;
  show(html`
    <div class="head"><h1>${t.careRecord.title(m.machine)}</h1>
      <p class="lead">${[m.site.name, m.room, m.modelGroup, m.serial && t.careRecord.serial(m.serial)].filter(Boolean).join(', ')}</p>
      <p class="summary">${t.careRecord.intro} ${t.careRecord.asOf(dateTimeText(now()))}</p>
      <p class="buttons"><button type="button" @click=${() => print()}>${t.machine.print}</button>
        <a class="button" href="/api/v1/machines/${m.machine}/care-record.csv" download>${t.careRecord.csv}</a>
        <a class="button" href="/machines/${m.machine}">${t.work.toMachine}</a></p></div>
    ${failed ? failure(failed, load) : nothing}
    ${lines.length === 0 ? html`<p class="well">${t.careRecord.none}</p>` : html`
      <div class="sheet" tabindex="0" role="region" aria-label=${t.careRecord.title(m.machine)}><table><thead><tr>
        <th scope="col">${t.careRecord.time}</th><th scope="col">${t.careRecord.what}</th><th scope="col">${t.careRecord.by}</th><th scope="col">${t.careRecord.job}</th><th scope="col">${t.careRecord.enteredBy}</th></tr></thead>
        <tbody>${[...lines].reverse().map((line) => html`<tr data-care=${line.what}><th scope="row">${when(line.time, dateTimeText)}</th><td><b>${what(line)}</b></td>
          ${cell(t.careRecord.by, line.by)}${cell(t.careRecord.job, line.job)}${cell(t.careRecord.enteredBy, line.enteredBy)}</tr>`)}</tbody></table></div>`}`);
}

frame();
title(t.careRecord.title(id));
draw();
load();
