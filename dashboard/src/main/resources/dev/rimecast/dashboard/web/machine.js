// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api, Refused } from './api.js';
import { askMachineOutOfService, askToAcknowledge, askToEndHold } from './ask.js';
import { askToReport, eventList, reportedText } from './event-parts.js';
import { ago, dateTimeText, when } from './format.js';
import { can, failure, frame, line, main, show, title, waiting } from './frame.js';
import { listen } from './live.js';
import { about, gaps, nowTiles, openAlerts } from './machine-parts.js';
import { allPlots } from './machine-plots.js';
import { Plot } from './plot.js';
import { plotTable } from './plot-table.js';
import * as span from './span.js';
import { t } from './texts.js';
import { phases, word } from './words.js';

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
/** @type {Map<string, Plot>} */
const plots = new Map();

/** @param {unknown} e */
function fail(e) {
  failed = e instanceof Refused && e.status === 404 ? t.machine.missing : /** @type {Error} */ (e).message;
  draw();
}

async function loadMachine() {
  try {
    [machine, { events, next: moreEvents }] = await Promise.all([api.machine(id), api.eventsOfMachine(id)]);
    failed = '';
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
  // the machine first: its answer tells the product's time, from which the span is counted
  await loadMachine();
  if (machine) await loadCurves();
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
      <span class="hint">${dateTimeText(shown.from)} – ${dateTimeText(shown.to)}. ${t.machine.dragHint}</span>
    </div>`;
}

/** @returns {import('./machine-plots.js').Drawn[]} */
function drawn() {
  if (!machine || !temperatures) return [];
  const zoomed = (/** @type {number} */ from, /** @type {number} */ to) => spanning(() => span.chooseRange(from, to))();
  return allPlots({ machine, cycles, temperatures, ...shown, zoomed });
}

/** @param {import('./machine-plots.js').Drawn} plot */
function figure(plot) {
  const [heading, hint] = t.plots[/** @type {'freeze'} */ (plot.id)];
  const empty = plot.spec.x.length === 0;
  return html`
    <section class="panel plot" aria-labelledby="plot-${plot.id}">
      <h3 id="plot-${plot.id}">${heading}</h3><p class="hint">${hint} ${plot.caption}</p>
      ${empty ? html`<p class="notice">${t.plots.empty}</p>` : nothing}
      <div class="canvas" data-plot=${plot.id} ?hidden=${empty}></div>
      ${plotTable(heading, plot.columns, plot.rows)}
    </section>`;
}

/** @param {import('./api.js').Machine} m */
function serviceButton(m) {
  const hold = m.outOfService;
  if (!can('out-of-service')) return nothing;
  return hold
    ? html`<button type="button" class="primary" @click=${() => askToEndHold(hold, loadMachine)}>${t.ask.returnToService.title}</button>`
    : html`<button type="button" @click=${() => askMachineOutOfService(m.machine, loadMachine)}>${t.ask.outOfService.title}</button>`;
}

/** @param {import('./api.js').Machine} m @param {import('./machine-plots.js').Drawn[]} figures */
const content = (m, figures) => html`
  <div class="head"><h1>${m.machine}</h1>
    <p class="lead">${m.site.name}${m.room ? `, ${m.room}` : ''}${m.now.phase ? html` · ${word(phases, m.now.phase.text)}` : nothing}
      · ${m.lastReadingAt ? html`${t.machine.lastReading.toLowerCase()} ${when(m.lastReadingAt, ago)}` : t.fleet.never}</p>
    ${m.outOfService ? html`<p class="notice">${t.states['out-of-service']} ${t.since} ${when(m.outOfService.since)}: ${m.outOfService.reason} (${m.outOfService.by}, ${t.alert.permitted} ${m.outOfService.permittedBy})</p>` : nothing}
    <p class="buttons">${can('report') ? html`<button type="button" @click=${() => report(m)}>${t.ask.report.title}</button>` : nothing}${serviceButton(m)}<button type="button" @click=${() => print()}>${t.machine.print}</button></p></div>
  <div role="status">${told ? html`<p class="well">${told}</p>` : nothing}</div>
  ${failed ? failure(failed, load) : nothing}
  <section aria-labelledby="open"><h2 id="open">${t.machine.open}</h2>${openAlerts(m, (alert) => askToAcknowledge(alert, loadMachine))}</section>
  <section aria-labelledby="now"><h2 id="now">${t.machine.now}</h2>${nowTiles(m)}</section>
  <section aria-labelledby="curves"><h2 id="curves">${t.machine.curves}</h2>${spanBar()}
    <div class="plots">${figures.map(figure)}</div></section>
  <section aria-labelledby="happened"><h2 id="happened">${t.events.title}</h2>${eventList(events, false, moreEvents ? olderEvents : null)}</section>
  <div class="two">${gaps(m)}${about(m)}</div>`;

let drawing = false;
function draw() {
  if (drawing) return;
  drawing = true;
  requestAnimationFrame(() => {
    drawing = false;
    if (!machine) return show(waiting(id || t.machine.loading, failed, load));
    const figures = drawn();
    show(content(machine, figures));
    for (const figure of figures) plotIn(figure);
  });
}

/** @type {Map<string, string>} what was drawn last, so that a plot under the finger is not drawn for nothing */
const last = new Map();

/** @param {import('./machine-plots.js').Drawn} figure */
function plotIn({ id, spec }) {
  const place = /** @type {HTMLElement} */ (main.querySelector(`[data-plot="${id}"]`));
  const before = plots.get(id);
  const plot = before && before.place === place ? before : new Plot(place);
  plots.set(id, plot);
  const what = JSON.stringify([spec.x, spec.xRange, spec.series, spec.marks, spec.ribbon, spec.height, scheme.matches]);
  if (plot === before && last.get(id) === what) return;
  last.set(id, what);
  plot.draw(spec);
}

let later = 0;
let curvesLater = 0;
/** @param {string} kind */
function changed(kind) {
  clearTimeout(later);
  later = setTimeout(loadMachine, 300);
  if (kind === 'cycle' && span.follows() && !curvesLater) {
    curvesLater = setTimeout(() => { curvesLater = 0; loadCurves(); }, 2_000);
  }
}

const scheme = matchMedia('(prefers-color-scheme: dark)');
scheme.addEventListener('change', draw);
frame();
title(id || t.machine.loading);
draw();
load();
listen({ kinds: 'alert,cycle,reading', machine: id, changed, reload: load, line });
addEventListener('units-changed', draw);
addEventListener('me-known', draw);
setInterval(draw, 15_000);
