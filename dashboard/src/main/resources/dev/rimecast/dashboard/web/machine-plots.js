// @ts-check
import { condensingPlot, featurePlot } from './feature-plots.js';
import { dateTimeText, difference, number, seconds, secondsShort, temperature, when } from './format.js';
import { at, height, limitName, showsLimit, timed } from './plot-time.js';
import { t } from './texts.js';
import { differenceName, toDifference, toUnit, unitName } from './units.js';

/**
 * What each plot shows, from what the server sent.
 * @typedef {import('./api.js').Cycle} Cycle
 * @typedef {import('./plot.js').Series} Series
 * @typedef {import('./plot-time.js').Source} Source
 * @typedef {import('./plot-time.js').Drawn} Drawn
 */

/** @param {(number | null)[]} column @param {(v: number) => number} f */
const mapped = (column, f) => column.map((v) => (v === null ? null : f(v)));

/** @param {Source} source @returns {Drawn} */
export function temperaturePlot(source) {
  const temps = withGaps(source.temperatures);
  /** @type {(label: string, column: import('./api.js').Column, colour: string, kind: Series['kind']) => Series} */
  const line = (label, column, colour, kind) => ({ label, values: mapped(column, toUnit), colour, kind });
  const limit = source.machine.limits.condensingCelsius;
  const most = Math.max(...temps.condenserMean.map((v) => v ?? -Infinity));
  const series = [
    line(t.plots.condenser, temps.condenserMean, '--plot-a', 'line'),
    line(t.plots.evaporator, temps.evaporatorMean, '--plot-b', 'line'),
    ...(temps.ambientMean.some((v) => v !== null) ? [line(t.plots.ambient, temps.ambientMean, '--plot-c', 'line')] : []),
    ...(temps.waterMean.some((v) => v !== null) ? [line(t.plots.water, temps.waterMean, '--plot-d', 'dashed')] : []),
  ];
  const over = showsLimit(limit, most);
  if (over) series.push(line(limitName(limit), temps.start.map(() => limit.value), '--warm', 'dashed'));
  const short = source.to - source.from <= 3.2 * 86_400_000;
  const ribbon = source.cycles.filter((c) => short || !c.complete).map((c) => ({
    from: at(c.freezeStart), freezeEnd: c.freezeSeconds ? at(c.freezeStart) + c.freezeSeconds : at(c.end), end: at(c.end), complete: c.complete,
  }));
  const last = temps.start.length - 1;
  const latest = last >= 0 && temps.condenserMean[last] !== null ? t.plots.latest(`${t.plots.condenser} ${temperature(/** @type {number} */ (temps.condenserMean[last]))}`, '') : '';
  const hourly = temps.start.map((_, i) => i).filter((i) => temps.condenserMean[i] !== null || temps.evaporatorMean[i] !== null);
  /** @param {number | null} v */
  const cell = (v) => (v === null ? null : temperature(v));
  return {
    id: 'temperatures',
    spec: { ...timed(source), x: temps.start, yText: (v) => `${number(v, 1)} ${unitName()}`, yAxis: (v) => `${number(v, 0)} ${unitName()}`, series, bands: [], ribbon },
    caption: [latest, over ? '' : t.plots.limitAbove(temperature(limit.value))].join(' '),
    columns: [t.plots.time, t.plots.condenser, t.plots.evaporator, t.plots.ambient, t.plots.water],
    rows: hourly.map((i) => [when(new Date(temps.start[i] * 1000).toISOString()), cell(temps.condenserMean[i]), cell(temps.evaporatorMean[i]), cell(temps.ambientMean[i]), cell(temps.waterMean[i])]),
  };
}

/** Buckets without readings are left out by the server: a line across them would show what nobody measured. @param {import('./api.js').Temperatures} temps */
function withGaps(temps) {
  /** @type {import('./api.js').Temperatures} */
  const out = { ...temps, start: [], evaporatorMean: [], condenserMean: [], ambientMean: [], waterMean: [] };
  temps.start.forEach((start, i) => {
    const before = temps.start[i - 1];
    if (before !== undefined && start - before > temps.bucketSeconds * 1.5) {
      out.start.push(before + temps.bucketSeconds);
      for (const column of [out.evaporatorMean, out.condenserMean, out.ambientMean, out.waterMean]) column.push(null);
    }
    out.start.push(start);
    out.evaporatorMean.push(temps.evaporatorMean[i]);
    out.condenserMean.push(temps.condenserMean[i]);
    out.ambientMean.push(temps.ambientMean[i]);
    out.waterMean.push(temps.waterMean[i]);
  });
  return out;
}

/** Split against room air; the last day stands out, so that a drift shows as dots that leave the cloud. @param {Source} source @returns {Drawn} */
export function splitPlot(source) {
  const known = source.cycles.filter((c) => c.splitKelvin !== undefined && c.ambientCelsius !== undefined);
  const cycles = [...known].sort((a, b) => /** @type {number} */ (a.ambientCelsius) - /** @type {number} */ (b.ambientCelsius));
  const newest = known.length ? at(known[known.length - 1].freezeStart) - 86_400 : 0;
  const split = (/** @type {Cycle} */ c) => toDifference(/** @type {number} */ (c.splitKelvin));
  const expected = cycles.map((c) => c.expected.split ?? null);
  const edge = (/** @type {number} */ sign) => expected.map((e) => (e ? toDifference(e.value + sign * 2 * e.sigma) : null));
  const band = expected.some((e) => e !== null);
  /** @type {Series[]} */
  const series = [
    ...(band ? /** @type {Series[]} */ ([
      { label: t.plots.usualMost, values: edge(1), colour: '--band', kind: 'edge' },
      { label: t.plots.usualLeast, values: edge(-1), colour: '--band', kind: 'edge' },
      { label: t.plots.expected, values: expected.map((e) => (e ? toDifference(e.value) : null)), colour: '--plot-c', kind: 'dashed' },
    ]) : []),
    { label: t.plots.measured, values: cycles.map((c) => (at(c.freezeStart) < newest ? split(c) : null)), colour: '--plot-faint', kind: 'faint' },
    { label: t.plots.measuredLastDay, values: cycles.map((c) => (at(c.freezeStart) >= newest ? split(c) : null)), colour: '--plot-a', kind: 'points' },
  ];
  const last = known.at(-1);
  return {
    id: 'split',
    spec: {
      x: cycles.map((c) => toUnit(/** @type {number} */ (c.ambientCelsius))), xIsTime: false, xName: t.plots.roomAxis, xText: (v) => `${number(v, v % 1 ? 1 : 0)} ${unitName()}`,
      yText: (v) => `${number(v, 1)} ${differenceName()}`, yAxis: (v) => `${number(v, 0)} ${differenceName()}`, series, bands: band ? [{ high: 0, low: 1, colour: '--band' }] : [],
      marks: [], ribbon: [], height: height(), zoomed: () => {},
    },
    caption: last ? t.plots.latest(t.plots.splitAt(difference(/** @type {number} */ (last.splitKelvin)), temperature(/** @type {number} */ (last.ambientCelsius))), last.expected.split ? difference(last.expected.split.value) : '') : '',
    columns: [t.plots.cycle, t.plots.roomAxis, t.plots.splitAxis, t.plots.expected],
    rows: known.map((c) => [when(c.freezeStart, dateTimeText), temperature(/** @type {number} */ (c.ambientCelsius)), difference(/** @type {number} */ (c.splitKelvin)), c.expected.split ? difference(c.expected.split.value) : null]),
  };
}

/** @param {Source} source @returns {Drawn[]} */
export const allPlots = (source) =>
  [temperaturePlot(source), condensingPlot(source), splitPlot(source), ...featurePlots(source)].filter((plot) => plot !== null);

/** What of each cycle is judged, over time. @param {import('./plot-time.js').CycleSource} source @returns {Drawn[]} */
export function featurePlots(source) {
  const { limits } = source.machine;
  const label = t.plots.measured;
  const inSeconds = { text: seconds, axis: secondsShort, unit: (/** @type {number} */ v) => v };
  const inKelvin = { text: (/** @type {number} */ v) => `${number(v, 1)} ${differenceName()}`, axis: (/** @type {number} */ v) => `${number(v, 0)} ${differenceName()}`, unit: toDifference };
  return [
    featurePlot(source, 'split-time', [{ label, feature: 'split', value: (c) => c.splitKelvin }], undefined, inKelvin),
    featurePlot(source, 'pull-down', [{ label, feature: 'pull-down', value: (c) => c.pullDownSeconds }], limits.pullDownSeconds, inSeconds),
    featurePlot(source, 'freeze', [{ label, feature: 'freeze', value: (c) => c.freezeSeconds }], undefined, inSeconds),
    featurePlot(source, 'harvest', [{ label, feature: 'harvest', value: (c) => c.harvestSeconds }], undefined, inSeconds),
    featurePlot(source, 'drain', [
      { label: t.plots.level, feature: 'drain-level', value: (c) => c.drainLevelMaxSeconds },
      { label: t.plots.run, feature: 'drain-run', value: (c) => c.drainRunMaxSeconds },
    ], limits.drainLevelSeconds, inSeconds),
  ];
}
