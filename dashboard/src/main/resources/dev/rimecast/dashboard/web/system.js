// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api, Refused } from './api.js';
import { ago, clockText, number, when } from './format.js';
import { askWho, can, failure, frame, line, show, title, waiting } from './frame.js';
import { claimsPanel, loadClaims, machinesThatWait } from './system-claims.js';
import { elsewhere, flows, rateText, stageLine } from './system-flows.js';
import { gatewayKeys, loadKeys } from './system-keys.js';
import { deadLetters, loadLetters, openLetters } from './system-letters.js';
import { isSilent, wantsPart } from './system-wants.js';
import { t } from './texts.js';
import { rejectReasons, word } from './words.js';

/** @typedef {import('./api.js').System} System */

const EVERY_MS = 5_000;
/** Lists change seldom, and are long. */
const LISTS_EVERY_MS = 60_000;
const MINUTE_OF_ANSWERS = 12;

/** @type {System | null} */
let system = null;
/** Answers of about the last minute, the oldest first, for rates. @type {System[]} */
let earlier = [];
/** @type {import('./api.js').Status | null} */
let status = null;
/** @type {import('./api.js').RejectedMessage[] | null} */
let rejects = null;
let failed = '';
/** By the browser's clock. */
let heardAt = Date.now();
let asideFailed = '';
/** The message that is being taken again. */
let replaying = '';
let refused = { id: '', why: '' };

async function load() {
  try {
    const [next, state] = await Promise.all([api.system(), api.status()]);
    // an answer of the same moment tells no rate
    if (system && next.now !== system.now) earlier = [...earlier, system].slice(-MINUTE_OF_ANSWERS);
    [system, status] = [next, state];
    failed = '';
    heardAt = Date.now();
    line(null);
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
    // whoever may not see it now will not in five seconds
    if (e instanceof Refused && e.status === 403) [polling, listsPolling].forEach(clearInterval);
    else line(heardAt);
  }
  draw();
}

/** What is loaded each minute, and not every few seconds. */
function loadWaiting() {
  if (!can('see-system')) return;
  loadAside();
  loadClaims(draw);
  loadLetters(draw);
}

function loadLists() {
  loadWaiting();
  if (can('see-system') && can('manage-gateways')) loadKeys(draw);
}

/** Whoever tries again means the whole page. */
function loadAll() {
  askWho();
  load();
  loadLists();
}

async function loadAside() {
  try {
    rejects = await api.rejects();
    asideFailed = '';
  } catch (e) {
    asideFailed = /** @type {Error} */ (e).message;
  }
  draw();
}

/** @param {string} label @param {string[]} columns @param {unknown[][]} rows */
const table = (label, columns, rows) => html`
  <div class="sheet" tabindex="0" role="region" aria-label=${label}><table><thead><tr>${columns.map((c) => html`<th scope="col">${c}</th>`)}</tr></thead>
    <tbody>${rows.map((row) => html`<tr>${row.map((cell, i) => (i === 0 ? html`<th scope="row">${cell}</th>` : html`<td data-column=${columns[i]}>${cell}</td>`))}</tr>`)}</tbody></table></div>`;

/** What passes, with rates since the oldest answer that is kept. @param {System} s */
function passing(s) {
  const before = earlier[0] ?? null;
  return flows(s, before, before ? (Date.parse(s.now) - Date.parse(before.now)) / 1000 : 0);
}

/** @param {System} s @param {import('./system-flows.js').Flow[]} all */
function stages(s, all) {
  const words = t.system;
  const states = new Map((status?.stages ?? []).map((stage) => [stage.name, stage]));
  return html`<section class="panel" aria-labelledby="stages"><h2 id="stages">${words.stages}</h2><p class="hint">${words.stagesHint}</p>
    ${[...states.values()].map((stage) => html`<p class="stageline" data-stage=${stage.name}><b>${word(t.stageNames, stage.name)}</b> <span class="state">${word(words.states, stage.state)}</span> ${stage.detail}
      ${stageLine(stage.name, all).map((part) => html`<span class="passes ${part.tooMuch ? 'warmly' : ''}">${part.text}</span> `)}</p>`)}
    ${elsewhere(states.keys(), all).map((name) => html`<p class="stageline" data-stage=${name}><b>${word(t.stageNames, name)}</b> <span class="hint">${words.elsewhere}</span></p>`)}
    <details class="table"><summary>${words.everyFigure}</summary>
      ${table(words.stagesTable, [words.stage, words.what, words.perMinute, words.sinceStart],
        all.map((f) => [word(t.stageNames, f.stage), f.what, rateText(f.rate), f.tooMuch ? html`<b class="warmly">${f.text}</b>` : f.text]))}</details></section>`;
}

/** @param {System} s */
function gateways(s) {
  const words = t.system;
  const silent = s.gateways.filter(isSilent);
  return html`<section class="panel" aria-labelledby="gateways"><h2 id="gateways">${words.gateways}</h2>
    <p class=${silent.length ? 'warmly' : 'hint'}>${silent.length ? words.silent(silent.length, s.gateways.length) : words.allHeard(s.gateways.length)}</p>
    ${table(words.gatewaysTable, [words.gateway, words.siteColumn, words.connection, words.lastPack, words.machines],
      s.gateways.map((g) => [g.gateway, g.siteName, g.online === undefined ? words.neverSaid : html`${g.online ? words.online : words.offline} ${g.presenceAt ? html`<span class="hint">${t.since} ${when(g.presenceAt)}</span>` : nothing}`,
        g.lastPackAt ? html`${when(g.lastPackAt, ago)}${isSilent(g) ? html` <b class="warmly">${words.isSilent}</b>` : nothing}` : words.never, g.machines.join(', ')]))}</section>`;
}

/** Whether something of it is left to be taken. @param {import('./api.js').RejectedMessage} r */
const mayReplay = (r) => can('replay-rejects') && (r.replays.at(-1)?.rejected ?? r.reasons).some((x) => x.reason !== 'bad-number');

/** @param {import('./api.js').RejectedMessage} r */
async function replay(r) {
  replaying = r.id;
  refused = { id: '', why: '' };
  draw();
  try {
    await api.replayReject(r.id);
  } catch (e) {
    refused = { id: r.id, why: /** @type {Error} */ (e).message };
  }
  replaying = '';
  await loadAside();
}

/** @param {import('./api.js').RejectedMessage} r */
const reject = (r) => html`<li><b>${[...new Set(r.reasons.map((x) => word(rejectReasons, x.reason)))].join('; ')}</b>
  <span class="hint">${when(r.at)}, ${r.sender}, ${r.topic}</span>
  ${r.replays.map((x) => html`<p class=${x.rejected.length ? 'warmly' : 'well'}>${t.system.takenAgain} ${x.by}, ${when(x.at)}: ${t.system.replayed(x.stored, x.unclaimed, x.rejected.length)}${x.rejected.length ? html` – ${[...new Set(x.rejected.map((y) => word(rejectReasons, y.reason)))].join('; ')}` : nothing}</p>`)}
  ${mayReplay(r) ? html`<p class="buttons"><button type="button" data-replay=${r.id} ?disabled=${replaying !== ''} @click=${() => replay(r)}>${replaying === r.id ? t.system.replaying : t.system.replay}</button></p>` : nothing}
  ${refused.id === r.id ? html`<p class="warmly" role="alert">${refused.why}</p>` : nothing}
  <details class="table"><summary>${t.system.payload(r.payloadBytes)}</summary>
    <ul>${r.reasons.map((x) => html`<li>${x.index === undefined ? t.system.wholeMessage : t.system.recordOf(x.index + 1)}: ${word(rejectReasons, x.reason)}${x.detail ? ` – ${x.detail}` : ''} <code class="hint">${x.reason}</code></li>`)}</ul>
    <pre class="mail" tabindex="0">${r.payload}</pre>${r.isText ? nothing : html`<p class="hint">${t.system.hex}</p>`}</details></li>`;

function rejected() {
  return html`<section class="panel" aria-labelledby="rejects"><h2 id="rejects">${t.system.rejects}</h2><p class="hint">${t.system.rejectsHint}${can('replay-rejects') ? ` ${t.system.replayHint}` : ''}</p>
    ${asideFailed ? failure(asideFailed, loadAside) : nothing}
    ${rejects === null ? html`<p>${asideFailed ? nothing : t.loading}</p>` : rejects.length === 0 ? html`<p class="well">${t.system.noRejects}</p>` : html`<ul class="history">${rejects.map(reject)}</ul>`}
    <p class="buttons"><button type="button" @click=${() => { loadAside(); loadClaims(draw); }}>${t.system.again}</button></p></section>`;
}

/** @param {System} s */
function base(s) {
  const gigabytes = (/** @type {number} */ bytes) => t.system.gigabytes(number(bytes / 1e9, 1));
  return html`<section class="panel" aria-labelledby="base"><h2 id="base">${t.system.base}</h2>
    <dl class="facts">${s.disks.map((d) => html`<div><dt>${t.system.disk} ${d.path}</dt><dd>${t.system.free(gigabytes(d.freeBytes), gigabytes(d.totalBytes), Math.round((100 * d.freeBytes) / d.totalBytes))}</dd></div>`)}
      ${s.versions.map((v) => html`<div><dt>${v.part}</dt><dd>${v.version}</dd></div>`)}
      ${status ? html`<div><dt>${t.system.viewers}</dt><dd>${status.liveViewers}</dd></div>` : nothing}</dl></section>`;
}

function draw() {
  if (!system) return show(waiting(t.system.title, failed, loadAll));
  const all = passing(system);
  show(html`<div class="head"><h1>${t.system.title}</h1><p class="summary">${t.system.intro} ${t.system.asOf} ${clockText(system.now)}.</p></div>
    ${failed ? failure(failed, loadAll) : nothing}
    ${wantsPart(system, status, { rejects: { is: rejects, failed: asideFailed !== '' }, unclaimed: machinesThatWait(), letters: openLetters(), tooMuch: all.filter((flow) => flow.tooMuch) })}
    ${stages(system, all)}
    <div class="two">${claimsPanel()}${base(system)}</div>
    ${gateways(system)}
    ${gatewayKeys(system.gateways, draw)}
    ${rejected()}
    ${deadLetters(draw)}`);
}

frame();
title(t.system.title);
draw();
addEventListener('me-known', loadLists);
const polling = setInterval(() => { if (!document.hidden) load(); }, EVERY_MS);
const listsPolling = setInterval(() => { if (!document.hidden) loadWaiting(); }, LISTS_EVERY_MS);
load();
