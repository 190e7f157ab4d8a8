// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { me, Refused } from './api.js';
import { ask } from './ask.js';
import { when } from './format.js';
import { can, failure, frame, show, title, waiting } from './frame.js';
import { thresholdTexts as words } from './texts/thresholds.js';
import { changeList } from './threshold-differences.js';
import { ask as askEffect, effectLine, effectParts } from './threshold-effect.js';
import { fileParts } from './threshold-file.js';
import { fleetParts, isLooking, loadLooks } from './threshold-fleet.js';
import { numberParts, read, wrongWith } from './threshold-numbers.js';
import { pastParts } from './threshold-past.js';
import { drawFrontier, sweepForm, valuesOf } from './threshold-sweep.js';
import { overtaken as trialOvertaken, trialParts } from './threshold-trial.js';
import { versionParts } from './threshold-versions.js';
import { shown } from './threshold-words.js';
import { bench } from './thresholds-api.js';
import { units } from './units.js';

/** @typedef {import('./thresholds-api.js').PolicyNumber} PolicyNumber */
/** @typedef {import('./thresholds-api.js').Trial} Trial */

/** @type {import('./thresholds-api.js').Sheet | null} */
let sheet = null;
/** @type {import('./thresholds-api.js').Version[]} */
let versions = [];
/** @type {Trial[]} */
let trials = [];
/** The one that runs, with its differences. @type {Trial | null} */
let running = null;
/** @type {Trial | null} */
let lookedTrial = null;
/** @type {import('./thresholds-api.js').Run[]} */
let runs = [];
/** @type {import('./thresholds-api.js').Run | null} */
let looking = null;
/** A run that was just asked for is shown as soon as it is answered. */
let awaited = 0;
let failed = '';
let problem = '';
/** The version that was overtaken while numbers were changed here. */
let overtaken = 0;
let everySite = false;
let days = '30';
let busy = false;
let find = '';
let onlyOwn = false;
/** @type {Map<string, number>} */
const draft = new Map();
/** @type {Map<string, string>} */
const wrong = new Map();
const open = new Set(['change']);
/** @type {import('./threshold-sweep.js').Wish} */
const wish = { path: 'change.false_alarms_per_machine_year', low: '0.02', high: '1', count: '5', second: '', low2: '', high2: '', count2: '3', visit: '150', stop: '600', late: '1', problem: '', busy: false };

const mayChange = () => can('edit-thresholds') && everySite;
/** @param {string} path */
const numberOf = (path) => sheet?.numbers.find((n) => n.path === path);
const wanted = () => [...draft].map(([path, value]) => ({ path, value }));
const draftChanges = () => [...draft].map(([path, after]) => ({ path, before: numberOf(path)?.value ?? 0, after }));

/** @param {unknown} e */
const told = (e) => /** @type {Error} */ (e).message;

async function load() {
  try {
    const before = sheet?.version.number;
    [sheet, versions] = await Promise.all([bench.sheet(), bench.versions()]);
    const isOther = before !== undefined && before !== sheet.version.number;
    if (isOther && draft.size) overtaken = sheet.version.number;
    for (const [path, value] of draft) if (numberOf(path)?.value === value) draft.delete(path);
    if (isOther) effectOf('');
    if (everySite) await follow();
    failed = '';
  } catch (e) {
    failed = told(e);
  }
  draw();
}

/** What changes by itself. */
async function follow() {
  [trials, runs] = await Promise.all([bench.trials(), bench.runs(), loadLooks()]);
  const now = trials.find((trial) => trial.state === 'running');
  running = now ? await bench.trial(now.id) : null;
  if (runs.some((run) => run.id === awaited && run.state === 'done')) await look(awaited);
  if (looking && !runs.some((run) => run.id === looking?.id)) looking = null;
}

/** @param {number} id */
async function look(id) {
  awaited = 0;
  try { looking = await bench.run(id); } catch (e) { problem = told(e); }
  draw();
}

/** @param {number} id */
async function lookAtTrial(id) {
  try { lookedTrial = await bench.trial(id); } catch (e) { problem = told(e); }
  draw();
}

/** Asks the past, and says what is wrong where it can't. @param {Record<string, unknown>} question */
async function start(question) {
  busy = true;
  problem = '';
  draw();
  try {
    const run = await bench.ask({ ...question, days: Number(days) });
    awaited = run.id;
    await follow();
    requestAnimationFrame(() => document.querySelector(`[data-run="${run.id}"]`)?.scrollIntoView({ block: 'nearest' }));
  } catch (e) {
    problem = told(e);
  }
  busy = false;
  draw();
}

/** @param {number} id */
async function cancel(id) {
  try { await bench.cancel(id); await follow(); } catch (e) { problem = told(e); }
  draw();
}

const reason = html`<label>${words.reason}<textarea name="reason" rows="3" maxlength="2000" required></textarea></label>`;

/** Whoever was overtaken sees what is in force now. @param {Promise<any>} sending */
const sent = (sending) => sending.catch((e) => {
  if (e instanceof Refused && e.status === 412) load();
  throw e;
});

function force() {
  const s = sheet;
  if (!s) return;
  ask(words.ask.force, changeList(draftChanges(), s.numbers), reason,
    ({ reason: why }) => sent(bench.change(s.version.number, { changes: wanted(), reason: why })), forget);
}

function tryBeside() {
  if (!sheet) return;
  ask(words.ask.trial, changeList(draftChanges(), sheet.numbers), reason, ({ reason: why }) => sent(bench.tryOut({ changes: wanted(), reason: why })), forget);
}

/** @param {Trial} trial */
const promote = (trial) => ask(words.ask.promote, html`${changeList(trial.changes, sheet?.numbers ?? [])}${trialOvertaken(trial, sheet?.version.number ?? 0)}`, reason,
  ({ reason: why }) => sent(bench.promote(trial.id, sheet?.version.number ?? 0, { reason: why })), load);

/** @param {Trial} trial */
const drop = (trial) => ask(words.ask.end, html`<b>${words.trialOf(trial.id)}</b>`, reason, ({ reason: why }) => sent(bench.drop(trial.id, { reason: why })), load);

/** @param {number} to */
const rollBack = (to) => ask(words.ask.rollBack(to), html`<b>${words.version(to)}</b>`, reason,
  ({ reason: why }) => sent(bench.rollBack(sheet?.version.number ?? 0, { to, reason: why })), load);

function forget() {
  draft.clear();
  wrong.clear();
  overtaken = 0;
  effectOf('');
  load();
}

/** What the changes do to the last months, at once where they act on cycles. @param {string} path the number that was moved */
const effectOf = (path) => { if (mayChange() && sheet?.canLookBack) askEffect(path, wanted, draw); };

/** The differences of a file become the changes. @param {import('./thresholds-api.js').FileRead} file */
function takeFile(file) {
  draft.clear();
  wrong.clear();
  for (const c of file.ofAll) draft.set(c.path, c.after);
  draw();
  if (draft.size) document.getElementById('changes')?.scrollIntoView();
  effectOf('');
}

/** @param {PolicyNumber} n @param {number} value */
function change(n, value) {
  wrong.delete(n.path);
  if (value === n.value) draft.delete(n.path);
  else draft.set(n.path, value);
  draw();
  effectOf(n.path);
}

const numbersDoing = () => ({
  draft, wrong, open, find, onlyOwn, mayChange: mayChange(),
  set: (/** @type {PolicyNumber} */ n, /** @type {string} */ text) => {
    const value = read(n, text);
    const is = wrongWith(n, value);
    if (!is) return change(n, value);
    wrong.set(n.path, is);
    draw();
  },
  slide: change,
  effect: effectLine,
  reset: (/** @type {PolicyNumber} */ n) => change(n, n.value),
  toProduct: (/** @type {PolicyNumber} */ n) => change(n, n.standard),
  toggle: (/** @type {string} */ group, /** @type {boolean} */ isOpen) => {
    if (isOpen === open.has(group)) return;
    if (isOpen) open.add(group); else open.delete(group);
    draw();
  },
  seek: (/** @type {string} */ text, /** @type {boolean} */ own) => { find = text; onlyOwn = own; draw(); },
});

const daysField = () => html`<label>${words.lastDays}<select name="days" @change=${(/** @type {any} */ e) => { days = e.target.value; draw(); }}>
  ${Object.entries(words.days).map(([d, name]) => html`<option value=${d} ?selected=${d === days}>${name}</option>`)}</select></label>`;

/** @param {import('./thresholds-api.js').Sheet} s */
const draftParts = (s) => html`
  <section class="panel draft" id="changes" aria-label=${words.draft(draft.size)}>
    <p role="status"><b>${words.draft(draft.size)}</b></p>
    ${overtaken ? html`<p class="told" role="alert">${words.overtaken(overtaken, s.version.who)}</p>` : nothing}
    ${changeList(draftChanges(), s.numbers)}
    ${s.canLookBack ? effectParts(draft.size) : nothing}
    ${draft.size ? html`<div class="filter">
      ${s.canLookBack ? html`<button type="button" class="primary" ?disabled=${busy} @click=${() => start({ kind: 'back-test', changes: wanted() })}>${words.wouldHave}</button>${daysField()}
        ${running ? nothing : html`<button type="button" @click=${tryBeside}>${words.tryBeside}</button>`}` : nothing}
      <button type="button" @click=${force}>${words.putInForce}</button>
      <button type="button" @click=${forget}>${words.drop}</button></div>` : nothing}
    ${problem ? html`<p class="told" role="alert">${problem}</p>` : nothing}</section>`;

const sweepDoing = {
  change: (/** @type {Partial<import('./threshold-sweep.js').Wish>} */ part) => {
    Object.assign(wish, part, { problem: '' });
    const [n, other] = [part.path ? numberOf(part.path) : undefined, part.second ? numberOf(part.second) : undefined];
    const around = (/** @type {PolicyNumber} */ of) => [Math.max(of.least ?? -Infinity, of.value / 2), Math.min(of.most ?? Infinity, of.value * 2)].map((v) => String(shown(v, of)));
    if (n) [wish.low, wish.high] = around(n);
    if (other) [wish.low2, wish.high2] = around(other);
    if (wish.second === wish.path) wish.second = '';
    draw();
  },
  start: () => {
    const n = numberOf(wish.path);
    const values = n && valuesOf(wish, n);
    const other = numberOf(wish.second);
    const others = other && valuesOf(wish, other, true);
    if (!values || (other && !others)) { wish.problem = words.sweepWrong; return draw(); }
    start({ kind: 'sweep', path: wish.path, values, ...(others ? { secondPath: wish.second, secondValues: others } : {}), costVisit: Number(wish.visit), costStop: Number(wish.stop), costLate: Number(wish.late) });
  },
  days: (/** @type {string} */ d) => { days = d; draw(); },
};

/** @param {import('./thresholds-api.js').Sheet} s */
function head(s) {
  const own = s.numbers.filter((n) => n.value !== n.standard).length;
  const v = s.version;
  return html`
    <div class="head"><h1>${words.title}</h1><p class="lead">${words.intro}</p>
      <p><b>${words.nowVersion(v.number, v.name)}</b>${words.sources[v.source] ? `, ${words.sources[v.source]}` : ''}, ${words.since} ${when(v.at)}, ${words.by} ${v.who}: <q>${v.why}</q></p>
      <p class="hint">${s.isStandard ? words.standard : words.differs(own)} ${units() === 'f' ? words.celsius : ''}</p>
      ${mayChange() ? nothing : html`<p class="hint">${words.cannotChange}</p>`}
      ${s.canLookBack ? nothing : html`<p class="mind">${words.noHistory}</p>`}</div>`;
}

function draw() {
  if (!sheet) return show(waiting(words.title, failed, load));
  const s = sheet;
  show(html`
    <article class="one thresholds">
      ${head(s)}
      ${failed ? failure(failed, load) : nothing}
      ${mayChange() ? draftParts(s) : nothing}
      ${mayChange() ? fileParts(s.numbers, takeFile, draw) : nothing}
      ${everySite ? html`${pastParts(runs, s.numbers, { looking, mayChange: mayChange(), look, close: () => { looking = null; draw(); }, cancel,
        take: (values) => { for (const [path, value] of values) { const n = numberOf(path); if (n) change(n, value); } document.getElementById('changes')?.scrollIntoView(); } })}
        ${mayChange() && s.canLookBack ? sweepForm({ ...wish, busy }, s.numbers, days, sweepDoing) : nothing}` : nothing}
      ${everySite ? trialParts(trials, running, s.numbers, { mayChange: mayChange(), version: s.version.number, looking: lookedTrial, look: lookAtTrial, close: () => { lookedTrial = null; draw(); }, promote, drop })
        : html`<p class="well">${words.everySite}</p>`}
      ${everySite ? fleetParts(s.canLookBack, draw) : nothing}
      ${numberParts(s.numbers, numbersDoing())}
      ${versionParts(s, versions, mayChange(), rollBack)}
    </article>`);
  drawFrontier(looking?.sweep, s.numbers);
}

/** Often while something is reckoned, else now and then. */
async function poll() {
  const isBusy = runs.some((run) => run.state === 'waiting' || run.state === 'running') || (running && !running.result) || isLooking();
  await new Promise((then) => { setTimeout(then, isBusy ? 2_000 : 20_000); });
  if (!document.hidden && sheet) await load();
  poll();
}

addEventListener('beforeunload', (e) => { if (draft.size) e.preventDefault(); });
addEventListener('me-known', draw);
addEventListener('units-changed', draw);

frame();
title(words.title);
draw();
me().then((who) => { everySite = !who.sites; }, () => {}).then(load).then(() => effectOf('')).then(poll);
