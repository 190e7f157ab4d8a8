// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { number } from './format.js';
import { Plot } from './plot.js';
import { thresholdTexts as words } from './texts/thresholds.js';
import { lead, leadOfAll, shareOf, visits, wrongRate } from './threshold-figures.js';
import { aboutOf, amount, nameOf, shown, unitOf } from './threshold-words.js';
import { range, read, wrongWith } from './threshold-numbers.js';

/** @typedef {import('./thresholds-api.js').Sweep} Sweep */
/** @typedef {import('./thresholds-api.js').Point} Point */
/** @typedef {import('./thresholds-api.js').PolicyNumber} PolicyNumber */

const HOURS_A_DAY = 24;

/** @type {Plot | null} */
let plot = null;

/** By which figure the points lie from left to right. @param {Sweep} s */
const hasRate = (s) => s.points.every((p) => p.figures.wrongRate !== undefined);

/** Draws where the place is there. @param {Sweep | undefined} s @param {PolicyNumber[]} numbers */
export function drawFrontier(s, numbers) {
  const place = /** @type {HTMLElement | null} */ (document.querySelector('[data-plot="frontier"]'));
  if (!place || !s) return;
  if (plot?.place !== place) plot = new Plot(place);
  const rated = hasRate(s);
  const points = s.points.map((p, i) => ({ ...p, i, x: rated ? p.figures.wrongRate ?? 0 : p.alertsAYear, y: (p.figures.leadOfAllHours ?? 0) / HOURS_A_DAY }))
    .filter((p) => p.figures.leadOfAllHours !== undefined).sort((a, b) => a.x - b.x);
  const xs = points.map((p) => p.x);
  const room = Math.max(0.5, ((xs[xs.length - 1] ?? 1) - (xs[0] ?? 0)) * 0.15);
  /** @param {(p: Point & {i: number}) => boolean} which */
  const of = (which) => points.map((p) => (which(p) ? p.y : null));
  plot.draw({
    x: xs,
    xIsTime: false,
    xName: rated ? words.xWrong : words.xAlerts,
    xRange: [Math.max(0, (xs[0] ?? 0) - room), (xs[xs.length - 1] ?? 1) + room],
    xText: (v) => number(v, 1),
    yText: (v) => words.otherDays(number(v, 1)),
    yAxis: (v) => words.daysOfAxis(number(v, 1)),
    series: [
      { label: `${words.point.leadOfAll}, ${words.seriesOther}`, values: of((p) => !p.frontier && p.i !== 0), colour: '--plot-faint', kind: 'points' },
      { label: words.seriesFrontier, values: of((p) => p.frontier && p.i !== 0), colour: '--plot-a', kind: 'points' },
      { label: words.seriesNow, values: of((p) => p.i === 0), colour: '--plot-b', kind: 'points' },
    ],
    bands: [],
    marks: [],
    ribbon: [],
    gates: points.map((p) => ({ x: /** @type {[number, number]} */ ([p.x, p.x]), y: /** @type {[number, number]} */ ([p.y, p.y]), label: s.second && !p.frontier && p.i !== 0 ? '' : briefly(p, s, numbers) })),
    height: 260,
    zoomed: () => {},
  });
}

/** @param {Point} p @param {number} i @param {Sweep} s */
const marks = (p, i, s) => [i === 0 ? words.now : '', i === s.best ? words.cheapest : '', i > 0 && i === s.proposed ? words.proposed : '', p.frontier ? words.onFrontier : ''].filter(Boolean).join(', ');

/** The same in a table or plot, which says what they are. @param {Point} p @param {Sweep} s @param {PolicyNumber[]} numbers */
const briefly = (p, s, numbers) => [[s.path, p.value], [s.second, p.second]].filter(([path, v]) => path !== undefined && v !== undefined)
  .map(([path, v]) => amount(/** @type {number} */ (v), numbers.find((each) => each.path === path))).join(', ');

/** What a point is, in words: of two numbers both by their names. @param {Point} p @param {Sweep} s @param {PolicyNumber[]} numbers */
function valueText(p, s, numbers) {
  const of = (/** @type {string} */ path) => numbers.find((each) => each.path === path);
  return p.second === undefined || !s.second ? amount(p.value, of(s.path)) : `${nameOf(s.path)} ${amount(p.value, of(s.path))}, ${nameOf(s.second)} ${amount(p.second, of(s.second))}`;
}

/** What is proposed, or that nothing is; why; and how unsure that is. @param {Sweep} s @param {PolicyNumber[]} numbers */
function proposal(s, numbers) {
  const [now, choice] = [s.points[0], s.points[s.choice]];
  const less = now.cost - s.unseen;
  return html`
    <p class="proposal"><b>${s.proposed > 0 ? words.isProposed(valueText(s.points[s.proposed], s, numbers)) : words.nothingProposed}</b> ${words.outcomes[s.outcome](valueText(choice, s, numbers))}</p>
    ${s.best === 0 ? nothing : html`<p>${words.unseen(number(s.unseen, 0), number(now.cost, 0), s.parts)}
      ${s.unsure === undefined ? nothing : words.unsure(number(Math.abs(less), 0), less < 0, number(s.unsure, 0))}</p>`}`;
}

/** @param {Sweep} s @param {PolicyNumber[]} numbers @param {{mayChange: boolean, take: (values: [string, number][]) => void}} doing */
export function sweepParts(s, numbers, doing) {
  const now = s.points[0];
  const led = s.points.some((p) => p.figures.leadOfAllHours !== undefined);
  return html`
    <p><b>${nameOf(s.path)}${s.second ? ` ${words.sweepAnd} ${nameOf(s.second)}` : ''}</b></p>
    <figure class="plot"><figcaption><h3>${words.frontier}</h3><p class="hint">${words.yLead} ↑, ${hasRate(s) ? words.xWrong : words.xAlerts} →</p></figcaption>
      ${led ? html`<div class="canvas" data-plot="frontier"></div>` : html`<p class="well">${words.noLead}</p>`}
      ${hasRate(s) ? nothing : html`<p class="mind">${words.noRate}</p>`}</figure>
    <div class="scroll"><table class="figures points"><thead><tr>${[words.point.value, words.point.cost, words.point.found, words.point.missed, words.point.right, words.point.wrong, words.point.unknown, words.point.wasted, words.point.lead, words.point.leadOfAll].map((c) => html`<th scope="col">${c}</th>`)}<td></td></tr></thead>
      <tbody>${s.points.map((p, i) => html`
        <tr class=${i > 0 && i === s.proposed ? 'moves' : nothing}><th scope="row"><b>${briefly(p, s, numbers)}</b></th><td>${number(p.cost, 0)}</td><td>${shareOf(p.figures.found, p.figures.problems, p.figures.foundShare)}</td><td>${p.figures.problems - p.figures.found}</td>
          <td>${shareOf(p.figures.right, p.figures.right + p.figures.wrong, p.figures.rightShare)}</td><td>${wrongRate(p.figures)}</td><td>${p.figures.unlabelled}</td><td>${visits(p.figures.wasted, p.figures.wastedEnds)}</td><td>${lead(p.figures)}</td><td>${leadOfAll(p.figures)}</td>
          <td>${marks(p, i, s)} ${i > 0 && doing.mayChange ? html`<button type="button" class="plain-button" @click=${() => doing.take([[s.path, p.value], ...(s.second && p.second !== undefined ? [/** @type {[string, number]} */ ([s.second, p.second])] : [])])}>${words.take('', briefly(p, s, numbers)).replace('  ', ' ')}</button>` : nothing}</td></tr>`)}</tbody></table></div>
    <p class="hint">${words.range} ${words.frontierMeans}</p>
    ${proposal(s, numbers)}
    <p class="mind">${words.few(now.figures.problems, now.figures.unlabelled)}</p>
    <p class="hint">${words.marksUsed(s.marks)} ${words.mended}</p>`;
}

/** @typedef {{path: string, low: string, high: string, count: string, second: string, low2: string, high2: string, count2: string, visit: string, stop: string, late: string, problem: string, busy: boolean}} Wish */

/** Values from one end to the other, as a ratio where both are far apart. @param {number} low @param {number} high @param {number} count */
export function between(low, high, count) {
  const ratio = low > 0 && high / low > 4;
  return Array.from({ length: count }, (_, i) => {
    const share = count === 1 ? 0 : i / (count - 1);
    const v = ratio ? low * (high / low) ** share : low + (high - low) * share;
    return i === 0 ? low : i === count - 1 ? high : Number(v.toPrecision(2));
  });
}

/**
 * What a wish means; null where it can't be.
 * @param {Wish} wish @param {PolicyNumber} n @param {boolean} [isSecond]
 */
export function valuesOf(wish, n, isSecond = false) {
  const [low, high] = isSecond ? [read(n, wish.low2), read(n, wish.high2)] : [read(n, wish.low), read(n, wish.high)];
  if (wrongWith(n, low) || wrongWith(n, high) || !(low < high)) return null;
  return between(low, high, Number(isSecond ? wish.count2 : wish.count));
}

/** @param {Wish} wish @param {PolicyNumber[]} numbers @param {string} days @param {{change: (part: Partial<Wish>) => void, start: () => void, days: (d: string) => void}} doing */
export function sweepForm(wish, numbers, days, doing) {
  const n = numbers.find((each) => each.path === wish.path) ?? numbers[0];
  const other = numbers.find((each) => each.path === wish.second);
  const options = (/** @type {string} */ taken, /** @type {string} */ without) => Object.keys(words.groups).map((g) => html`
    <optgroup label=${words.groups[g][0]}>${numbers.filter((each) => each.path.startsWith(`${g}.`) && each.path !== without).map((each) => html`<option value=${each.path} ?selected=${each.path === taken}>${nameOf(each.path)}</option>`)}</optgroup>`);
  const counts = (/** @type {'count' | 'count2'} */ key, /** @type {string[]} */ list) => html`<label>${words.sweepCount}<select name=${key} @change=${(/** @type {any} */ e) => doing.change({ [key]: e.target.value })}>${list.map((c) => html`<option ?selected=${c === wish[key]}>${c}</option>`)}</select></label>`;
  const field = (/** @type {keyof Wish} */ key, /** @type {string} */ label, /** @type {string} */ unit) => html`
    <label>${label}<span class="field"><input type="number" step="any" name=${key} required .value=${String(wish[key])} @change=${(/** @type {any} */ e) => doing.change({ [key]: e.target.value })}><span class="unit">${unit}</span></span></label>`;
  return html`
    <details class="panel fold"><summary>${words.sweep}</summary><p class="hint">${words.sweepHint}</p>
      <form class="filter sweep" @submit=${(/** @type {Event} */ e) => { e.preventDefault(); doing.start(); }}>
        <label>${words.sweepNumber}<select name="path" @change=${(/** @type {any} */ e) => doing.change({ path: e.target.value })}>${options(n.path, '')}</select></label>
        ${field('low', words.sweepLow, unitOf(n))}${field('high', words.sweepHigh, unitOf(n))}${counts('count', ['3', '5', '7', '9'])}
        <label>${words.sweepSecond}<select name="second" @change=${(/** @type {any} */ e) => doing.change({ second: e.target.value })}><option value="" ?selected=${!other}>${words.sweepNone}</option>${options(wish.second, n.path)}</select></label>
        ${other ? html`${field('low2', words.sweepLow, unitOf(other))}${field('high2', words.sweepHigh, unitOf(other))}${counts('count2', ['3', '5', '7'])}` : nothing}
        ${field('visit', words.costVisit, '')}${field('stop', words.costStop, '')}${field('late', words.costLate, '')}
        <label>${words.lastDays}<select name="days" @change=${(/** @type {any} */ e) => doing.days(e.target.value)}>${Object.entries(words.days).map(([d, name]) => html`<option value=${d} ?selected=${d === days}>${name}</option>`)}</select></label>
        <button ?disabled=${wish.busy}>${words.sweepStart}</button></form>
      <p class="hint">${aboutOf(n)} ${range(n) ? `(${range(n)})` : ''} ${words.inForce(`${shown(n.value, n)} ${unitOf(n)}`)}</p>
      ${other ? html`<p class="hint">${aboutOf(other)} ${range(other) ? `(${range(other)})` : ''} ${words.inForce(`${shown(other.value, other)} ${unitOf(other)}`)} ${words.sweepCombinations(Number(wish.count) * Number(wish.count2))}</p>` : nothing}
      ${wish.problem ? html`<p class="told" role="alert">${wish.problem}</p>` : nothing}</details>`;
}
