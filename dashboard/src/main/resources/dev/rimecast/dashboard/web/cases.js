// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { repeat } from './lib/lit-html/directives/repeat.js';
import { causeLine, stateText } from './alert-parts.js';
import { api } from './api.js';
import { askToCloseCase } from './ask.js';
import { leftText } from './fleet-rows.js';
import { when } from './format.js';
import { can, failure, frame, line, show, title, waiting } from './frame.js';
import { listen } from './live.js';
import { olderButton, showMore, STEP } from './show-more.js';
import { loadSiteLinks, siteLinkParts } from './site-links.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { causes, complaints, conditions, saysTheSame, word } from './words.js';

/** @typedef {import('./api.js').Case} Case */

/** @type {Case[] | null} */
let cases = null;
let failed = '';
let finished = new URLSearchParams(location.search).get('finished') === 'true';
/** How many that are over are wanted, where any are. */
let wanted = STEP;
/** Whether more of them are there. */
let older = false;
const more = showMore(() => draw());
const rank = { urgent: 0, high: 1, medium: 2, low: 3 };

/** @param {Case} a @param {Case} b */
function byUrgency(a, b) {
  const priority = rank[a.priority ?? 'low'] - rank[b.priority ?? 'low'];
  const date = Date.parse(a.actBy ?? '9999-12-31T00:00:00Z') - Date.parse(b.actBy ?? '9999-12-31T00:00:00Z');
  return Number(Boolean(a.closedAt)) - Number(Boolean(b.closedAt)) || priority || date || a.id.localeCompare(b.id);
}

async function load() {
  loadSiteLinks(draw);
  try {
    const { rows, more: isMore } = await api.cases(finished ? wanted : 0);
    [cases, older] = [rows.sort(byUrgency), isMore];
    failed = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

/** The call that is newest. @param {Case} c */
const lastCall = (c) => c.calls[c.calls.length - 1];

/**
 * What it is about: the place's words, else what the first alert that is open says and what it probably is now, else the
 * call. What a case was opened for is in its history; the diagnosis may have moved since.
 * @param {Case} c
 */
function heading(c) {
  if (c.title) return c.title;
  const first = c.alerts[0];
  if (!first) return lastCall(c)?.detail ? t.cases.onlyCallOf(word(complaints, lastCall(c).detail)) : t.cases.onlyCall;
  const cause = first.causes[0]?.cause;
  const tells = cause && first.confidence !== 'cannot-tell' && !saysTheSame(first.condition, cause);
  return `${word(conditions, first.condition)}${tells ? `: ${word(causes, cause)}` : ''}`;
}

/** @param {Case} c */
function size(c) {
  const machines = new Set(c.alerts.map((a) => a.machine).filter(Boolean)).size;
  return [
    machines > 1 ? t.cases.machines(machines) : '',
    c.alerts.length ? t.cases.alerts(c.alerts.length) : '',
    c.calls.length ? t.cases.calls(c.calls.length) : '',
  ].filter(Boolean).join(', ');
}

/** Machines with something open. @param {Case} c */
const openMachines = (c) => [...new Set(c.alerts.filter((a) => !a.clearedAt).flatMap((a) => a.machine ?? []))].slice(0, 4);

/** @param {Case} c */
function left(c) {
  if (c.closedAt) return t.left.ended;
  const first = c.alerts[0];
  return first ? leftText(first, c.actBy) : t.left.none;
}

/** @param {Case} c */
function subject(c) {
  return c.subject && c.alerts.some((a) => a.machine === c.subject)
    ? html`<a class="id" href="/machines/${c.subject}">${c.subject}</a>`
    : html`<span class="id">${c.subject?.startsWith('site:') ? t.cases.wholeSite : c.subject?.replace(/^gateway:/, '') ?? c.place ?? c.siteName}</span>`;
}

/** @param {Case} c */
function item(c) {
  const canClose = can('close-case') && !c.closedAt && c.alerts.every((a) => a.state === 'normal');
  return html`
    <li class="row stage-${c.closedAt ? 'early' : (c.alerts[0]?.stage ?? 'early')}" id=${c.id} data-case=${c.id}>
      <div class="left"><b class="amount">${left(c)}</b></div>
      <div class="which">${subject(c)}
        <span class="place">${c.siteName}</span></div>
      <div class="wrong"><b class="what">${heading(c)}</b>
        <p class="likely">${c.priority ? html`<span class="tag">${t.priorities[c.priority]}</span> ` : nothing}${size(c)} <span class="since">${t.cases.opened} ${when(c.openedAt)}${c.closedAt ? html`, ${t.cases.closed} ${when(c.closedAt)}` : nothing}</span></p>
        ${c.spokenForBy ? html`<p class="hint"><a href="#${c.spokenForBy}">${t.cases.spokenFor}</a></p>` : nothing}
        ${c.mergedInto ? html`<p class="hint"><a href="#${c.mergedInto}">${t.cases.merged}</a></p>` : nothing}
        <details class="table"><summary>${t.cases.details}</summary><ul class="parts">
          ${c.alerts.map((a) => html`<li><a href="/alerts/${a.id}">${a.machine ?? a.gateway ?? a.siteName}: ${word(conditions, a.condition)}</a>
            <span class="state">${stateText(a)}</span> ${prose(a.summary)} ${causeLine(a)} <a href="/alerts/${a.id}/why" aria-label="${t.alert.why} ${a.machine ?? a.gateway ?? a.siteName}, ${word(conditions, a.condition)}">${t.alert.why}</a></li>`)}
          ${c.calls.map((call) => html`<li>${t.cases.call} ${when(call.at)}${call.machine ? html`, ${call.machine}` : nothing}: ${word(complaints, call.detail)}${call.by ? `, ${call.by}` : ''}${call.job ? `, ${t.events.jobNumber(call.job)}` : ''}</li>`)}
        </ul></details>
        ${siteLinkParts(c.id, c.site, c.closedAt ? [] : openMachines(c), draw)}</div>
      <div class="act"><span class="label">${t.fleet.columns.act}</span> ${c.closedAt ? '–' : c.actBy ? when(c.actBy) : t.cases.noDate}</div>
      <div class="who">${canClose ? html`<button type="button" aria-label="${t.cases.close}: ${c.subject ?? c.siteName}" @click=${() => askToCloseCase(c, load)}>${t.cases.close}</button>` : nothing}</div>
    </li>`;
}

/** @param {any} e */
function toggleFinished(e) {
  finished = e.target.checked;
  history.replaceState(null, '', finished ? '?finished=true' : location.pathname);
  load();
}

let sought = location.hash.slice(1);
const led = sought;

function draw() {
  const all = cases;
  if (!all) return show(waiting(t.cases.title, failed, load));
  const open = all.filter((c) => !c.closedAt).length;
  // what an address leads to is shown, however far down it stands
  const reached = all.findIndex((c) => c.id === sought || c.id === led) + 1;
  const shown = all.slice(0, Math.max(reached, more.of('cases', all).length));
  show(html`
    <div class="head"><h1>${t.cases.title}</h1><p class="summary">${t.cases.summary(open)} ${t.cases.intro} <a href="/figures">${t.figures.link}</a>.</p></div>
    <p class="filter"><label class="check"><input type="checkbox" name="finished" .checked=${finished} @change=${toggleFinished}> ${t.cases.showFinished}</label></p>
    ${failed ? failure(failed, load) : nothing}
    ${open === 0 ? html`<p class="well">${t.cases.none}</p>` : nothing}
    ${all.length === 0 ? nothing : html`<ul class="rows">${repeat(shown, (c) => c.id, item)}</ul>`}
    ${more.button('cases', all.length)} ${olderButton(older, () => { wanted = all.length - open + STEP; load(); })}`);
  if (sought) document.getElementById(sought)?.scrollIntoView();
  sought = '';
}

let later = 0;
/** A burst of changes is one look. */
function soon() {
  clearTimeout(later);
  later = setTimeout(load, 300);
}

frame();
title(t.cases.title);
draw();
load();
listen({ kinds: 'alert', changed: soon, reload: load, line });
addEventListener('units-changed', draw);
addEventListener('me-known', draw);
setInterval(draw, 10_000);
