// @ts-check
import { now } from './clock.js';
import { t } from './texts.js';
import { eventKinds, word } from './words.js';

/**
 * What all plots over time share: the axis, the alerts that stood, and what happened.
 * @typedef {import('./plot.js').Spec} Spec
 * @typedef {import('./api.js').Limit} Limit
 * @typedef {import('./api.js').AlertSummary} AlertSummary
 * @typedef {{id: string, spec: Spec, caption: string, columns: string[], rows: unknown[][]}} Drawn
 * @typedef {{machine: import('./api.js').Machine, cycles: import('./api.js').Cycle[],
 *   alerts: AlertSummary[], events: import('./api.js').HappenedEvent[], from: number, to: number, isNow: boolean,
 *   zoomed: (from: number, to: number) => void}} CycleSource times in ms; alerts: all that ever were
 * @typedef {CycleSource & {temperatures: import('./api.js').Temperatures}} Source
 */

/** @param {string} iso */
export const at = (iso) => Date.parse(iso) / 1000;
export const height = () => (innerWidth < 600 ? 210 : 240);

/** A limit far above the data would flatten it: then it is said in words instead. @param {Limit | undefined} limit @param {number} most */
export const showsLimit = (limit, most) => limit !== undefined && most > limit.value * 0.55;

/** @param {Limit} limit */
export const limitName = (limit) => (limit.registered ? t.plots.limit : t.plots.usualLimit);

/** Plots whose quantity an alert is about, by the quantity's code. @type {Record<string, string>} */
const plotOfQuantity = { 'pull-down': 'pull-down', split: 'condensing', 'condensing-temperature': 'condensing', 'drain-level': 'drain' };

/** The open alert whose limit this plot shows, if it has a date. @param {CycleSource} source @param {string} id */
export function dated(source, id) {
  return source.machine.openAlerts.find(({ alert, measure }) =>
    alert.limitExpected && !alert.clearedAt && measure && plotOfQuantity[measure.quantity] === id);
}

/**
 * Early, likely and late, from what was measured last to the limit.
 * @param {CycleSource} source @param {string} id @param {{x: number, y: number} | undefined} last @param {number | undefined} limit in the plot's unit
 * @returns {import('./plot-paint.js').Outlook | undefined}
 */
export function outlook(source, id, last, limit) {
  const alert = dated(source, id);
  if (!alert || !last || limit === undefined || !source.isNow) return undefined;
  const { early, at: likely, late } = /** @type {{early: string, at: string, late: string}} */ (alert.alert.limitExpected);
  return { ...last, early: at(early), likely: at(likely), late: at(late), limit };
}

/**
 * The axis, longer where there is an outlook: by twice what is shown of the past at most.
 * @param {CycleSource} source @param {import('./plot-paint.js').Outlook} [ahead]
 * @returns {Pick<Spec, 'xIsTime' | 'xRange' | 'marks' | 'ribbon' | 'spells' | 'outlook' | 'height' | 'zoomed'>}
 */
export function timed(source, ahead) {
  const [from, to] = [source.from / 1000, source.to / 1000];
  const most = to + (to - from) * 2;
  const end = ahead && ahead.early < most ? Math.min(most, Math.max(to, ahead.late + (ahead.late - from) * 0.04)) : to;
  return {
    xIsTime: true,
    xRange: [from, end],
    marks: marks(source),
    spells: spells(source.alerts.filter((a) => !care(a))),
    ribbon: [],
    outlook: end > to ? ahead : undefined,
    height: height(),
    zoomed: source.zoomed,
  };
}

/** A reminder is no fault. @param {AlertSummary} alert */
const care = (alert) => alert.condition.endsWith('-due') || alert.condition === 'restart-after-idle';

/** When any alert stood; those that overlap are one. @param {AlertSummary[]} alerts @returns {import('./plot-paint.js').Spell[]} */
function spells(alerts) {
  /** @type {import('./plot-paint.js').Spell[]} */
  const merged = [];
  const ends = alerts.map((a) => ({ from: at(a.raisedAt), to: a.clearedAt ? at(a.clearedAt) : now() / 1000 }));
  for (const spell of ends.sort((a, b) => a.from - b.from)) {
    const before = merged.at(-1);
    if (before && spell.from <= before.to) before.to = Math.max(before.to, spell.to);
    else merged.push(spell);
  }
  return merged;
}

/** @param {CycleSource} source @returns {import('./plot-paint.js').Mark[]} */
function marks(source) {
  return [
    ...source.alerts.filter((a) => !care(a)).map((a) => /** @type {const} */ ({ at: at(a.raisedAt), label: t.plots.alert, kind: 'alert' })),
    ...source.events.map((e) => /** @type {const} */ ({ at: at(e.time), label: word(eventKinds, e.event), kind: 'event' })),
  ];
}
