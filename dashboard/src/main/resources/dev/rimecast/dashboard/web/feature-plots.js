// @ts-check
import { number, temperature, when } from './format.js';
import { at, dated, limitName, outlook, showsLimit, timed } from './plot-time.js';
import { t } from './texts.js';
import { toUnit, unitName } from './units.js';

/**
 * What each cycle showed, over time.
 * @typedef {import('./api.js').Cycle} Cycle
 * @typedef {import('./api.js').Limit} Limit
 * @typedef {import('./plot.js').Series} Series
 * @typedef {import('./plot-time.js').CycleSource} CycleSource
 * @typedef {import('./plot-time.js').Drawn} Drawn
 * @typedef {{text: (v: number) => string, axis: (v: number) => string, unit: (v: number) => number}} Form text and axis take what unit gives
 */

/** How many standard deviations are still usual. */
export const USUAL = 2;

/** What is usual around the expectation, as two edges and a line. @param {({value: number, sigma: number} | null)[]} expected @param {(v: number) => number} unit @returns {Series[]} */
function bandSeries(expected, unit) {
  const edge = (/** @type {number} */ sign) => expected.map((e) => (e ? unit(Math.max(0, e.value + sign * USUAL * e.sigma)) : null));
  return [
    { label: t.plots.usualMost, values: edge(1), colour: '--band', kind: 'edge' },
    { label: t.plots.usualLeast, values: edge(-1), colour: '--band', kind: 'edge' },
    { label: t.plots.expected, values: expected.map((e) => (e ? unit(e.value) : null)), colour: '--plot-c', kind: 'dashed' },
  ];
}

/** @param {CycleSource} source @param {string} id */
const outlookText = (source, id) => (dated(source, id) && source.isNow ? t.plots.outlook : '');

/**
 * One quantity of each cycle over time, with what it should be; the first part is the one that is judged.
 * @param {CycleSource} source @param {string} id
 * @param {{label: string, feature: string, value: (c: Cycle) => number | undefined}[]} parts
 * @param {Limit | undefined} limit
 * @param {Form} form
 * @returns {Drawn}
 */
export function featurePlot(source, id, parts, limit, form) {
  const { text, axis, unit } = form;
  const cycles = source.cycles.filter((c) => parts.some((p) => p.value(c) !== undefined));
  const main = parts[0];
  const expected = cycles.map((c) => c.expected[main.feature] ?? null);
  const band = expected.some((e) => e !== null);
  const measured = (/** @type {Cycle} */ c, p = main) => { const v = p.value(c); return v === undefined ? null : unit(v); };
  const last = cycles.findLast((c) => main.value(c) !== undefined);
  const lastValue = last && measured(last);
  const ahead = outlook(source, id, last && { x: at(last.freezeStart), y: /** @type {number} */ (lastValue) }, limit && unit(limit.value));
  const over = ahead !== undefined || showsLimit(limit, Math.max(0, ...cycles.flatMap((c) => parts.map((p) => p.value(c) ?? 0))));
  /** @type {Series[]} */
  const series = [
    ...(band ? bandSeries(expected, unit) : []),
    ...parts.map((p, i) => /** @type {Series} */ ({ label: p.label, values: cycles.map((c) => measured(c, p)), colour: i === 0 ? '--plot-a' : '--plot-b', kind: 'points' })),
  ];
  if (limit && over) series.push({ label: limitName(limit), values: cycles.map(() => unit(limit.value)), colour: '--warm', kind: 'dashed' });
  const should = last?.expected[main.feature];
  return {
    id,
    spec: { ...timed(source, ahead), x: cycles.map((c) => at(c.freezeStart)), yText: text, yAxis: axis, series, bands: band ? [{ high: 0, low: 1, colour: '--band' }] : [] },
    caption: [
      lastValue !== undefined && lastValue !== null ? t.plots.latest(text(lastValue), should ? text(unit(should.value)) : '') : '',
      limit && !over ? t.plots.limitAbove(text(unit(limit.value))) : '',
      outlookText(source, id),
    ].join(' '),
    columns: [t.plots.cycle, ...parts.map((p) => p.label), t.plots.expected],
    rows: cycles.map((c, i) => [when(c.freezeStart), ...parts.map((p) => { const v = measured(c, p); return v === null ? null : text(v); }), expected[i] ? text(unit(expected[i].value)) : null]),
  };
}

/** The highest condensing temperature of each cycle, the limit, and when it may be reached. @param {CycleSource} source @returns {Drawn | null} */
export function condensingPlot(source) {
  const cycles = source.cycles.filter((c) => c.condensingPeakCelsius !== undefined);
  const peak = (/** @type {Cycle} */ c) => toUnit(/** @type {number} */ (c.condensingPeakCelsius));
  const limit = source.machine.limits.condensingCelsius;
  const last = cycles.at(-1);
  const ahead = outlook(source, 'condensing', last && { x: at(last.freezeStart), y: peak(last) }, toUnit(limit.value));
  const over = ahead !== undefined || showsLimit(limit, Math.max(0, ...cycles.map((c) => c.condensingPeakCelsius ?? 0)));
  const air = cycles.map((c) => (c.ambientCelsius === undefined ? null : toUnit(c.ambientCelsius)));
  /** @type {Series[]} */
  const series = [
    { label: t.plots.peak, values: cycles.map(peak), colour: '--plot-a', kind: 'points' },
    { label: t.plots.ambient, values: air, colour: '--plot-c', kind: 'faint' },
  ];
  if (over) series.push({ label: limitName(limit), values: cycles.map(() => toUnit(limit.value)), colour: '--warm', kind: 'dashed' });
  return {
    id: 'condensing',
    spec: { ...timed(source, ahead), x: cycles.map((c) => at(c.freezeStart)), yText: (v) => `${number(v, 1)} ${unitName()}`, yAxis: (v) => `${number(v, 0)} ${unitName()}`, series, bands: [] },
    caption: [
      last ? t.plots.latest(temperature(/** @type {number} */ (last.condensingPeakCelsius)), '') : '',
      over ? '' : t.plots.limitAbove(temperature(limit.value)),
      outlookText(source, 'condensing'),
    ].join(' '),
    columns: [t.plots.cycle, t.plots.peak, t.plots.ambient],
    rows: cycles.map((c) => [when(c.freezeStart), temperature(/** @type {number} */ (c.condensingPeakCelsius)), c.ambientCelsius === undefined ? null : temperature(c.ambientCelsius)]),
  };
}
