// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { now } from './clock.js';
import { first } from './first.js';
import { attentionRow, quietRow } from './fleet-rows.js';
import { quietSite, siteRow, sitesInGroups } from './fleet-sites.js';
import { filtered, filterFromAddress, filterToAddress, grouped, groupOf } from './fleet-groups.js';
import { failure, frame, line, main, show, title, waiting as waitingFor } from './frame.js';
import { ListWindow } from './list-window.js';
import { listen } from './live.js';
import { t } from './texts.js';

/** @typedef {import('./api.js').FleetRow} FleetRow */

const HELD_MS = 5_000;
let filter = filterFromAddress();
/** @type {FleetRow[] | null} */
let rows = first?.fleet.machines ?? null;
/** Only the first rows of a large fleet are in the page: no number of anything, and nothing searched, until the others are here. */
let part = first !== null && first.fleet.total > first.fleet.machines.length;
let failed = '';
/** The newest order, while somebody has the pointer or the keyboard in the list. @type {FleetRow[] | null} */
let waiting = null;
let moved = 0;
let touchedAt = -HELD_MS;
const lists = new ListWindow(() => draw());

/** Somebody is about to press something: rows change in place, but don't move. */
function held() {
  const list = document.querySelector('.groups');
  return performance.now() - touchedAt < HELD_MS || (list?.contains(document.activeElement) ?? false);
}

/** @param {FleetRow[]} fresh */
function take(fresh) {
  if (!rows || part || !held()) return settle(fresh);
  const byName = new Map(fresh.map((row) => [row.machine, row]));
  const time = now();
  const place = new Map(fresh.map((row, i) => [row.machine, `${groupOf(row, time)} ${row.leading ? i : ''}`]));
  moved = 0;
  const kept = rows.flatMap((row, i) => {
    const next = byName.get(row.machine);
    byName.delete(row.machine);
    if (next && place.get(row.machine) !== `${groupOf(row, time)} ${row.leading ? i : ''}`) moved++;
    return next ? [next] : [];
  });
  rows = [...kept, ...byName.values()];
  waiting = moved > 0 ? fresh : null;
}

/** @param {FleetRow[]} fresh */
function settle(fresh) {
  rows = fresh;
  part = false;
  waiting = null;
  moved = 0;
}

let asking = false;
let askAgain = false;

/** One request at a time, and pauses that grow with how long an answer takes: a large fleet is asked less often. */
async function load() {
  if (asking) {
    askAgain = true;
    return;
  }
  asking = true;
  const started = performance.now();
  try {
    take((await api.fleet()).machines);
    failed = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
  setTimeout(() => {
    asking = false;
    if (askAgain) {
      askAgain = false;
      load();
    }
  }, Math.max(400, 8 * (performance.now() - started)));
}

/** @param {Partial<typeof filter>} change */
function refilter(change) {
  filter = { ...filter, ...change };
  filterToAddress(filter);
  draw();
}

const names = new Intl.Collator();
/** Sites to choose from, of the rows that they were last made of: what a timer draws again needs no sorting. */
const choice = { of: /** @type {FleetRow[]} */ ([]), sites: /** @type {[string, string][]} */ ([]) };

/** Each site and its name, by name. @param {FleetRow[]} all @returns {[string, string][]} */
function sitesOf(all) {
  if (choice.of !== all) {
    choice.of = all;
    choice.sites = [...new Map(all.map((row) => [row.site, row.siteName]))].sort((a, b) => names.compare(a[1], b[1]));
  }
  return choice.sites;
}

/** @param {FleetRow[]} all */
function filterBar(all) {
  const sites = sitesOf(all);
  const active = filter.q || filter.site || filter.show !== 'all';
  return html`
    <form class="filter" role="search" @submit=${(/** @type {Event} */ e) => e.preventDefault()}>
      <label>${t.fleet.search}
        <input type="search" name="q" autocomplete="off" placeholder=${t.fleet.searchHint} .value=${filter.q}
          @input=${(/** @type {any} */ e) => refilter({ q: e.target.value })}></label>
      <label>${t.fleet.site}
        <select name="site" @change=${(/** @type {any} */ e) => refilter({ site: e.target.value })}>
          <option value="" ?selected=${!filter.site}>${t.fleet.allSites}</option>
          ${sites.map(([id, name]) => html`<option value=${id} ?selected=${filter.site === id}>${name}</option>`)}
        </select></label>
      <label>${t.fleet.show}
        <select name="show" @change=${(/** @type {any} */ e) => refilter({ show: e.target.value })}>
          ${Object.entries(t.fleet.shows).map(([id, name]) => html`<option value=${id} ?selected=${filter.show === id}>${name}</option>`)}
        </select></label>
      <label>${t.fleet.view}
        <select name="view" @change=${(/** @type {any} */ e) => refilter({ view: e.target.value })}>
          ${Object.entries(t.fleet.views).map(([id, name]) => html`<option value=${id} ?selected=${filter.view === id}>${name}</option>`)}
        </select></label>
      ${active ? html`<button type="button" @click=${() => refilter({ q: '', site: '', show: 'all' })}>${t.fleet.reset}</button>` : nothing}
    </form>`;
}

/** @param {import('./fleet-groups.js').Group} name @param {number} count of which the list is made @param {Record<string, string[]>} words @param {unknown} list */
function section(name, count, words, list) {
  if (count === 0) return nothing;
  const [heading, hint] = words[name];
  return html`
    <section class="group ${name}" aria-labelledby="group-${name}">
      <h2 id="group-${name}">${heading} ${part ? nothing : html`<span class="count">${count}</span>`}${hint ? html` <span class="hint">${hint}</span>` : nothing}</h2>
      ${list}
    </section>`;
}

/** @param {FleetRow[]} shown @param {number} time */
function machineSections(shown, time) {
  return [...grouped(shown, time)].map(([name, members]) => section(name, members.length, t.fleet.groups,
    lists.list(name, name === 'quiet' ? 'calms' : 'rows', members, (row) => row.machine, name === 'quiet' ? quietRow : attentionRow)));
}

/** @param {FleetRow[]} shown @param {FleetRow[]} all @param {number} time */
function siteSections(shown, all, time) {
  return [...sitesInGroups(shown, all, time)].map(([name, sites]) => section(name, sites.length, t.fleet.siteGroups,
    lists.list(`site-${name}`, name === 'quiet' ? 'calms' : 'rows', sites, (row) => row.site, name === 'quiet' ? quietSite : siteRow)));
}

/** Of everything there is, whatever a search leaves out. @param {FleetRow[]} all @param {number} time */
function summary(all, time) {
  const groups = filter.view === 'site' ? sitesInGroups(all, all, time) : grouped(all, time);
  const size = (/** @type {import('./fleet-groups.js').Group} */ name) => groups.get(name)?.length ?? 0;
  const total = [...groups.values()].reduce((sum, members) => sum + members.length, 0);
  return { text: (filter.view === 'site' ? t.fleet.sites.summary : t.fleet.summary)(total, size('now') + size('day'), total - size('quiet')), allQuiet: total > 0 && size('quiet') === total };
}

/** @param {FleetRow[]} shown @param {FleetRow[]} all @param {number} time */
function groups(shown, all, time) {
  if (part && (filter.view === 'site' || shown.length < all.length)) return html`<p class="quietly" role="status">${t.loading}</p>`;
  return html`
    ${all.length === 0 ? html`<p class="notice">${t.fleet.none}</p>` : nothing}
    ${all.length > 0 && shown.length === 0 ? html`<p class="notice">${t.fleet.noMatch}</p>` : nothing}
    ${filter.view === 'site' ? siteSections(shown, all, time) : machineSections(shown, time)}`;
}

/** @param {FleetRow[]} all */
function content(all) {
  const time = now();
  const { text, allQuiet } = part ? { text: t.loading, allQuiet: false } : summary(all, time);
  const shown = filtered(all, filter);
  return html`
    <div class="head"><h1>${t.fleet.title}</h1>
      <p class="summary">${text}</p></div>
    ${filterBar(all)}
    <div role="status">${waiting ? html`<p class="strip moved">${t.fleet.moved(moved)}. <button type="button" @click=${reorder}>${t.fleet.reorder}</button></p>` : nothing}</div>
    ${failed ? failure(failed, load) : nothing}
    <div class="groups" @pointermove=${touched} @pointerdown=${touched}>
      ${allQuiet && filter.show === 'all' ? html`<p class="well">${t.fleet.allQuiet}</p>` : nothing}
      ${groups(shown, all, time)}
    </div>`;
}

function touched() {
  touchedAt = performance.now();
}

function reorder() {
  if (waiting) settle(waiting);
  touchedAt = -HELD_MS;
  draw();
}

function paint() {
  show(rows ? content(rows) : waitingFor(t.fleet.title, failed, load));
  lists.settle(main);
}

let drawing = false;
function draw() {
  if (drawing) return;
  drawing = true;
  requestAnimationFrame(() => {
    drawing = false;
    paint();
  });
}

frame();
title(t.fleet.title);
// at once, and not with the next picture of the screen: what is in the page is there when the page is
paint();
load();
listen({ kinds: 'alert', changed: load, reload: load, line });
addEventListener('units-changed', draw);
addEventListener('clock-told', draw);
addEventListener('popstate', () => { filter = filterFromAddress(); draw(); });
setInterval(() => {
  if (waiting && !held()) reorder();
  else draw();
}, 5_000);
setInterval(load, 30_000);
