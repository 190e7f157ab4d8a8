// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { number } from './format.js';
import { thresholdTexts as words } from './texts/thresholds.js';
import { Refused } from './http.js';
import { figure } from './threshold-figures.js';
import { progressParts } from './threshold-past.js';
import { nameOf } from './threshold-words.js';
import { bench } from './thresholds-api.js';

/** @typedef {import('./thresholds-api.js').Effect} Effect */
/** @typedef {import('./thresholds-api.js').Seen} Seen */

/** A slider that is pulled asks this often. */
const ASKS_MS = 200;
const LOOKS_MS = 350;
const PREPARES_MS = 1_500;
/** Those that move with a slider; the answer of a question has all. */
const ROWS = ['found', 'leadHours', 'right', 'wrongRate', 'unlabelled', 'wasted'];

/** @type {Effect | null} */
let effect = null;
let problem = '';
/** Counts what was asked, so that an answer to an earlier move is dropped. */
let asked = 0;
/** Which of these `effect` is of. */
let answered = 0;
/** One question is on its way at a time, so that the server hears them in their order; of later ones the newest waits. */
let isSending = false;
/** @type {{mine: number, changes: () => import('./thresholds-api.js').Wanted[], draw: () => void} | null} */
let waiting = null;
/** @type {ReturnType<typeof setTimeout> | undefined} */
let timer;
/** The number that was moved last: its effect stands below it. */
let moved = '';

/** @param {Effect} e */
const isOpen = (e) => e.state === 'preparing' || e.state === 'running';

/**
 * A number was moved, or several were taken back: asks what they do, now or after the last move of many.
 * @param {string} path the number, empty where it is of the whole @param {() => import('./thresholds-api.js').Wanted[]} changes @param {() => void} draw
 */
export function ask(path, changes, draw) {
  moved = path || moved;
  const mine = ++asked;
  clearTimeout(timer);
  timer = setTimeout(() => {
    waiting = { mine, changes, draw };
    if (!isSending) send();
  }, effect ? ASKS_MS : 0);
}

async function send() {
  isSending = true;
  while (waiting) {
    const { mine, changes, draw } = waiting;
    waiting = null;
    // there is a newer move, whose turn comes
    if (mine !== asked) continue;
    try {
      const next = await bench.effect({ changes: changes() });
      if (mine !== asked) continue;
      effect = next;
      answered = mine;
      problem = '';
    } catch (e) {
      if (mine !== asked) continue;
      problem = /** @type {Error} */ (e).message;
    }
    draw();
    follow(mine, draw);
  }
  isSending = false;
}

/** What is shown is of an earlier move. */
const isEarlier = () => answered !== asked;

/** @param {number} mine @param {() => void} draw */
async function follow(mine, draw) {
  while (mine === asked && effect && isOpen(effect) && !problem) {
    const wait = effect.state === 'preparing' ? PREPARES_MS : LOOKS_MS;
    await new Promise((then) => { setTimeout(then, wait); });
    if (mine !== asked) return;
    try {
      const next = await bench.effectOf(effect.id);
      if (mine !== asked) return;
      effect = next;
    } catch (e) {
      if (mine !== asked) return;
      // the same person has asked something else since, or many others have
      if (e instanceof Refused && e.status === 404) effect = { ...effect, state: 'ended' };
      else problem = /** @type {Error} */ (e).message;
    }
    draw();
  }
}

/** Of all machines, or of how many so far. @param {Seen} s */
const isAll = (s) => s.sites === s.allSites;

/** The headline: what it does to the fleet's alerts. @param {Seen} s */
function headline(s) {
  if (isAll(s)) return words.effectAll(s.currentAlerts, s.candidateAlerts, s.allMachines);
  const f = s.fleet;
  if (!f) return words.effectSoFar(s.currentAlerts, s.candidateAlerts, s.machines, s.allMachines);
  const at = (/** @type {number} */ more) => Math.max(0, Math.round(s.alertsOfAll + more));
  return words.effectFleet(s.alertsOfAll, at(f.more), at(f.low), at(f.high));
}

/** @param {Effect} e */
const others = (e) => html`
  ${e.limits.map((l) => html`<p>${words.effectLimit(nameOf(l.path), l.currentCycles, l.currentMachines, l.candidateCycles, l.candidateMachines)}</p>`)}
  ${e.limits.length ? html`<p class="hint">${words.effectLimitMeans}</p>` : nothing}
  ${e.needReadings.length ? html`<p class="mind">${words.effectNeeds(e.needReadings.map(nameOf))}</p>` : nothing}`;

/** Below the number that was moved. @param {string} path @param {boolean} changed */
export function effectLine(path, changed) {
  if (!changed || path !== moved) return nothing;
  const e = effect;
  if (problem) return html`<p class="effect-line told" role="alert">${problem}</p>`;
  if (!e) return nothing;
  if (e.state === 'preparing') return html`<div class="effect-line">${words.effectPreparing} ${progressParts(e.progress)}</div>`;
  if (e.state === 'failed') return html`<p class="effect-line told">${e.problem}</p>`;
  if (e.state === 'ended') return html`<p class="effect-line">${words.effectEnded}</p>`;
  const s = e.seen;
  return html`<div class="effect-line" data-state=${isEarlier() ? 'asked' : e.state}>
    ${s ? html`<p><b>${isEarlier() ? words.effectAsked : headline(s)}</b></p>
      <p>${isAll(s) ? '' : words.effectOfThese} ${words.effectFew(figure(s.current, 'found'), figure(s.candidate, 'found'), figure(s.current, 'wrongRate'), figure(s.candidate, 'wrongRate'))}</p>
      <p class="hint">${isAll(s) ? '' : `${words.effectSample(s.machines, s.allMachines, s.sites, s.allSites)} `}<a href="#effect">${words.effectMore}</a></p>` : nothing}
    ${others(e)}</div>`;
}

/** @param {Seen} s */
const table = (s) => html`
  <div class="scroll"><table class="figures">${isAll(s) ? nothing : html`<caption class="hint">${words.effectOnly(s.machines)}</caption>`}<thead><tr><td></td><th scope="col">${words.columns.current}</th><th scope="col">${words.columns.candidate}</th></tr></thead>
    <tbody>
      <tr class=${s.currentAlerts === s.candidateAlerts ? nothing : 'moves'}><th scope="row">${words.effectAlerts}</th><td>${number(s.currentAlerts, 0)}</td><td><b>${number(s.candidateAlerts, 0)}</b></td></tr>
      ${words.figures.filter(([key]) => ROWS.includes(key)).map(([key, name]) => {
        const [a, c] = [figure(s.current, key), figure(s.candidate, key)];
        return html`<tr class=${a === c ? nothing : 'moves'}><th scope="row">${name}</th><td>${a}</td><td>${a === c ? c : html`<b>${c}</b>`}</td></tr>`;
      })}</tbody></table></div>`;

/** The whole of it, where the changes are. @param {number} changes */
export function effectParts(changes) {
  const e = effect;
  if (problem && changes) return html`<p class="told" role="alert">${problem}</p>`;
  if (!e) return nothing;
  if (e.state === 'preparing') return html`<div id="effect"><p>${words.effectPreparing}</p>${progressParts(e.progress)}</div>`;
  if (e.state === 'failed') return html`<p class="told" id="effect">${e.problem}</p>`;
  if (e.state === 'ended') return html`<p class="hint" id="effect">${words.effectEnded}</p>`;
  if (changes === 0) return html`<p class="hint">${words.effectReady}</p>`;
  const s = e.seen;
  return html`<section id="effect" data-state=${isEarlier() ? 'asked' : e.state}><h2>${words.effect}</h2>
    ${s ? html`<p><b>${isEarlier() ? words.effectAsked : headline(s)}</b> ${words.effectOther(s.otherSites, s.sites)}</p>
      ${isAll(s) ? html`<p class="hint">${words.effectWhole}</p>` : html`
        <p class="progress"><progress max=${s.allMachines} value=${s.machines} aria-label=${words.effectSample(s.machines, s.allMachines, s.sites, s.allSites)}></progress>
          <span>${words.effectSample(s.machines, s.allMachines, s.sites, s.allSites)} ${words.effectOrder}${s.fleet ? '' : ` ${words.effectTooFew}`}</span></p>`}
      ${table(s)}
      <p class="hint">${isAll(s) ? `${words.range} ` : ''}${words.effectTakes}</p>` : nothing}
    ${others(e)}
    <p class="unseen" role="status">${s && e.state === 'done' && !isEarlier() ? headline(s) : ''}</p></section>`;
}
