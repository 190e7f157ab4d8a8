// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { repeat } from './lib/lit-html/directives/repeat.js';
import { api, me } from './api.js';
import { now } from './clock.js';
import { workTime } from './format.js';
import { can, failure, frame, line, show, title, waiting } from './frame.js';
import { listen } from './live.js';
import { notHeldPart } from './not-held.js';
import { t } from './texts.js';
import { keepAhead } from './visit-ahead.js';
import { calendarPart } from './visit-calendar.js';
import { askForNew } from './visit-new.js';
import { askToAct, askToMove, awayPart, dayBrief, dayLong, dayParts, historyLine, needsList, ordersPart, partsLine, plusDays, requestPart, todayIn, waitingList } from './visit-parts.js';

/** @typedef {import('./api.js').Visit} Visit */

const STRIP_DAYS = 14;
const asked = new URLSearchParams(location.search);
/** @type {import('./api.js').VisitPlan | null} */
let plan = null;
/** @type {import('./api.js').NotHeld[]} */
let notHeld = [];
let failed = '';
let view = asked.get('view') === 'site' ? 'site' : 'day';
let site = asked.get('site') ?? '';
let engineer = asked.get('engineer') ?? '';
let ended = asked.get('ended') === 'true';
/** The visit that is being dragged. */
let dragged = '';
let over = '';
/** How many visits of whoever is signed in this phone keeps for later. */
let ahead = 0;

async function load() {
  try {
    [plan, notHeld] = await Promise.all([api.visits(ended), api.notHeld().catch(() => [])]);
    failed = '';
    keep(plan.visits);
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

/** @type {Promise<void>} */
let keeping = Promise.resolve();
/** One look after the other. @param {Visit[]} visits */
function keep(visits) {
  keeping = keeping.then(async () => {
    ahead = await keepAhead(visits, await me());
    draw();
  }).catch(() => { /* the sheet keeps itself when it is opened */ });
}

function remember() {
  const query = new URLSearchParams();
  if (view === 'site') query.set('view', view);
  if (site) query.set('site', site);
  if (engineer) query.set('engineer', engineer);
  if (ended) query.set('ended', 'true');
  history.replaceState(null, '', String(query) ? `?${query}` : location.pathname);
}

/** @param {Visit} v */
const isShown = (v) => (!site || v.site === site) && (!engineer || v.engineer === engineer);
/** @param {Visit} v */
const isOpen = (v) => v.state === 'proposed' || v.state === 'accepted';

/** @param {Visit} v */
function buttons(v) {
  const button = (/** @type {string} */ text, /** @type {() => void} */ act, primary = false) =>
    html`<button type="button" class=${primary ? 'primary' : nothing} aria-label="${text}: ${v.siteName}, ${dayBrief(v.day)}" @click=${act}>${text}</button>`;
  const plans = can('plan-visits') && isOpen(v);
  return html`<p class="buttons">
    ${plans && v.state === 'proposed' ? button(t.visits.accept.title, () => askToAct(v, 'accept', load), true) : nothing}
    ${plans ? button(t.visits.move.title, () => askToMove(v, plan?.means.engineers ?? [], v.day, load)) : nothing}
    ${can('report') && v.state === 'accepted' ? button(t.visits.done.title, () => askToAct(v, 'done', load)) : nothing}
    ${plans && v.state === 'accepted' && !v.request ? button(t.visits.release.title, () => askToAct(v, 'release', load)) : nothing}
    ${plans && v.state === 'accepted' ? button(t.visits.cancel.title, () => askToAct(v, 'cancel', load)) : nothing}
    <a href="/visits/${v.id}">${t.visits.sheet}</a></p>`;
}

/** @param {Visit} v */
function item(v) {
  const moves = can('plan-visits') && isOpen(v);
  return html`
    <li class="row visit visit-${v.state}" id=${v.id} data-visit=${v.id} draggable=${moves ? 'true' : 'false'}
      @dragstart=${(/** @type {DragEvent} */ e) => { dragged = v.id; e.dataTransfer?.setData('text/plain', v.id); }}
      @dragend=${() => { dragged = ''; over = ''; draw(); }}>
      <div class="left"><b class="amount">${view === 'day' ? v.from : dayBrief(v.day)}</b>
        <span class="hint">${view === 'day' ? nothing : v.from} ${workTime(v.minutes)}</span></div>
      <div class="which"><b class="id">${v.siteName}</b> <span class="place">${v.engineer}</span> <span class="state">${t.visits.states[v.state]}</span></div>
      <div class="wrong">
        ${requestPart(v)}
        ${v.needs.length ? needsList(v.needs) : v.request ? nothing : html`<p class="well">${isOpen(v) ? t.visits.nothingLeft : t.visits.nothing}</p>`}
        ${v.state === 'accepted' && Date.parse(v.endsAt) < now() ? html`<p class="mind">${t.visits.overdue}</p>` : nothing}
        ${awayPart(v)}
        ${partsLine(v.needs)}
        ${isOpen(v) ? ordersPart(v) : nothing}
        ${v.note ? html`<p><span class="label">${t.ask.note}</span> <q>${v.note}</q></p>` : nothing}
        <details class="table"><summary>${t.visits.history}</summary><ol class="history">${v.history.map(historyLine)}</ol></details></div>
      <div class="who">${buttons(v)}</div>
    </li>`;
}

/** What a day does when a visit is dropped on it. @param {string} day */
const target = (day) => ({
  dragover: (/** @type {DragEvent} */ e) => { if (dragged) { e.preventDefault(); if (over !== day) { over = day; draw(); } } },
  drop: (/** @type {DragEvent} */ e) => {
    e.preventDefault();
    const visit = plan?.visits.find((v) => v.id === dragged);
    [dragged, over] = ['', ''];
    draw();
    if (visit && visit.day !== day) askToMove(visit, plan?.means.engineers ?? [], day, load);
  },
});

/** The next days at a glance: how many visits each has, and a place to drop one on. @param {Visit[]} open */
function strip(open) {
  const today = todayIn();
  const days = Array.from({ length: STRIP_DAYS }, (_, i) => plusDays(today, i));
  return html`
    ${can('plan-visits') ? html`<p class="hint drag-hint">${t.visits.dragHint}</p>` : nothing}
    <ol class="days" aria-label=${t.visits.strip}>${days.map((day) => {
      const count = open.filter((v) => v.day === day).length;
      const does = target(day);
      return html`<li class=${over === day ? 'drop-here' : nothing} data-day=${day} @dragover=${does.dragover} @drop=${does.drop}>
        ${dayParts(day)} ${count ? html`<a href="#day-${day}">${count}<span class="month"> ${t.visits.word(count)}</span></a>` : html`<span class="hint">${t.visits.free}</span>`}</li>`;
    })}</ol>`;
}

/** @param {Visit[]} shown */
function groups(shown) {
  /** @type {Map<string, Visit[]>} */
  const map = new Map();
  for (const v of shown) {
    const key = view === 'day' ? v.day : v.siteName;
    map.set(key, [...(map.get(key) ?? []), v]);
  }
  return [...map.entries()].sort(([a], [b]) => a.localeCompare(b));
}

/** @param {[string, Visit[]]} group */
function group([key, visits]) {
  const does = view === 'day' ? target(key) : null;
  return html`<section class="group ${over === key ? 'drop-here' : ''}" id=${view === 'day' ? `day-${key}` : nothing} @dragover=${does?.dragover} @drop=${does?.drop}>
    <h2>${view === 'day' ? dayLong(key) : key} <span class="count">${t.visits.count(visits.length)}</span></h2>
    <ul class="rows">${repeat(visits, (v) => v.id, item)}</ul></section>`;
}

/** @param {import('./api.js').VisitPlan} all */
function waitingPart(all) {
  const list = all.waiting.filter((w) => !site || w.need.site === site);
  if (!list.length) return nothing;
  const first = list.filter((w) => w.reason === 'impossible');
  const rest = list.filter((w) => w.reason !== 'impossible');
  return html`
    ${first.length ? html`<section class="group"><h2>${t.visits.impossible} <span class="count">${first.length}</span></h2>${first.some((w) => w.need.kind === 'case') ? html`<p class="hint">${t.visits.impossibleHint}</p>` : nothing}${waitingList(first)}</section>` : nothing}
    ${rest.length ? html`<section class="group"><h2>${t.visits.waiting} <span class="count">${rest.length}</span></h2><p class="hint">${t.visits.waitingHint(all.means.horizonDays)}</p>${waitingList(rest)}</section>` : nothing}`;
}

/** @param {import('./api.js').VisitPlan} all */
function filters(all) {
  const sites = [...new Map(all.visits.map((v) => [v.site, v.siteName])).entries()].sort((a, b) => a[1].localeCompare(b[1]));
  const choose = (/** @type {(value: string) => void} */ set) => (/** @type {any} */ e) => { set(e.target.value); remember(); draw(); };
  return html`
    <form class="filter visit-filter" @submit=${(/** @type {Event} */ e) => e.preventDefault()}>
      <label>${t.fleet.site}<select name="site" @change=${choose((v) => { site = v; })}><option value="">${t.fleet.allSites}</option>${sites.map(([id, name]) => html`<option value=${id} ?selected=${id === site}>${name}</option>`)}</select></label>
      <label>${t.visits.engineer}<select name="engineer" @change=${choose((v) => { engineer = v; })}><option value="">${t.visits.everybody}</option>${all.means.engineers.map((e) => html`<option ?selected=${e.name === engineer}>${e.name}</option>`)}</select></label>
      <label>${t.visits.order}<select name="view" @change=${choose((v) => { view = v; })}><option value="day" ?selected=${view === 'day'}>${t.visits.byDay}</option><option value="site" ?selected=${view === 'site'}>${t.visits.bySite}</option></select></label>
      <label class="check"><input type="checkbox" name="ended" .checked=${ended} @change=${(/** @type {any} */ e) => { ended = e.target.checked; remember(); load(); }}> ${t.visits.showEnded}</label>
      ${can('plan-visits') ? html`<button type="button" data-new-visit @click=${makeOne}>${t.visits.make.button}</button><button type="button" @click=${planNow}>${t.visits.planNow}</button>` : nothing}
    </form>`;
}

/** By hand, e.g. as it was agreed on the phone. */
async function makeOne() {
  try {
    await askForNew(site, plan?.means.engineers ?? [], load);
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
    draw();
  }
}

async function planNow() {
  try {
    await api.planVisits();
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  await load();
}

function draw() {
  const all = plan;
  if (!all) return show(waiting(t.visits.title, failed, load));
  const shown = all.visits.filter(isShown);
  const open = shown.filter(isOpen);
  show(html`
    <div class="head"><h1>${t.visits.title}</h1>
      <p class="summary">${t.visits.summary(open.filter((v) => v.state === 'proposed').length, open.filter((v) => v.state === 'accepted').length)} ${t.visits.intro}</p>
      ${all.means.teamKnown ? nothing : html`<p class="hint">${t.visits.teamUnknown}</p>`}
      ${all.means.partsKnown ? nothing : html`<p class="hint">${t.visits.partsUnknown}</p>`}
      ${ahead ? html`<p class="hint" data-ahead=${ahead}>${t.visits.ahead(ahead)}</p>` : nothing}</div>
    ${filters(all)}
    ${failed ? failure(failed, load) : nothing}
    ${strip(open)}
    ${notHeldPart(notHeld.filter((each) => !site || each.site === site))}
    ${shown.length === 0 ? html`<p class="well">${t.visits.none}</p>` : groups(shown).map(group)}
    ${waitingPart(all)}
    ${calendarPart(all.means.engineers, draw)}`);
}

let later = 0;
/** A burst of changes is one look. */
function soon() {
  clearTimeout(later);
  later = setTimeout(load, 300);
}

frame();
title(t.visits.title);
draw();
load();
listen({ kinds: 'visit', changed: soon, reload: load, line });
addEventListener('me-known', draw);
addEventListener('units-changed', draw);
