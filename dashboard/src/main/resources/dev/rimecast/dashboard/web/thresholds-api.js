// @ts-check
import { call, change, onVersion, post } from './api.js';

/**
 * @typedef {{group?: string, path: string, before: number, after: number}} Change
 * @typedef {{path: string, value: number, standard: number, least?: number, most?: number, unit: string, text: string,
 *   ofGroups: {group: string, value: number}[]}} PolicyNumber
 * @typedef {{number: number, name: string, source: 'product' | 'file' | 'person', at: string, who: string, why: string,
 *   restores?: number, trial?: number, changes: Change[]}} Version
 * @typedef {{version: Version, isStandard: boolean, canLookBack: boolean, numbers: PolicyNumber[], text: string}} Sheet
 * @typedef {{raisedAt: string, clearedAt?: string, priority: string}} Stood
 * @typedef {{kind: string, site: string, machine?: string, gateway?: string, condition: string, cause: string, summary: string,
 *   current?: Stood, candidate?: Stood, judged?: string}} Differing
 * @typedef {{done: number, all: number, secondsLeft?: number}} Progress
 * @typedef {{reached?: string, currentRaised: number, candidateRaised: number, same: number, whole: boolean,
 *   differenceCount: number, differences: Differing[]}} TrialResult
 * @typedef {{id: number, state: 'running' | 'promoted' | 'dropped', startedAt: string, startedBy: string, why: string, base: number,
 *   changes: Change[], ended?: {at: string, by: string, why: string}, problem?: string, progress?: Progress, result?: TrialResult}} Trial
 * @typedef {{low: number, high: number}} Ends
 * @typedef {{problems: number, found: number, right: number, wrong: number, unlabelled: number, contradicting: number,
 *   placesAndLinks: number, care: number, foundShare?: Ends, rightShare?: Ends, leadHours?: number, leadEnds?: Ends, wrongRate?: number, wrongRateLow?: number, wrongRateHigh?: number,
 *   avoided: number, planned: number, wasted: number, leadOfAllHours?: number, avoidedEnds: Ends, plannedEnds: Ends, wastedEnds: Ends}} Figures
 * @typedef {{problems: number, found: number, earlier: number, later: number, right: number, wrong: number, unlabelled: number, contradicting: number}} Sums
 * @typedef {{machine: string, at: string}} Plots
 * @typedef {{name: string, differs: boolean, current: Sums, candidate: Sums, plots?: Plots}} MachineSides
 * @typedef {{cause: string, differs: boolean, current: Sums, candidate: Sums, currentShare?: Ends, candidateShare?: Ends, plots: Plots[]}} CauseSides
 * @typedef {{from: string, to: string, machines: number, machineYears: number, cycles: number, liveSame: boolean, live: string, liveLater: number, policy: string, report: string,
 *   current: Figures, candidate: Figures, causes: {cause: string, problems: number, current: number, candidate: number, currentShare: Ends, candidateShare: Ends}[],
 *   byMachineCount: number, byMachine: MachineSides[], byCause: CauseSides[],
 *   known: {marks: number, visits: number, calls: number, soundYears: number, unknownMachines: number},
 *   differenceCount: number, differences: Differing[]}} BackTest
 * @typedef {{value: number, second?: number, cost: number, figures: Figures, alertsAYear: number, frontier: boolean}} Point
 * @typedef {{path: string, from: string, to: string, machineYears: number, points: Point[], best: number, choice: number,
 *   proposed: number, outcome: 'proposed' | 'none-cheaper' | 'within-error' | 'not-held' | 'not-over-time', unseen: number, unsure?: number,
 *   parts: number, marks: number, policy: string, report: string, second?: string}} Sweep
 * @typedef {{id: number, kind: 'back-test' | 'sweep', state: 'waiting' | 'running' | 'done' | 'cancelled' | 'failed', by: string,
 *   askedAt: string, base: number, days: number, changes: Change[], problem?: string, progress?: Progress, backTest?: BackTest,
 *   sweep?: Sweep}} Run
 * @typedef {{path: string, value: number}} Wanted
 * @typedef {{from: string, to: string, sites: number, allSites: number, machines: number, allMachines: number, otherSites: number, machineYears: number,
 *   currentAlerts: number, candidateAlerts: number, current: Figures, candidate: Figures, alertsOfAll: number, fleet?: {more: number, low: number, high: number}}} Seen
 * @typedef {{id: number, state: 'preparing' | 'running' | 'done' | 'failed' | 'ended', days: number, problem?: string, progress?: Progress, counted: string[],
 *   limits: {path: string, currentCycles: number, currentMachines: number, candidateCycles: number, candidateMachines: number}[], needReadings: string[], seen?: Seen}} Effect
 * @typedef {{name: string, ofAll: Change[], ofGroups: Change[]}} FileRead
 * @typedef {{machine: string, site: string, feature: string, median: number, cycles: number, alerts: string[]}} Unfit
 * @typedef {{machine: string, site: string, channel: string, change: string, amount: number, low: number, high: number}} SensorChange
 * @typedef {{reason: string, count: number, machines: string[]}} LeftOut
 * @typedef {{from: string, fitFrom: string, until: string, machines: number, judged: number, off: number, unexplained: number,
 *   fits: {feature: string, machines: number, cycles: number, withinTwo: number}[], unfitCount: number, unfit: Unfit[],
 *   sensorCount: number, sensors: SensorChange[], groups: {group: string, feature: string, machines: number, median: number, others: number}[],
 *   parts: {part: string, looked: number, leftOut: LeftOut[]}[]}} Found
 * @typedef {{id: number, state: Run['state'], by: string, askedAt: string, days: number, fitDays: number, problem?: string, progress?: Progress,
 *   found?: Found}} Look
 * @typedef {{newest?: Look, answered?: Look}} Looks
 */

/** Asks for thresholds, trials and the past. */
export const bench = {
  /** @returns {Promise<Sheet>} */
  sheet: () => call('thresholds'),
  /** @returns {Promise<Version[]>} */
  versions: () => call('thresholds/versions'),
  /** @param {number} seen @param {{changes: Wanted[], reason: string}} body @returns {Promise<Sheet>} */
  change: (seen, body) => change('thresholds', { ...onVersion(seen, body), method: 'PUT' }),
  /** @param {number} seen @param {{to: number, reason: string}} body @returns {Promise<Sheet>} */
  rollBack: (seen, body) => change('thresholds/roll-back', onVersion(seen, body)),
  /** @returns {Promise<Trial[]>} */
  trials: () => call('thresholds/trials'),
  /** @param {number} id @returns {Promise<Trial>} */
  trial: (id) => call(`thresholds/trials/${id}`),
  /** @param {{changes: Wanted[], reason: string}} body @returns {Promise<Trial>} */
  tryOut: (body) => change('thresholds/trials', post(body)),
  /** @param {number} id @param {number} seen @param {{reason: string}} body @returns {Promise<Sheet>} */
  promote: (id, seen, body) => change(`thresholds/trials/${id}/promote`, onVersion(seen, body)),
  /** @param {number} id @param {{reason: string}} body @returns {Promise<Trial>} */
  drop: (id, body) => change(`thresholds/trials/${id}/drop`, post(body)),
  /** @returns {Promise<Run[]>} */
  runs: () => call('thresholds/runs'),
  /** @param {number} id @returns {Promise<Run>} */
  run: (id) => call(`thresholds/runs/${id}`),
  /** @param {Record<string, unknown>} body @returns {Promise<Run>} */
  ask: (body) => change('thresholds/runs', post(body)),
  /** @param {number} id */
  cancel: (id) => change(`thresholds/runs/${id}`, { method: 'DELETE' }),
  /** Ends what the same person asked before. @param {{changes: Wanted[]}} body @returns {Promise<Effect>} */
  effect: (body) => change('thresholds/effects', post(body)),
  /** @param {number} id @returns {Promise<Effect>} */
  effectOf: (id) => call(`thresholds/effects/${id}`),
  /** @param {{text: string}} body @returns {Promise<FileRead>} */
  file: (body) => change('thresholds/file', post(body)),
  /** @returns {Promise<Looks>} */
  looks: () => call('thresholds/fleet'),
  /** @param {{days: number, fitDays: number}} body @returns {Promise<Look>} */
  look: (body) => change('thresholds/fleet', post(body)),
  endLook: () => change('thresholds/fleet', { method: 'DELETE' }),
};
