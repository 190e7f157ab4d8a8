// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { adviceParts, evidenceParts } from './alert-parts.js';
import { api, me, Refused } from './api.js';
import { now } from './clock.js';
import { eventItem } from './event-parts.js';
import { when, workTime } from './format.js';
import { can, failure, frame, line, show, title, waiting } from './frame.js';
import { listen } from './live.js';
import { drawForPaper, scheme } from './machine-figures.js';
import { t } from './texts.js';
import { loadPhotos, photoList } from './photo-parts.js';
import { prose } from './units.js';
import { alertsOf, eventsOf, keepForms, machinesOf } from './visit-ahead.js';
import { alike, askToAct, askToMove, awayPart, careDate, dayBrief, dayLong, historyLine, needDate, ordersPart, partsOf } from './visit-parts.js';
import { forgetVisit, keepVisit, keptVisit, keptVisits } from './visit-kept.js';
import { drawEvidence, evidenceFigures, loadEvidence } from './visit-plots.js';
import { conditions, word } from './words.js';
import { keepPage } from './work-offline.js';

/** @typedef {import('./api.js').Visit} Visit */
/** @typedef {import('./api.js').VisitNeed} VisitNeed */
/** @typedef {import('./api.js').Alert} Alert */

const id = decodeURIComponent(location.pathname.split('/')[2] ?? '');
/** @type {Visit | null} */
let visit = null;
/** Of each need, its alerts with everything about them. @type {Map<string, Alert[]>} */
const alerts = new Map();
/** @type {Map<string, import('./api.js').HappenedEvent[]>} */
const events = new Map();
/** Reports with photos; without a connection there are none to see. @type {Map<string, import('./api.js').Work[]>} */
const photographed = new Map();
const MOST_PHOTOGRAPHED = 2;
/** Of each alert. @type {Map<string, import('./visit-plots.js').Evidence | null>} */
const evidence = new Map();
let failed = '';
/** Since when what is shown is known, where it is not of now. @type {number | null} */
let keptAt = null;
/** Other sheets that open without a connection, while there is none. @type {Visit[]} */
let others = [];
/** What whoever is signed in may do, as this phone last knew it. @type {string[]} */
let permissions = [];
/** Whether the page opens without a connection; null until it is known. @type {boolean | null} */
let offlineReady = null;
/** Whether the closing forms do, too. */
let formsKept = false;
/** @type {Promise<boolean>} */
const pageKept = new Promise((resolve) => { addEventListener('load', () => resolve(keepPage())); });

async function load() {
  try {
    visit = await api.visit(id);
    failed = '';
    title(`${visit.siteName}, ${dayLong(visit.day)}`);
    draw();
    const machines = machinesOf(visit);
    await Promise.all([...visit.needs.map(loadNeed), ...machines.map(loadEvents), ...machines.map(async (m) => photographed.set(m, await loadPhotos(m)))]);
    keptAt = null;
    keepAll(visit, machines);
  } catch (e) {
    if (e instanceof Refused && e.status === 404) {
      failed = t.visits.missing;
      forgetVisit(id);
    } else {
      failed = /** @type {Error} */ (e).message;
      await showKept();
    }
  }
  draw();
}

/** For the plant room: this sheet, and the closing forms to which it leads. @param {Visit} shown @param {string[]} machines */
async function keepAll(shown, machines) {
  try {
    const who = await me();
    permissions = who.permissions;
    const kept = await keepVisit(id, { visit: shown, alerts: [...alerts], events: [...events], evidence: [...evidence], permissions, at: now() });
    formsKept = await keepForms(shown, machines, who);
    offlineReady = kept && await pageKept;
  } catch { /* the page says since when it is known as soon as it matters */ }
  draw();
}

/** As this phone saw it last. */
async function showKept() {
  const kept = await keptVisit(id);
  if (!kept) return;
  visit = kept.visit;
  title(`${visit.siteName}, ${dayLong(visit.day)}`);
  keptAt = kept.at;
  others = (await keptVisits()).map((each) => each.visit).filter((v) => v.id !== id && Date.parse(v.endsAt) > now()).sort((a, b) => a.beginsAt.localeCompare(b.beginsAt));
  permissions = kept.permissions;
  for (const [need, found] of kept.alerts) alerts.set(need, found);
  for (const [machine, found] of kept.events) events.set(machine, found);
  for (const [alert, found] of kept.evidence) evidence.set(alert, found && { ...found, source: { ...found.source, zoomed: () => {} } });
}

/** Since when it is known, or that it can be opened below ground. */
function standing() {
  if (keptAt !== null) return html`<p class="notice" data-offline>${t.visits.offline(failed)} ${when(new Date(keptAt).toISOString())}.</p>
    ${others.length ? html`<p class="no-print">${t.visits.alsoKept} ${others.map((v, i) => html`${i ? ', ' : ''}<a href="/visits/${v.id}">${v.siteName}, ${dayBrief(v.day)}, ${v.from}</a>`)}</p>` : nothing}`;
  if (failed) return failure(failed, load);
  return offlineReady === null ? nothing : html`<p class="hint no-print" data-offline-ready=${offlineReady}>${!offlineReady ? t.visits.notReady : formsKept ? t.visits.ready : t.visits.readyAlone}</p>`;
}

/** What is open of a case, or the care that is due. @param {import('./api.js').VisitNeed} need */
async function loadNeed(need) {
  const found = await alertsOf(need);
  alerts.set(need.id, found);
  if (need.kind === 'case') await Promise.all(found.map(loadPlots));
}

/** @param {Alert} alert */
async function loadPlots(alert) {
  evidence.set(alert.alert.id, await loadEvidence(alert));
}

/** @param {string} machine */
async function loadEvents(machine) {
  events.set(machine, await eventsOf(machine));
}

/** @param {Visit} v */
function facts(v) {
  const rows = /** @type {[string, unknown][]} */ ([
    [t.visits.onSite, workTime(v.minutes)],
    [t.visits.engineer, v.engineer],
    v.contact ? [t.visits.contact, v.contact] : null,
    [t.alert.state, t.visits.states[v.state]],
    v.request?.job ? [t.visits.jobNumber, v.request.job] : null,
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

/** @param {Alert} a */
const also = (a) => html`<p><b>${t.visits.also(word(conditions, a.alert.condition))}</b> ${prose(a.alert.summary)}</p>`;

/** To the closing form, which then says by itself which visit it was. @param {string} machine */
const reportLink = (machine) => (can('report-work') || (keptAt !== null && permissions.includes('report-work'))) && visit && visit.state !== 'cancelled'
  ? html`<a class="button" href="/work-report/${machine}?visit=${visit.id}" data-report=${machine}>${t.visits.report(machine)}</a>` : nothing;

/** What is known of a machine, to write down beside it what was found. @param {string} machine */
const machinePart = (machine) => html`
  <h3>${t.visits.machineHistory(machine)}</h3>
  <p class="no-print buttons">${reportLink(machine)} <a href="/machines/${machine}">${t.visits.plots}</a></p>
  ${events.get(machine)?.length ? html`<ul class="history">${events.get(machine)?.map((e) => eventItem(e, false))}</ul>` : html`<p class="hint">${t.visits.noHistory}</p>`}
  ${keptAt === null ? photoList(photographed.get(machine) ?? [], MOST_PHOTOGRAPHED, 'eager') : nothing}`;

/** Whether none before it says the same: people join alerts, and each cause has its checks and cautions. @param {Alert[]} found @param {number} index */
function advises(found, index) {
  const says = (/** @type {Alert} */ a) => JSON.stringify({ ...a.advice, latestDate: '' });
  return found.findIndex((a) => says(a) === says(found[index])) === index;
}

/** @param {Alert} a @param {string} key @param {boolean} leads whether it is the first @param {boolean} advice whether its advice is said */
function alertPart(a, key, leads, advice) {
  if (!leads && !advice && a.diagnosis.length === 0) return also(a);
  const name = a.alert.machine ?? a.alert.gateway ?? '';
  return html`
    ${leads ? nothing : also(a)}
    <div class="two">${advice ? adviceParts(a.advice, key, 3, leads ? name : `${name}, ${word(conditions, a.alert.condition)}`) : nothing}
      ${evidenceParts(a, key, 3, leads ? name : `${name}, ${word(conditions, a.alert.condition)}`)}</div>
    ${evidenceFigures(evidence.get(a.alert.id), key)}`;
}

/** What is wrong: what to do, why it is thought, and what was done before. @param {VisitNeed} need @param {number} index */
function casePart(need, index) {
  const found = alerts.get(need.id);
  return html`
    <section class="panel need" aria-labelledby="need-${index}">
      <h2 id="need-${index}">${index + 1}. ${need.title}</h2>
      <div class="likely">${need.machines.map((m) => html`<a class="id" href="/machines/${m}">${m}</a> `)} ${needDate(need)} <span class="hint">${t.visits.takes(workTime(need.minutes))}</span></div>
      ${need.why ? html`<p class="lead">${prose(need.why)}</p>` : nothing}
      ${need.siteCanCheck ? html`<p class="hint">${t.visits.siteFirst}</p>` : nothing}
      ${!found ? html`<p class="quietly" role="status">${t.loading}</p>` : found.length === 0 ? html`<p>${t.visits.noAlert}</p>` : found.map((a, i) => alertPart(a, `${index}-${i}`, i === 0, advises(found, i)))}
      ${need.machines.map(machinePart)}
      <p class="write">${t.visits.found} <span></span></p>
      <p class="write">${t.visits.didDo} <span></span></p>
    </section>`;
}

/** Care of one kind, of one or several machines: how it is done once, and a line for each. @param {VisitNeed[]} needs @param {number} index */
function carePart(needs, index) {
  const found = alerts.get(needs[0].id);
  return html`
    <section class="panel need" aria-labelledby="need-${index}">
      <h2 id="need-${index}">${index + 1}. ${needs[0].title}</h2>
      <p class="hint">${careDate(needs)}, ${t.visits.about(workTime(needs.reduce((sum, n) => sum + n.minutes, 0)))}</p>
      <ul class="cared">${needs.map((need) => html`<li>${need.machines.map((m) => html`<a class="id" href="/machines/${m}">${m}</a> `)} ${prose(need.why)} <span class="no-print">${need.machines.map(reportLink)}</span> <span class="tick"></span></li>`)}</ul>
      ${found?.[0] ? adviceParts(found[0].advice, `${index}`, 3, needs[0].title) : nothing}
    </section>`;
}

/** @param {VisitNeed[]} needs */
function needParts(needs) {
  const wrong = needs.filter((n) => n.kind === 'case');
  const care = alike(needs.filter((n) => n.kind === 'care'));
  return html`${wrong.map(casePart)}${care.map((each, i) => carePart(each, wrong.length + i))}`;
}

/** What somebody asked for who made it by hand, with the machines that nothing else leads to. @param {Visit} v */
function requestSection(v) {
  if (!v.request) return nothing;
  const led = new Set(v.needs.filter((n) => n.kind === 'case').flatMap((n) => n.machines));
  return html`
    <section class="panel need" aria-labelledby="asked">
      <h2 id="asked">${t.visits.asked}</h2>
      <p class="lead">${v.request.reason}</p>
      ${v.request.machines.length ? html`<div class="likely">${v.request.machines.map((m) => html`<a class="id" href="/machines/${m}">${m}</a> `)}</div>` : nothing}
      ${v.request.machines.filter((m) => !led.has(m)).map(machinePart)}
      <p class="write">${t.visits.found} <span></span></p>
      <p class="write">${t.visits.didDo} <span></span></p>
    </section>`;
}

/** Into the frames that the page has by now. @param {VisitNeed[]} needs */
function drawPlots(needs) {
  needs.filter((n) => n.kind === 'case').forEach((need, index) => {
    alerts.get(need.id)?.forEach((a, i) => drawEvidence(evidence.get(a.alert.id), `${index}-${i}`));
  });
}

function draw() {
  const v = visit;
  if (!v) return show(waiting(t.visits.sheet, failed, load));
  const parts = partsOf(v.needs);
  show(html`
    <article class="one visit-sheet">
      <div class="head"><h1>${t.visits.sheetTitle(v.siteName)}</h1>
        <p class="lead"><b>${dayLong(v.day)}, ${v.from}</b> <span class="hint">(${v.timeZone})</span>, ${v.engineer}</p>${buttons(v)}</div>
      ${standing()}
      ${awayPart(v)}
      ${facts(v)}
      <section><h2>${t.visits.take}</h2>${parts.length ? html`<ul class="take">${parts.map((p) => html`<li>${p}</li>`)}</ul>` : html`<p>${t.visits.noParts}</p>`}${ordersPart(v)}</section>
      ${requestSection(v)}
      ${v.needs.length ? needParts(v.needs) : v.request ? nothing : html`<p class="well">${t.visits.nothing}</p>`}
      <section class="no-print"><h2>${t.visits.history}</h2><ol class="history">${v.history.map(historyLine)}</ol></section>
    </article>`);
  drawPlots(v.needs);
}

frame();
title(t.visits.sheet);
draw();
load();
listen({ kinds: 'visit', changed: () => load(), reload: load, line });
addEventListener('online', load);
addEventListener('me-known', draw);
addEventListener('units-changed', draw);
scheme.addEventListener('change', draw);
drawForPaper(draw);
