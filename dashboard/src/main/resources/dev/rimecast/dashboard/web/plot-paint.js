// @ts-check
import { placeNames } from './plot-labels.js';

/**
 * What is painted on a plot beside its series: where a curve should pass, when alerts stood, what happened, and which way
 * it goes from here.
 *
 * @typedef {import('./plot.js').Spec} Spec
 * @typedef {import('./plot-labels.js').Box} Box
 * @typedef {{from: number, to: number}} Spell
 * @typedef {{at: number, label: string, kind: 'alert' | 'event'}} Mark
 * @typedef {{x: [number, number], y?: [number, number], label: string}} Gate where the curve should be: a box, or for all heights
 * @typedef {{x: number, y: number, label: string, off: boolean}} Point measured; off where it missed its gate
 * @typedef {{x: number, y: number, early: number, likely: number, late: number, limit: number}} Outlook from now to a limit
 */

/** @param {string} name of a custom property */
export const ink = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();

const ratio = () => devicePixelRatio;
/** @param {number} px @param {string} [weight] */
const font = (px, weight = '') => `${weight} ${px * ratio()}px system-ui, sans-serif`;

/** Within the plot's own area only. @param {any} u @param {(box: {left: number, top: number, right: number, bottom: number}) => void} paint */
function clipped(u, paint) {
  const { left, top, width, height } = u.bbox;
  u.ctx.save();
  u.ctx.beginPath();
  u.ctx.rect(left, top, width, height);
  u.ctx.clip();
  paint({ left, top, right: left + width, bottom: top + height });
  u.ctx.restore();
}

/** Under the series. @param {any} u @param {Spec} spec */
export function paintUnder(u, spec) {
  clipped(u, (box) => {
    const { ctx } = u;
    ctx.fillStyle = ink('--spell');
    for (const spell of spec.spells ?? []) {
      const [a, b] = [u.valToPos(spell.from, 'x', true), u.valToPos(spell.to, 'x', true)];
      ctx.fillRect(a, box.top, Math.max(ratio(), b - a), box.bottom - box.top);
    }
    for (const gate of spec.gates ?? []) paintGate(u, gate, box);
  });
}

/** @param {any} u @param {Gate} gate @param {Box} area */
function paintGate(u, gate, area) {
  const { ctx } = u;
  const { left, right, top, bottom } = gateBox(u, gate, area);
  const wide = Math.max(2 * ratio(), right - left);
  ctx.fillStyle = ink('--band');
  ctx.fillRect(left, top, wide, bottom - top);
  ctx.strokeStyle = ink('--plot-c');
  ctx.lineWidth = ratio();
  ctx.setLineDash([4 * ratio(), 3 * ratio()]);
  ctx.strokeRect(left, top, wide, bottom - top);
  ctx.setLineDash([]);
}

/** @param {any} u @param {Gate} gate @param {Box} area @returns {Box} */
function gateBox(u, gate, area) {
  const [left, right] = gate.x.map((v) => u.valToPos(v, 'x', true));
  const [bottom, top] = gate.y ? gate.y.map((v) => u.valToPos(v, 'y', true)) : [area.bottom, area.top];
  return { left, right, top, bottom };
}

/** What a name should not cover: curves, boxes and points. @param {any} u @param {Spec} spec @param {Box} area */
function obstacles(u, spec, area) {
  const around = (/** @type {number} */ x, /** @type {number} */ y, /** @type {number} */ r) => ({ left: x - r, right: x + r, top: y - r, bottom: y + r });
  const [xs, ...columns] = u.data;
  const curves = columns.flatMap((/** @type {(number | null)[]} */ ys) => ys.flatMap((y, i) => (y === null ? [] : [around(u.valToPos(xs[i], 'x', true), u.valToPos(y, 'y', true), 3 * ratio())])));
  const points = (spec.points ?? []).map((p) => around(u.valToPos(p.x, 'x', true), u.valToPos(p.y, 'y', true), 6 * ratio()));
  return [...curves, ...points, ...(spec.gates ?? []).map((gate) => gateBox(u, gate, area))];
}

/** The names of the boxes, clear of all that is drawn. @param {any} u @param {Spec} spec @param {Box} area */
function paintNames(u, spec, area) {
  const gates = spec.gates ?? [];
  if (!gates.length) return;
  const { ctx } = u;
  const high = 14 * ratio();
  ctx.font = font(11);
  const names = gates.map((gate) => ({ of: gateBox(u, gate, area), wide: ctx.measureText(gate.label).width }));
  ctx.fillStyle = ink('--plot-c');
  ctx.textAlign = 'left';
  placeNames(names, obstacles(u, spec, area), area, high, 4 * ratio()).forEach((place, i) => {
    ctx.fillText(gates[i].label, place.left, place.bottom - 3 * ratio());
  });
}

/** Over the series. @param {any} u @param {Spec} spec */
export function paintOver(u, spec) {
  clipped(u, (box) => {
    paintRibbon(u, spec, box);
    paintMarks(u, spec, box);
    if (spec.outlook) paintOutlook(u, spec.outlook, box);
    for (const point of spec.points ?? []) paintPoint(u, point, box);
    paintNames(u, spec, box);
  });
}

/** @param {any} u @param {Spec} spec @param {{bottom: number}} box */
function paintRibbon(u, spec, { bottom }) {
  const { ctx } = u;
  for (const cycle of spec.ribbon) {
    const [a, b, c] = [cycle.from, cycle.freezeEnd, cycle.end].map((at) => u.valToPos(at, 'x', true));
    const y = bottom - 9 * ratio();
    ctx.fillStyle = ink('--ribbon-freeze');
    ctx.fillRect(a, y, Math.max(1, b - a - ratio()), 7 * ratio());
    ctx.fillStyle = ink(cycle.complete ? '--ribbon-harvest' : '--warm');
    ctx.fillRect(b, y - (cycle.complete ? 0 : 4 * ratio()), Math.max(1, c - b), (cycle.complete ? 7 : 11) * ratio());
  }
}

/** Words in two rows; those that would cover others are left out, their lines stay. @param {any} u @param {Spec} spec @param {{left: number, top: number, right: number, bottom: number}} box */
function paintMarks(u, spec, box) {
  const { ctx } = u;
  const busy = [-Infinity, -Infinity];
  ctx.font = font(11);
  ctx.lineWidth = ratio();
  for (const mark of [...spec.marks].sort((a, b) => a.at - b.at)) {
    const x = u.valToPos(mark.at, 'x', true);
    if (x < box.left || x > box.right) continue;
    ctx.fillStyle = ctx.strokeStyle = ink(mark.kind === 'alert' ? '--warm' : '--plot-d');
    ctx.setLineDash(mark.kind === 'alert' ? [3 * ratio(), 3 * ratio()] : []);
    ctx.beginPath();
    ctx.moveTo(x, box.top);
    ctx.lineTo(x, box.bottom);
    ctx.stroke();
    const wide = ctx.measureText(mark.label).width + 8 * ratio();
    const from = x + wide > box.right ? x - wide : x;
    const row = busy.findIndex((end) => from >= end);
    if (row < 0) continue;
    busy[row] = from + wide;
    ctx.textAlign = 'left';
    ctx.fillText(mark.label, from + 4 * ratio(), box.top + (11 + row * 13) * ratio());
  }
  ctx.setLineDash([]);
}

/** A wedge from now to the limit: early, likely, late. @param {any} u @param {Outlook} outlook @param {{bottom: number, right: number}} box */
function paintOutlook(u, outlook, box) {
  const { ctx } = u;
  const [x, early, likely, late] = [outlook.x, outlook.early, outlook.likely, outlook.late].map((v) => u.valToPos(v, 'x', true));
  const [y, limit] = [outlook.y, outlook.limit].map((v) => u.valToPos(v, 'y', true));
  ctx.fillStyle = ink('--outlook');
  ctx.beginPath();
  ctx.moveTo(x, y);
  ctx.lineTo(early, limit);
  ctx.lineTo(late, limit);
  ctx.closePath();
  ctx.fill();
  ctx.strokeStyle = ink('--warm');
  ctx.lineWidth = 1.6 * ratio();
  ctx.beginPath();
  ctx.moveTo(x, y);
  ctx.lineTo(likely, limit);
  ctx.stroke();
  ctx.setLineDash([7 * ratio(), 5 * ratio()]);
  ctx.beginPath();
  ctx.moveTo(x, limit);
  ctx.lineTo(box.right, limit);
  ctx.stroke();
  ctx.setLineDash([]);
  ctx.fillStyle = ink('--warm');
  for (const at of [early, likely, late]) {
    ctx.beginPath();
    ctx.arc(at, limit, (at === likely ? 4.5 : 3) * ratio(), 0, 7);
    ctx.fill();
  }
  ctx.strokeStyle = ink('--muted');
  ctx.lineWidth = ratio();
  ctx.setLineDash([1 * ratio(), 3 * ratio()]);
  ctx.beginPath();
  ctx.moveTo(x, 0);
  ctx.lineTo(x, box.bottom);
  ctx.stroke();
  ctx.setLineDash([]);
}

/** @param {any} u @param {Point} point @param {{right: number}} box */
function paintPoint(u, point, box) {
  const { ctx } = u;
  const [x, y] = [u.valToPos(point.x, 'x', true), u.valToPos(point.y, 'y', true)];
  ctx.fillStyle = ink(point.off ? '--warm' : '--ink');
  ctx.strokeStyle = ink('--sheet');
  ctx.lineWidth = 2 * ratio();
  ctx.beginPath();
  if (point.off) ctx.rect(x - 4.5 * ratio(), y - 4.5 * ratio(), 9 * ratio(), 9 * ratio());
  else ctx.arc(x, y, 4.5 * ratio(), 0, 7);
  ctx.fill();
  ctx.stroke();
  if (!point.label) return;
  ctx.font = font(11, '600');
  const wide = ctx.measureText(point.label).width;
  ctx.textAlign = x + wide + 10 * ratio() > box.right ? 'right' : 'left';
  ctx.fillText(point.label, x + (ctx.textAlign === 'right' ? -8 : 8) * ratio(), y - 7 * ratio());
}

/** The least and most that is painted, so that the axis has room for it. @param {Spec} spec @returns {[number, number]} */
export function painted(spec) {
  const values = [
    ...(spec.gates ?? []).flatMap((gate) => gate.y ?? []),
    ...(spec.points ?? []).map((point) => point.y),
    ...(spec.outlook ? [spec.outlook.y, spec.outlook.limit] : []),
  ];
  return [Math.min(...values), Math.max(...values)];
}
