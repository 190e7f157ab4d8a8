// @ts-check
/**
 * One plot: measured, expected with its range, limit, alerts and cycles on one axis. Colours come from the style sheet,
 * so that a plot follows the dark scheme.
 *
 * @typedef {{label: string, values: (number | null)[], colour: string, kind: 'line' | 'points' | 'dashed' | 'edge' | 'faint'}} Series
 * @typedef {{from: number, freezeEnd: number, end: number, complete: boolean}} Ribbon
 * @typedef {{x: number[], xIsTime: boolean, xRange?: [number, number], xText?: (v: number) => string,
 *   yText: (v: number) => string, yAxis: (v: number) => string, series: Series[], bands: {high: number, low: number, colour: string}[],
 *   marks: import('./plot-paint.js').Mark[], ribbon: Ribbon[], spells?: import('./plot-paint.js').Spell[],
 *   gates?: import('./plot-paint.js').Gate[], points?: import('./plot-paint.js').Point[], outlook?: import('./plot-paint.js').Outlook,
 *   xName?: string, height: number, zoomed: (from: number, to: number) => void}} Spec
 */

import { clockText, dateTimeText, shortDayText } from './format.js';
import { ink, painted, paintOver, paintUnder } from './plot-paint.js';
import { t } from './texts.js';

/** @param {Series} series */
function lineOf(series) {
  const stroke = ink(series.colour);
  const uPlot = /** @type {any} */ (globalThis).uPlot;
  const base = { label: series.label, stroke, width: 1.6, points: { show: false } };
  switch (series.kind) {
    case 'line': return { ...base, spanGaps: false };
    case 'dashed': return { ...base, width: 1.4, dash: [7, 5] };
    case 'edge': return { ...base, width: 0, stroke: 'transparent', spanGaps: true };
    case 'faint': return { ...base, width: 0, paths: uPlot.paths.points(), points: { show: true, size: 3, fill: stroke, stroke, width: 0 } };
    case 'points': return { ...base, width: 0, paths: uPlot.paths.points(), points: { show: true, size: 4.5, fill: stroke, stroke, width: 0 } };
  }
}

/**
 * Days where there is room for days only, else the time of day, and the day at midnight.
 * @param {any} _u @param {number[]} at @param {number} _axis @param {number} _space @param {number} step s
 */
const timeText = (_u, at, _axis, _space, step) =>
  at.map((s) => {
    const date = new Date(s * 1000);
    return step >= 86_400 || date.getHours() + date.getMinutes() === 0 ? shortDayText(date) : clockText(s * 1000);
  });

/** @param {Series} series */
const dotted = (series) => series.kind !== 'line' && series.kind !== 'dashed';

/** What the curves and all that is painted need, and room below for the ribbon of cycles. @param {Spec} spec @param {number | null} low @param {number | null} high @returns {[number, number]} */
function heights(spec, low, high) {
  const [least, most] = painted(spec);
  const [a, b] = [Math.min(low ?? Infinity, least), Math.max(high ?? -Infinity, most)];
  if (!(b >= a)) return [0, 1];
  const span = b - a || Math.abs(b) || 1;
  return [a - span * (spec.ribbon.length ? 0.14 : 0.06), b + span * 0.08];
}

/** @param {Spec} spec @param {number} width */
function options(spec, width) {
  const grid = { stroke: ink('--line'), width: 1 };
  const axis = { stroke: ink('--muted'), grid, ticks: grid, font: '12px system-ui, sans-serif' };
  return {
    width,
    height: spec.height,
    cursor: {
      drag: { x: spec.xIsTime, y: false, setScale: false },
      points: { size: 7 },
      // pointing at a time in one picture points at it in all
      ...(spec.xIsTime ? { sync: { key: 'time', scales: ['x', null], filters: { pub: (/** @type {string} */ type) => type === 'mousemove' || type === 'mouseleave' } } } : {}),
    },
    legend: {
      live: true,
      markers: {
        width: (/** @type {any} */ _, /** @type {number} */ i) => (dotted(spec.series[i - 1]) ? 0 : 2),
        stroke: (/** @type {any} */ _, /** @type {number} */ i) => ink(spec.series[i - 1].colour),
        fill: (/** @type {any} */ _, /** @type {number} */ i) => (dotted(spec.series[i - 1]) ? ink(spec.series[i - 1].colour) : null),
        dash: (/** @type {any} */ _, /** @type {number} */ i) => (spec.series[i - 1].kind === 'dashed' ? 'dashed' : 'solid'),
      },
    },
    scales: {
      y: { range: (/** @type {any} */ _, /** @type {number} */ low, /** @type {number} */ high) => heights(spec, low, high) },
      x: { time: spec.xIsTime, ...(spec.xRange ? { range: () => spec.xRange } : {}) },
    },
    axes: [
      { ...axis, space: 90, values: spec.xText ? (/** @type {any} */ _, /** @type {number[]} */ at) => at.map(/** @type {any} */ (spec.xText)) : timeText },
      { ...axis, size: 76, values: (/** @type {any} */ _, /** @type {number[]} */ at) => at.map(spec.yAxis) },
    ],
    series: [
      {
        label: spec.xName ?? t.plots.time,
        value: (/** @type {any} */ _, /** @type {number | null} */ v) => (v === null ? '–' : spec.xText ? spec.xText(v) : dateTimeText(v * 1000)),
      },
      ...spec.series.map((series) => ({ ...lineOf(series), value: (/** @type {any} */ _, /** @type {number | null} */ v) => (v === null ? '–' : spec.yText(v)) })),
    ],
    bands: spec.bands.map((band) => ({ series: [band.high + 1, band.low + 1], fill: ink(band.colour) })),
    hooks: {
      drawAxes: [(/** @type {any} */ u) => paintUnder(u, spec)],
      draw: [(/** @type {any} */ u) => paintOver(u, spec)],
      setSelect: [(/** @type {any} */ u) => {
        if (u.select.width < 8) return;
        const [from, to] = [u.posToVal(u.select.left, 'x'), u.posToVal(u.select.left + u.select.width, 'x')];
        u.setSelect({ left: 0, width: 0, top: 0, height: 0 }, false);
        spec.zoomed(from * 1000, to * 1000);
      }],
    },
  };
}

/** Draws into a place that nothing else draws into, and draws again when its width changes. */
export class Plot {
  /** @param {HTMLElement} place */
  constructor(place) {
    this.place = place;
    /** @type {any} */
    this.chart = null;
    /** @type {Spec | null} */
    this.spec = null;
    this.width = 0;
    new ResizeObserver(() => {
      const width = Math.floor(place.clientWidth);
      if (this.spec && width > 0 && width !== this.width) this.draw(this.spec);
    }).observe(place);
  }

  /** @param {Spec} spec */
  draw(spec) {
    this.spec = spec;
    this.width = Math.floor(this.place.clientWidth);
    this.chart?.destroy();
    this.chart = null;
    if (spec.x.length === 0 || this.width === 0) return;
    const uPlot = /** @type {any} */ (globalThis).uPlot;
    this.chart = new uPlot(options(spec, this.width), [spec.x, ...spec.series.map((series) => series.values)], this.place);
  }
}
