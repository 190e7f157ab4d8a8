// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { number, when } from './format.js';
import { machines } from './texts/common.js';
import { thresholdTexts as words } from './texts/thresholds.js';
import { changeList, differenceParts } from './threshold-differences.js';
import { figure } from './threshold-figures.js';
import { saveParts } from './threshold-save.js';
import { sideParts } from './threshold-sides.js';
import { sweepParts } from './threshold-sweep.js';
import { nameOf, timeLeft } from './threshold-words.js';

/** @typedef {import('./thresholds-api.js').Run} Run */
/** @typedef {import('./thresholds-api.js').BackTest} BackTest */
/** @typedef {import('./thresholds-api.js').PolicyNumber} PolicyNumber */
/** @typedef {{looking: Run | null, mayChange: boolean, look: (id: number) => void, close: () => void, cancel: (id: number) => void, take: (values: [string, number][]) => void}} Doing */

/** @param {import('./thresholds-api.js').Progress | undefined} p @param {(done: string, all: string) => string} [text] */
export const progressParts = (p, text = words.progress) => (p ? html`
  <p class="progress"><progress max=${p.all} value=${p.done} aria-label=${text(number(p.done, 0), number(p.all, 0))}></progress>
    <span>${text(number(p.done, 0), number(p.all, 0))}${p.secondsLeft === undefined ? nothing : `, ${words.left(timeLeft(p.secondsLeft))}`}</span></p>` : nothing);

/** @param {BackTest} b @param {PolicyNumber[]} numbers @param {Run} run */
const backTestParts = (b, numbers, run) => html`
  <p>${words.judgedFrom} ${when(b.from)} ${words.until} ${when(b.to)}: ${words.scope(machines(b.machines), number(b.machineYears, 1))}.</p>
  ${changeList(run.changes, numbers)}
  <p class=${b.liveSame ? 'hint' : 'told'}>${b.liveSame ? `${words.liveSame} ${b.liveLater ? words.liveLater(b.liveLater) : ''}` : `${words.liveOther} ${b.live}`}</p>
  <div class="scroll"><table class="figures"><thead><tr><td></td><th scope="col">${words.columns.current}</th><th scope="col">${words.columns.candidate}</th></tr></thead>
    <tbody>${words.figures.map(([key, name]) => {
      const [a, c] = [figure(b.current, key), figure(b.candidate, key)];
      return html`<tr class=${a === c ? nothing : 'moves'}><th scope="row">${name}</th><td>${a}</td><td>${a === c ? c : html`<b>${c}</b>`}</td></tr>`;
    })}</tbody></table></div>
  <p class="hint">${words.range}</p>
  <p class="mind">${words.few(b.current.problems, b.current.unlabelled)}</p>
  <p class="hint">${words.knownFrom(b.known.marks, b.known.visits, b.known.calls, number(b.known.soundYears, 1))} ${b.known.unknownMachines ? words.unknownMachines(b.known.unknownMachines) : ''} ${words.mended}</p>
  ${sideParts(b)}
  ${differenceParts(b.differences, b.differenceCount, true)}
  ${saveParts([[words.savePolicyChanged, `policy-${run.id}.yaml`, b.policy], [words.saveReport, `backtest-${run.id}.txt`, b.report]])}`;

/** What was asked about, in a few words. @param {Run} run */
const about = (run) => (run.kind === 'sweep' ? words.kinds.sweep : `${words.kinds['back-test']}: ${run.changes.map((c) => nameOf(c.path)).join(', ') || words.changes(0)}`);

/** @param {Run} run @param {PolicyNumber[]} numbers @param {Doing} doing */
function item(run, numbers, doing) {
  const looking = doing.looking?.id === run.id ? doing.looking : null;
  const open = run.state === 'waiting' || run.state === 'running';
  return html`
    <li class="panel run" data-run=${run.id}>
      <div class="openhead"><h3>${about(run)}</h3><span class="tag">${words.runStates[run.state]}</span>
        <span class="hint">${words.lastDays} ${words.days[String(run.days)] ?? words.otherDays(number(run.days, 0))}, ${words.asked(run.by)}, ${when(run.askedAt)}</span></div>
      ${progressParts(run.progress)}
      ${run.problem ? html`<p class="told">${run.problem}</p>` : nothing}
      ${looking?.backTest ? backTestParts(looking.backTest, numbers, looking) : nothing}
      ${looking?.sweep ? html`${sweepParts(looking.sweep, numbers, doing)}
        ${saveParts([[looking.sweep.proposed > 0 ? words.savePolicyProposed : words.savePolicyNow, `policy-${run.id}.yaml`, looking.sweep.policy], [words.saveReport, `sweep-${run.id}.txt`, looking.sweep.report]])}` : nothing}
      <p class="buttons">
        ${run.state === 'done' ? (looking ? html`<button type="button" @click=${doing.close}>${words.close}</button>`
          : html`<button type="button" aria-label="${words.look}: ${about(run)}" @click=${() => doing.look(run.id)}>${words.look}</button>`) : nothing}
        ${open && doing.mayChange ? html`<button type="button" aria-label="${words.cancel}: ${about(run)}" @click=${() => doing.cancel(run.id)}>${words.cancel}</button>` : nothing}</p></li>`;
}

/** @param {Run[]} runs @param {PolicyNumber[]} numbers @param {Doing} doing */
export const pastParts = (runs, numbers, doing) => html`
  <section id="past"><h2>${words.past}</h2><p class="hint">${words.pastHint} ${words.marksHint} <a href="/api/v1/marks.csv" download>${words.marksFile}</a></p>
    ${runs.length === 0 ? html`<p class="well">${words.noRuns}</p>` : html`<ul class="runs">${runs.map((run) => item(run, numbers, doing))}</ul>`}</section>`;
