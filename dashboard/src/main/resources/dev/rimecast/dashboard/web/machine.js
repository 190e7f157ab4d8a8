// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api, Refused } from './api.js';
import { printAdvice } from './alert-parts.js';
import { askMachineOutOfService, askToAcknowledge, askToEndHold } from './ask.js';
import { askToReport, eventList, reportedText } from './event-parts.js';
import { careRecord } from './care-record.js';
import { weighedHarvests } from './weighed.js';
import { now } from './clock.js';
import { loadMarks, markParts } from './marks.js';
import { ago, DAY, when } from './format.js';
import { can, failure, frame, line, show, title, waiting } from './frame.js';
import { cycleSpec, lastCycle } from './last-cycle.js';
import { listen } from './live.js';
import { drawForPaper, figure, plotIn, scheme } from './machine-figures.js';
import { about, gaps, nowTiles, openAlerts } from './machine-parts.js';
import { allPlots } from './machine-plots.js';
import { nowInWords } from './now-words.js';
import { loadPhotos, photoList } from './photo-parts.js';
import { proofOfFix } from './proof-of-fix.js';
import { drawnProof, drawProof, loadAround, proofFigure } from './proof-plot.js';
import * as span from './span.js';
import { t } from './texts.js';

const id = decodeURIComponent(location.pathname.split('/')[2] ?? '');
/** @type {import('./api.js').Machine | null} */
let machine = null;
/** @type {import('./api.js').Cycle[]} */
let cycles = [];
/** @type {import('./api.js').Temperatures | null} */
let temperatures = null;
/** @type {import('./api.js').HappenedEvent[]} */
let events = [];
/** @type {number | undefined} */
let moreEvents;
let told = '';
let shown = { from: 0, to: 0 };
let failed = '';
/** Of the last days, whatever the plots show. @type {import('./api.js').Cycle[]} */
let recent = [];
/** @type {import('./api.js').AlertSummary[]} */
let alerts = [];
/** @type {import('./api.js').Care[]} */
let care = [];
/** @type {import('./api.js').ProofOfFix[]} */
let proofs = [];
/** @type {import('./proof-plot.js').Around | null} */
let around = null;
/** @type {import('./api.js').Weighed[]} */
let weighed = [];
/** @type {import('./api.js').Work[]} */
let photographed = [];
/** Freeze start of the cycle that is looked at; empty for the newest. */
let looked = '';
/** @type {import('./api.js').Trace | null} */
let trace = null;
let traceOf = '';

/** @param {unknown} e */
function fail(e) {
  failed = e instanceof Refused && e.status === 404 ? t.machine.missing : /** @type {Error} */ (e).message;
  draw();
}

async function loadMachine() {
  try {
    [machine, { events, next: moreEvents }, alerts, care, proofs, weighed, photographed] = await Promise.all(
      [api.machine(id), api.eventsOfMachine(id), api.alertsOfMachine(id), api.care(id), api.proofs(id), api.weighed(id), loadPhotos(id)]);
    failed = '';
    draw();
    around = await loadAround(id, proofs[0], around);
    draw();
  } catch (e) {
    fail(e);
  }
}

async function loadCurves() {
  const range = span.range();
  try {
    [cycles, temperatures] = await Promise.all([api.cycles(id, range.from, range.to), api.temperatures(id, range.from, range.to)]);
    shown = range;
    draw();
  } catch (e) {
    fail(e);
  }
}

/** Cycles for the words and for the one that is looked at. */
async function loadRecent() {
  try {
    recent = await api.cycles(id, now() - 3 * DAY, now());
    await loadTrace();
    draw();
  } catch (e) {
    fail(e);
  }
}

const complete = () => recent.filter((c) => c.complete);
/** Where the cycle that is looked at stands among the complete ones. */
function place() {
  const all = complete();
  const found = looked ? all.findIndex((c) => c.freezeStart === looked) : -1;
  return found < 0 ? all.length - 1 : found;
}

async function loadTrace() {
  const cycle = complete()[place()];
  if (!cycle || traceOf === cycle.freezeStart) return;
  trace = await api.trace(id, Date.parse(cycle.freezeStart) - 30_000, Date.parse(cycle.end) + 30_000);
  traceOf = cycle.freezeStart;
}

/** @param {number} step */
async function look(step) {
  const all = complete();
  const next = Math.min(all.length - 1, Math.max(0, place() + step));
  looked = next === all.length - 1 ? '' : all[next].freezeStart;
  try {
    await loadTrace();
    draw();
  } catch (e) {
    fail(e);
  }
}

async function olderEvents() {
  try {
    const page = await api.eventsOfMachine(id, moreEvents);
    events = [...events, ...page.events];
    moreEvents = page.next;
    draw();
  } catch (e) {
    fail(e);
  }
}

/** @param {import('./api.js').Machine} m */
function report(m) {
  askToReport({ machine: m.machine, site: m.site.site, siteName: m.site.name }, (reported) => {
    told = reportedText(reported);
    loadMachine();
  });
}

async function load() {
  loadMarks(id, draw);
  // the machine first: its answer tells the product's time, from which the span is counted
  await loadMachine();
  if (machine) await Promise.all([loadRecent(), loadCurves()]);
}

/** @param {() => void} change */
const spanning = (change) => () => {
  change();
  loadCurves();
  draw();
};

/** @param {string} text @param {() => void} change */
const tool = (text, change) => html`<button type="button" @click=${spanning(change)}>${text}</button>`;

function spanBar() {
  return html`
    <div class="spans" role="group" aria-label=${t.machine.span}>
      ${/** @type {span.Preset[]} */ (Object.keys(span.presets)).map((name) => html`
        <button type="button" aria-pressed=${span.isPreset(name)} @click=${spanning(() => span.choosePreset(name))}>${t.machine.spans[name]}</button>`)}
      <span class="gap"></span>
      ${tool(`‹ ${t.machine.earlier}`, () => span.pan(-0.5))}
      ${span.follows() ? nothing : tool(`${t.machine.later} ›`, () => span.pan(0.5))}
      ${tool(`+ ${t.machine.zoomIn}`, () => span.zoom(0.5))}${tool(`− ${t.machine.zoomOut}`, () => span.zoom(2))}
      ${span.follows() ? nothing : tool(t.machine.toNow, () => span.choosePreset('7d'))}
      <span class="hint">${when(new Date(shown.from).toISOString())} – ${when(new Date(shown.to).toISOString())}. ${t.machine.dragHint}</span>
    </div>`;
}

/** @returns {import('./plot-time.js').Drawn[]} */
function drawn() {
  if (!machine || !temperatures) return [];
  const zoomed = (/** @type {number} */ from, /** @type {number} */ to) => spanning(() => span.chooseRange(from, to))();
  return allPlots({ machine, cycles, temperatures, alerts, events, ...shown, isNow: span.follows(), zoomed });
}

/** @param {import('./api.js').Machine} m */
function serviceButton(m) {
  const hold = m.outOfService;
  if (!can('out-of-service')) return nothing;
  return hold
    ? html`<button type="button" class="primary" @click=${() => askToEndHold(hold, loadMachine)}>${t.ask.returnToService.title}</button>`
    : html`<button type="button" @click=${() => askMachineOutOfService(m.machine, loadMachine)}>${t.ask.outOfService.title}</button>`;
}

/** @param {import('./api.js').Machine} m @param {import('./plot-time.js').Drawn[]} figures @param {import('./api.js').Cycle | undefined} cycle @param {import('./plot-time.js').Drawn | undefined} proved */
const content = (m, figures, cycle, proved) => html`
  <div class="head"><h1>${m.machine}</h1>
    <p class="lead">${m.site.name}${m.room ? `, ${m.room}` : ''} · ${m.lastReadingAt ? html`${t.machine.lastReading.toLowerCase()} ${when(m.lastReadingAt, ago)}` : t.fleet.never}</p>
    ${m.lastReadingAt ? nowInWords(m, recent) : nothing}
    ${m.outOfService ? html`<p class="notice">${t.states['out-of-service']} ${t.since} ${when(m.outOfService.since)}: ${m.outOfService.reason} (${m.outOfService.by}, ${t.alert.permitted} ${m.outOfService.permittedBy})</p>` : nothing}
    <p class="buttons">${can('report') ? html`<button type="button" @click=${() => report(m)}>${t.ask.report.title}</button>` : nothing}${can('report-work') ? html`<a class="button" href="/work-report/${m.machine}">${t.work.write}</a>` : nothing}<a class="button" href="/commissioning/${m.machine}">${t.commissioning.link}</a>${serviceButton(m)}${m.openAlerts.length ? html`<button type="button" @click=${printAdvice}>${t.alert.print}</button>` : nothing}</p></div>
  <div role="status">${told ? html`<p class="well">${told}</p>` : nothing}</div>
  ${failed ? failure(failed, load) : nothing}
  <section aria-labelledby="open"><h2 id="open">${t.machine.open}</h2>${openAlerts(m, (alert) => askToAcknowledge(alert, loadMachine))}</section>
  ${proofOfFix(proofs, proofFigure(proved))}
  <section aria-labelledby="now"><h2 id="now">${t.machine.now}</h2>${nowTiles(m)}</section>
  <section aria-labelledby="last-cycle"><h2 id="last-cycle">${looked ? t.lastCycle.anyTitle : t.lastCycle.title}</h2>
    ${lastCycle({ cycle, isNewest: !looked, isOldest: place() <= 0, hasTrace: Boolean(trace?.start.length), earlier: () => look(-1), later: () => look(1) })}</section>
  <section aria-labelledby="curves"><h2 id="curves">${t.machine.curves}</h2>${spanBar()}
    <div class="plots">${figures.map((f) => figure(f, m))}</div></section>
  ${markParts({ machine: m.machine, ...shown }, draw)}
  <div class="two"><section class="panel" aria-labelledby="happened"><h2 id="happened">${t.events.title}</h2>${eventList(events, false, moreEvents ? olderEvents : null)}</section>
    ${photographed.length ? html`<section class="panel" aria-labelledby="photos"><h2 id="photos">${t.photos.title}</h2>${photoList(photographed)}</section>` : nothing}${careRecord(care, m)}${weighedHarvests(weighed, m, loadMachine)}${gaps(m)}${about(m)}</div>`;

function drawNow() {
  if (!machine) return show(waiting(id || t.machine.loading, failed, load));
  const figures = drawn();
  const cycle = complete()[place()];
  const proved = drawnProof(machine, proofs[0], around, events);
  show(content(machine, figures, cycle, proved));
  drawProof(proved);
  if (cycle) plotIn({ id: 'last-cycle', spec: cycleSpec(cycle, traceOf === cycle.freezeStart ? trace : null) });
  for (const figure of figures) plotIn(figure);
}

let drawing = false;
function draw() {
  if (drawing) return;
  drawing = true;
  requestAnimationFrame(() => {
    drawing = false;
    drawNow();
  });
}

let later = 0;
let curvesLater = 0;
/** @param {string} kind */
function changed(kind) {
  clearTimeout(later);
  later = setTimeout(loadMachine, 300);
  if (kind === 'cycle' && !curvesLater) {
    curvesLater = setTimeout(() => { curvesLater = 0; loadRecent(); if (span.follows()) loadCurves(); }, 2_000);
  }
}

scheme.addEventListener('change', draw);
drawForPaper(drawNow);
frame();
title(id || t.machine.loading);
draw();
load();
listen({ kinds: 'alert,cycle,reading', machine: id, changed, reload: load, line });
addEventListener('units-changed', draw);
addEventListener('me-known', draw);
setInterval(draw, 15_000);
