// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { USUAL } from './feature-plots.js';
import { difference, number, seconds, temperature, when } from './format.js';
import { t } from './texts.js';
import { toUnit, unitName } from './units.js';

/**
 * One cycle, drawn over where it should have gone. What should be is the expectation of each quantity of the cycle and
 * what is usual around it, as detection had it; between those places nothing is predicted, so nothing is drawn.
 * @typedef {import('./api.js').Cycle} Cycle
 * @typedef {import('./plot.js').Spec} Spec
 * @typedef {import('./plot-paint.js').Gate} Gate
 * @typedef {import('./plot-paint.js').Point} Point
 * @typedef {{name: string, value: number | undefined, expected: {value: number, sigma: number} | undefined, text: (v: number) => string, isTime: boolean}} Judged
 */

/** The condenser is judged over about the last minutes of the freeze, by a mean that forgets with 4 min. */
const CONDENSER_MINUTES = 4;

/** @param {Cycle} c @returns {Judged[]} */
export function judged(c) {
  const row = (/** @type {'pull-down'} */ feature, /** @type {number | undefined} */ value, /** @type {(v: number) => string} */ text, isTime = true) =>
    ({ name: t.lastCycle.names[feature], value, expected: c.expected[feature], text, isTime });
  const rows = /** @type {[any, number | undefined, (v: number) => string, boolean][]} */ ([
    ['pull-down', c.pullDownSeconds, seconds, true],
    ['freeze', c.freezeSeconds, seconds, true],
    ['harvest', c.harvestSeconds, seconds, true],
    ['split', c.splitKelvin, difference, false],
    ['evaporator-end', c.evaporatorEndCelsius, temperature, false],
    ['drain-level', c.drainLevelMaxSeconds, seconds, true],
    ['drain-run', c.drainRunMaxSeconds, seconds, true],
  ]);
  return rows.map(([feature, value, text, isTime]) => row(feature, value, text, isTime)).filter((r) => r.value !== undefined);
}

/** How far it is off, in standard deviations; 0 where nothing was expected. @param {Judged} r */
export const deviation = (r) => (r.expected && r.value !== undefined ? (r.value - r.expected.value) / r.expected.sigma : 0);
/** @param {Judged} r */
export const isUsual = (r) => Math.abs(deviation(r)) <= USUAL;

/** In words: how it compares. @param {Judged} r */
export function comparison(r) {
  if (!r.expected || r.value === undefined) return t.lastCycle.notJudged;
  if (isUsual(r)) return t.lastCycle.usual;
  const off = r.value - r.expected.value;
  if (r.isTime) return (off > 0 ? t.lastCycle.longer : t.lastCycle.shorter)(Math.round(Math.abs(off / r.expected.value) * 100));
  return (off > 0 ? t.lastCycle.higher : t.lastCycle.lower)(difference(Math.abs(off)));
}

/** @param {Cycle} c @param {import('./api.js').Trace | null} trace @returns {Spec} */
export function cycleSpec(c, trace) {
  const begin = Date.parse(c.freezeStart) / 1000;
  const minute = (/** @type {number} */ s) => s / 60;
  const x = (trace?.start ?? []).map((s) => minute(s - begin));
  const degrees = (/** @type {import('./api.js').Column | undefined} */ column) => (column ?? []).map((v) => (v === null ? null : toUnit(v)));
  const end = minute((Date.parse(c.end) - Date.parse(c.freezeStart)) / 1000);
  const points = keyPoints(c);
  // without a curve the places that were measured stand alone
  const xs = x.length ? x : points.map((p) => p.x).sort((a, b) => a - b);
  const none = xs.map(() => null);
  const last = trace?.evaporator.findLast((v) => v !== null);
  if (x.length && c.complete && last !== undefined && last !== null) {
    points.push({ x: Math.min(end, x[x.length - 1]), y: toUnit(last), label: '', off: isOff(c, 'harvest', c.harvestSeconds) });
  }
  return {
    x: xs, xIsTime: false, xName: t.lastCycle.axis, xRange: [-0.5, Math.max(end, ...gates(c).map((g) => g.x[1])) * 1.06],
    xText: (v) => t.lastCycle.minutes(number(v, v % 1 ? 1 : 0)),
    yText: (v) => `${number(v, 1)} ${unitName()}`, yAxis: (v) => `${number(v, 0)} ${unitName()}`,
    series: [
      { label: t.plots.condenser, values: x.length ? degrees(trace?.condenser) : none, colour: '--plot-a', kind: 'line' },
      { label: t.plots.evaporator, values: x.length ? degrees(trace?.evaporator) : none, colour: '--plot-b', kind: 'line' },
    ],
    bands: [], marks: [], ribbon: [], gates: gates(c), points, height: innerWidth < 600 ? 260 : 330, zoomed: () => {},
  };
}

/** @param {Cycle} c @returns {Gate[]} */
function gates(c) {
  const around = (/** @type {{value: number, sigma: number}} */ e) => /** @type {[number, number]} */ ([e.value - USUAL * e.sigma, e.value + USUAL * e.sigma]);
  const minutes = (/** @type {[number, number]} */ span, from = 0) => /** @type {[number, number]} */ (span.map((s) => (s + from) / 60));
  const zero = toUnit(0);
  const { freeze, harvest, split, 'pull-down': pullDown, 'evaporator-end': lowest } = c.expected;
  /** @type {Gate[]} */
  const found = [];
  if (pullDown) found.push({ x: minutes(around(pullDown)), y: [zero - 2, zero + 2], label: t.lastCycle.gates.zero(`${number(zero, 0)} ${unitName()}`) });
  if (freeze) {
    const y = lowest && /** @type {[number, number]} */ (around(lowest).map(toUnit));
    found.push({ x: minutes(around(freeze)), y: y || undefined, label: t.lastCycle.gates.freeze });
  }
  if (harvest && c.freezeSeconds) found.push({ x: minutes(around(harvest), c.freezeSeconds), label: t.lastCycle.gates.harvest });
  if (split && c.ambientCelsius !== undefined && c.freezeSeconds) {
    const air = c.ambientCelsius;
    found.push({ x: [c.freezeSeconds / 60 - CONDENSER_MINUTES, c.freezeSeconds / 60], y: /** @type {[number, number]} */ (around(split).map((k) => toUnit(k + air))), label: t.lastCycle.gates.condenser });
  }
  return found;
}

/** @param {Cycle} c @param {string} feature @param {number | undefined} value */
function isOff(c, feature, value) {
  const expected = c.expected[feature];
  return Boolean(expected && value !== undefined && Math.abs(value - expected.value) > USUAL * expected.sigma);
}

/** @param {Cycle} c @returns {Point[]} */
function keyPoints(c) {
  const off = (/** @type {string} */ feature, /** @type {number | undefined} */ value) => isOff(c, feature, value);
  /** @type {Point[]} */
  const points = [];
  if (c.pullDownSeconds !== undefined) points.push({ x: c.pullDownSeconds / 60, y: toUnit(0), label: '', off: off('pull-down', c.pullDownSeconds) });
  if (c.freezeSeconds !== undefined && c.evaporatorEndCelsius !== undefined) {
    points.push({ x: c.freezeSeconds / 60, y: toUnit(c.evaporatorEndCelsius), label: '', off: off('freeze', c.freezeSeconds) || off('evaporator-end', c.evaporatorEndCelsius) });
  }
  if (c.freezeSeconds !== undefined && c.splitKelvin !== undefined && c.ambientCelsius !== undefined) {
    points.push({ x: c.freezeSeconds / 60, y: toUnit(c.ambientCelsius + c.splitKelvin), label: '', off: off('split', c.splitKelvin) });
  }
  return points;
}

/** @param {Cycle} c */
const figures = (c) => html`
  <div class="scroll" tabindex="0" role="region" aria-label=${t.lastCycle.table}>
    <table class="judged"><thead><tr><th scope="col">${t.lastCycle.quantity}</th><th scope="col">${t.plots.measured}</th><th scope="col">${t.plots.expected}</th><th scope="col">${t.lastCycle.judgement}</th></tr></thead>
      <tbody>${judged(c).map((r) => html`<tr class=${isUsual(r) ? '' : 'off'}><th scope="row">${r.name}</th>
        <td>${r.text(/** @type {number} */ (r.value))}</td>
        <td>${r.expected ? html`${r.text(r.expected.value)} <span class="hint">± ${(r.isTime ? seconds : difference)(USUAL * r.expected.sigma)}</span>` : '–'}</td>
        <td>${comparison(r)}</td></tr>`)}</tbody></table></div>`;

/**
 * @param {{cycle: Cycle | undefined, isNewest: boolean, isOldest: boolean, hasTrace: boolean, earlier: () => void, later: () => void}} look
 */
export function lastCycle({ cycle, isNewest, isOldest, hasTrace, earlier, later }) {
  if (!cycle) return html`<p class="notice">${t.lastCycle.none}</p>`;
  const air = cycle.ambientCelsius === undefined ? t.lastCycle.airUnknown : t.lastCycle.air(temperature(cycle.ambientCelsius), t.lastCycle.sources[/** @type {'sensor'} */ (cycle.ambientSource)] ?? cycle.ambientSource);
  return html`<div class="panel plot cycle">
    <div class="spans"><button type="button" ?disabled=${isOldest} @click=${earlier}>‹ ${t.lastCycle.earlier}</button>
      ${isNewest ? nothing : html`<button type="button" @click=${later}>${t.lastCycle.later} ›</button>`}
      <span>${t.lastCycle.began} ${when(cycle.freezeStart)}${cycle.complete ? '' : ` · ${t.plots.incomplete}`}. ${air}</span></div>
    <div class="beside"><div><div class="canvas" data-plot="last-cycle"></div>
        <p class="hint">${hasTrace ? '' : `${t.lastCycle.noCurve} `}${Object.keys(cycle.expected).length ? t.lastCycle.hint : t.lastCycle.learning}</p></div>
      ${figures(cycle)}</div></div>`;
}
