// @ts-check
/** The hygiene record of a machine, or of all on a site, to look at, to print and to save. */
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { now } from './clock.js';
import { dateText, fullDateTime, when } from './format.js';
import { failure, frame, show, title, waiting } from './frame.js';
import { t } from './texts.js';
import { eventKinds, word } from './words.js';

const [, kind, part] = location.pathname.split('/');
const id = decodeURIComponent(part ?? '');
const ofSite = kind === 'site-care';
const asked = new URLSearchParams(location.search);
/** @typedef {{from: string, to: string}} Days first and last, as the reader's calendar has them; empty for all */
/** @typedef {{name: string, facts: string[], site: string, machines: string[], lines: import('./api.js').CareLine[]}} CareRecord */
/** With the days that it was asked for. @type {CareRecord & {days: Days} | null} */
let known = null;
/** An answer to an earlier question may come after that to the newest, and is not of these days. */
let questions = 0;
let failed = '';

/** The beginning of a day here, or of the one after it. @param {string} day @param {number} later */
function beginning(day, later) {
  const at = new Date(`${day}T00:00:00`);
  at.setDate(at.getDate() + later);
  return Number.isNaN(at.getTime()) ? '' : at.toISOString();
}

/** A day of the address; what is none is left out. @param {'from' | 'to'} end */
const dayOf = (end) => (beginning(asked.get(end) ?? '', 0) && asked.get(end)) || '';

/** What somebody wishes to see. @type {Days} */
const span = { from: dayOf('from'), to: dayOf('to') };

/** What asks for these days alone. @param {Days} days */
function query(days) {
  const of = new URLSearchParams();
  const [from, to] = [beginning(days.from, 0), beginning(days.to, 1)];
  if (from) of.set('from', from);
  if (to) of.set('to', to);
  return from || to ? `?${of}` : '';
}

/** @param {Days} days @returns {Promise<CareRecord>} */
async function ofTheSite(days) {
  const [lines, sites, fleet] = await Promise.all([api.careRecordOfSite(id, query(days)), api.sites(), api.fleet()]);
  const name = sites.find((site) => site.site === id)?.name ?? id;
  const machines = fleet.machines.filter((row) => row.site === id).map((row) => row.machine).sort();
  return { name, facts: [t.careRecord.machines(machines.length)], site: id, machines, lines };
}

/** @param {Days} days @returns {Promise<CareRecord>} */
async function ofTheMachine(days) {
  const [m, lines] = await Promise.all([api.machine(id), api.careRecord(id, query(days))]);
  const facts = [m.site.name, m.room, m.modelGroup, m.serial && t.careRecord.serial(m.serial)];
  return { name: m.machine, facts: facts.flatMap((fact) => fact || []), site: m.site.site, machines: [], lines };
}

async function load() {
  const mine = ++questions;
  const days = { ...span };
  try {
    const record = await (ofSite ? ofTheSite(days) : ofTheMachine(days));
    if (mine !== questions) return;
    known = { ...record, days };
    failed = '';
  } catch (e) {
    if (mine !== questions) return;
    failed = /** @type {Error} */ (e).message;
  }
  if (known) title(t.careRecord.title(known.name));
  draw();
}

/** @param {'from' | 'to'} end @param {string} day */
function choose(end, day) {
  span[end] = day;
  const kept = new URLSearchParams(Object.entries(span).filter(([, each]) => each)).toString();
  history.replaceState(null, '', kept ? `?${kept}` : location.pathname);
  load();
}

/** @param {import('./api.js').CareLine} line */
const what = (line) => (line.detail === 'descaled' ? t.careRecord.descaled : `${t.work.deeds[line.what] ?? word(eventKinds, line.what)}${line.detail ? `: ${line.detail}` : ''}`);

/** What is not known takes no line on a phone. @param {string} name @param {unknown} value */
const cell = (name, value) => html`<td data-column=${value ? name : nothing}>${value || ''}</td>`;

/** @param {CareRecord} record */
const table = (record) => html`
  <div class="sheet" tabindex="0" role="region" aria-label=${t.careRecord.title(record.name)}><table><thead><tr>
    <th scope="col">${t.careRecord.time}</th>${ofSite ? html`<th scope="col">${t.careRecord.machine}</th>` : nothing}
    <th scope="col">${t.careRecord.what}</th><th scope="col">${t.careRecord.by}</th><th scope="col">${t.careRecord.job}</th><th scope="col">${t.careRecord.enteredBy}</th></tr></thead>
    <tbody>${[...record.lines].reverse().map((line) => html`<tr data-care=${line.what}><th scope="row">${when(line.time, fullDateTime)}</th>
      ${ofSite ? cell(t.careRecord.machine, line.machine ? html`<a href="/care/${line.machine}">${line.machine}</a>` : t.careRecord.wholeSite) : nothing}<td><b>${what(line)}</b></td>
      ${cell(t.careRecord.by, line.by)}${cell(t.careRecord.job, line.job)}${cell(t.careRecord.enteredBy, line.enteredBy)}</tr>`)}</tbody></table></div>`;

/** @param {'from' | 'to'} end */
const dayField = (end) => html`<label>${t.careRecord[end]}<input type="date" name=${end} .value=${span[end]} @change=${(/** @type {any} */ e) => choose(end, e.target.value)}></label>`;

/** What an inspector asks first: which machine has nothing. @param {CareRecord} record */
function without(record) {
  const those = record.machines.filter((machine) => record.lines.every((line) => line.machine !== machine));
  return those.length ? html`<p class="notice" data-without><span>${t.careRecord.without(those.length, record.lines.some((line) => !line.machine))} ${those.map((machine, i) => html`${i ? ', ' : ''}<a href="/care/${machine}">${machine}</a>`)}</span></p>` : nothing;
}

function draw() {
  if (!known) return show(waiting(t.careRecord.title(id), failed, load));
  const record = known;
  const { from, to } = record.days;
  const download = ofSite ? api.careTableOfSite(id, query(record.days)) : api.careTable(id, query(record.days));
  show(html`
    <div class="head"><h1>${t.careRecord.title(record.name)}</h1>
      <p class="lead">${record.facts.join(', ')}</p>
      <p class="summary">${t.careRecord.intro} ${t.careRecord.span(from && dateText(from), to && dateText(to))} ${t.careRecord.asOf(fullDateTime(now()))}</p>
      <form class="filter no-print days-of" @submit=${(/** @type {Event} */ e) => e.preventDefault()}>${dayField('from')}${dayField('to')}</form>
      <p class="buttons"><button type="button" @click=${() => print()}>${t.machine.print}</button>
        <a class="button" href=${download} download>${t.careRecord.csv}</a>
        ${ofSite ? html`<a class="button" href="/events?site=${record.site}">${t.events.title}</a>`
          : html`<a class="button" href="/site-care/${record.site}">${t.careRecord.ofSite}</a><a class="button" href="/machines/${record.name}">${t.work.toMachine}</a>`}</p></div>
    ${failed ? failure(failed, load) : nothing}
    ${without(record)}
    ${record.lines.length === 0 ? html`<p class="well">${from || to ? t.careRecord.noneThen : t.careRecord.none}</p>` : table(record)}`);
}

frame();
title(t.careRecord.title(id));
draw();
load();
