// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api, Refused } from './api.js';
import { askToReport, eventList, reportedText } from './event-parts.js';
import { can, failure, frame, line, show, title, waiting } from './frame.js';
import { listen } from './live.js';
import { t } from './texts.js';

/** @type {import('./api.js').Site[] | null} */
let sites = null;
/** @type {import('./api.js').FleetRow[]} */
let rows = [];
let site = new URLSearchParams(location.search).get('site') ?? '';
/** @type {import('./api.js').HappenedEvent[]} */
let events = [];
/** @type {number | undefined} */
let next;
let told = '';
/** @type {import('./api.js').EventImport | null} */
let imported = null;
/** Why an import did not work. */
let spoiled = '';
let failed = '';

async function load() {
  try {
    const [known, fleet] = await Promise.all([api.sites(), api.fleet()]);
    [sites, rows] = [known, fleet.machines];
    if (!sites.some((s) => s.site === site)) site = sites[0]?.site ?? '';
    await loadEvents();
    failed = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

async function loadEvents() {
  if (!site) return;
  ({ events, next } = await api.eventsOfSite(site));
}

async function more() {
  try {
    const page = await api.eventsOfSite(site, next);
    events = [...events, ...page.events];
    next = page.next;
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

/** @param {any} e */
function choose(e) {
  site = e.target.value;
  told = '';
  history.replaceState(null, '', `?site=${encodeURIComponent(site)}`);
  load();
}

function report() {
  const name = sites?.find((s) => s.site === site)?.name ?? site;
  const machines = rows.filter((row) => row.site === site).map((row) => row.machine).sort();
  askToReport({ site, siteName: name, machines }, (reported) => { told = reportedText(reported); load(); });
}

/** @param {SubmitEvent} e */
async function send(e) {
  e.preventDefault();
  const form = /** @type {HTMLFormElement} */ (e.target);
  const file = /** @type {File} */ (new FormData(form).get('file'));
  [imported, spoiled] = [null, ''];
  try {
    imported = await api.importEvents(file);
    form.reset();
  } catch (e) {
    spoiled = e instanceof Refused ? e.message : String(e);
  }
  await load();
}

const importForm = () => html`
  <section class="panel" aria-labelledby="import"><h2 id="import">${t.events.importTitle}</h2>
    <p class="hint">${t.events.importHint}</p>
    <form class="filter" @submit=${send}>
      <label>${t.events.file}<input type="file" name="file" accept=".csv,text/csv" required></label>
      <button>${t.events.importSend}</button></form>
    <div role="status">${imported ? html`<p>${t.events.imported(imported)}</p>` : nothing}</div>
    ${imported?.problems.length ? html`<div class="scroll" tabindex="0" role="region" aria-label=${t.events.problems}><table><thead><tr><th>${t.events.line}</th><th>${t.events.column}</th><th>${t.events.problem}</th></tr></thead>
      <tbody>${imported.problems.map((p) => html`<tr><td>${p.line || ''}</td><td>${p.column}</td><td>${p.problem}</td></tr>`)}</tbody></table></div>` : nothing}
    ${spoiled ? html`<p class="notice" role="alert">${t.events.spoiled(spoiled)}</p>` : nothing}
  </section>`;

function draw() {
  if (!sites) return show(waiting(t.events.title, failed, load));
  show(html`
    <div class="head"><h1>${t.events.title}</h1><p class="summary">${t.events.intro}</p></div>
    ${failed ? failure(failed, load) : nothing}
    ${sites.length === 0 ? html`<p class="notice">${t.events.noSite}</p>` : html`
      <form class="filter" @submit=${(/** @type {Event} */ e) => e.preventDefault()}>
        <label>${t.fleet.site}<select name="site" @change=${choose}>${[...sites].sort((a, b) => a.name.localeCompare(b.name)).map((s) => html`<option value=${s.site} ?selected=${s.site === site}>${s.name}</option>`)}</select></label>
        ${can('report') ? html`<button type="button" class="primary" @click=${report}>${t.ask.report.title}</button>` : nothing}
        <a class="button" href="/site-care/${site}">${t.events.careRecord}</a></form>
      <div role="status">${told ? html`<p class="well">${told}</p>` : nothing}</div>
      ${eventList(events, true, next ? more : null)}
      ${can('report') ? importForm() : nothing}`}`);
}

frame();
title(t.events.title);
draw();
load();
listen({ kinds: 'alert', changed: load, reload: load, line });
addEventListener('me-known', draw);
