// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { when } from './format.js';
import { thresholdTexts as words } from './texts/thresholds.js';
import { changeList, differenceParts } from './threshold-differences.js';
import { progressParts } from './threshold-past.js';

/** @typedef {import('./thresholds-api.js').Trial} Trial */
/** @typedef {import('./thresholds-api.js').PolicyNumber} PolicyNumber */
/** @typedef {{mayChange: boolean, version: number, looking: Trial | null, look: (id: number) => void, close: () => void, promote: (trial: Trial) => void, drop: (trial: Trial) => void}} Doing */

/** @param {Trial} trial */
function results(trial) {
  const r = trial.result;
  if (!r) return trial.state === 'running' && !trial.problem ? html`<p>${words.learning}</p>${progressParts(trial.progress)}` : nothing;
  if (!r.reached && trial.state === 'running') return html`<p>${words.notYet}</p>`;
  return html`
    ${r.reached ? html`<p>${words.reached} ${when(r.reached)}. ${words.counts(r.currentRaised, r.candidateRaised, r.same)}</p>` : nothing}
    ${r.whole ? nothing : html`<p class="told">${words.notWhole}</p>`}
    ${differenceParts(r.differences, r.differenceCount, false)}`;
}

/** Whoever promotes it should know what goes with that. @param {Trial} trial @param {number} version in force */
export const overtaken = (trial, version) => (trial.base === version ? nothing : html`<p class="mind">${words.over(trial.base, version)}</p>`);

/** @param {Trial} trial @param {PolicyNumber[]} numbers @param {Doing} doing */
const running = (trial, numbers, doing) => html`
  <div class="panel" data-trial=${trial.id}>
    <div class="openhead"><h3>${words.trialOf(trial.id)}</h3><span class="tag">${words.trialStates[trial.state]}</span>
      <span class="hint">${words.since} ${when(trial.startedAt)}, ${words.by} ${trial.startedBy}: <q>${trial.why}</q></span></div>
    ${changeList(trial.changes, numbers)}
    ${overtaken(trial, doing.version)}
    ${trial.problem ? html`<p class="told" role="alert">${trial.problem}</p>` : nothing}
    <div role="status">${results(trial)}</div>
    ${doing.mayChange ? html`<p class="buttons"><button type="button" class="primary" @click=${() => doing.promote(trial)}>${words.promote}</button>
      <button type="button" @click=${() => doing.drop(trial)}>${words.dropTrial}</button></p>` : nothing}</div>`;

/** @param {Trial} trial @param {PolicyNumber[]} numbers @param {Doing} doing */
function ended(trial, numbers, doing) {
  const looking = doing.looking?.id === trial.id ? doing.looking : null;
  return html`
    <li class="person" data-trial=${trial.id}><div><b>${words.trialOf(trial.id)}</b> <span class="tag">${words.trialStates[trial.state]}</span>
        ${trial.ended ? html`<p>${trial.ended.by}: <q>${trial.ended.why}</q></p><p class="hint">${when(trial.startedAt)} ${words.until} ${when(trial.ended.at)}</p>` : nothing}
        ${changeList(trial.changes, numbers)}${looking ? results(looking) : nothing}</div>
      <p class="buttons">${looking ? html`<button type="button" @click=${doing.close}>${words.close}</button>`
        : html`<button type="button" aria-label="${words.look}: ${words.trialOf(trial.id)}" @click=${() => doing.look(trial.id)}>${words.look}</button>`}</p></li>`;
}

/** @param {Trial[]} trials the newest first @param {Trial | null} whole the one that runs, with its differences @param {PolicyNumber[]} numbers @param {Doing} doing */
export function trialParts(trials, whole, numbers, doing) {
  const over = trials.filter((trial) => trial.state !== 'running');
  return html`
    <section id="trial"><h2>${words.trial}</h2>
      ${whole ? running(whole, numbers, doing) : html`<p class="well">${words.trialNone}</p>`}
      ${over.length ? html`<details class="fold"><summary>${words.earlierTrials} (${over.length})</summary><ul class="people">${over.map((trial) => ended(trial, numbers, doing))}</ul></details>` : nothing}</section>`;
}
