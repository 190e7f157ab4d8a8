// @ts-check
import { hear, hearDemo } from './clock.js';
import { t } from './texts.js';

/**
 * @typedef {{cause: string, probability: number, origin: string}} Cause
 * @typedef {'unacknowledged' | 'acknowledged' | 'returned-unacknowledged' | 'latched-unacknowledged'
 *   | 'latched-acknowledged' | 'shelved' | 'suppressed-by-design' | 'out-of-service' | 'normal'} State
 * @typedef {{id: string, kind: 'shelved' | 'suppressed' | 'out-of-service', subject: string, site: string,
 *   condition?: string, by: string, reason: string, permittedBy?: string, since: string, until?: string}} Hold
 * @typedef {{id: string, machine?: string, gateway?: string, site: string, siteName: string, condition: string,
 *   stage: 'early' | 'at-limit' | 'stopped', priority: 'urgent' | 'high' | 'medium' | 'low',
 *   state: State, version: number, raisedAt: string,
 *   clearedAt?: string, summary: string, headline: string, confidence: 'likely' | 'possible' | 'cannot-tell',
 *   causes: Cause[], limitExpected?: {at: string, early: string, late: string}, actBy?: string, hasIt?: string, hold?: Hold, caseId?: string, priorityWhy?: string,
 *   ice?: string, silence?: string}} AlertSummary
 * @typedef {{machine: string, site: string, siteName: string, room?: string, phase?: string, lastReadingAt?: string,
 *   openAlerts: number, priority?: string, actBy?: string, leading?: AlertSummary}} FleetRow
 * @typedef {{about: string, headline: string, siteChecks: string[],
 *   engineerChecks: {check: string, expect: string, opensPanel: boolean}[], parts: string[], minutes: number,
 *   skills: string[], cautions: string[], deferTo: string[], latestDate?: string}} Advice
 * @typedef {{cause: string, probability: number, origin: string, evidenceFor: string[], evidenceAgainst: string[]}} Diagnosis
 * @typedef {{alert: AlertSummary, revision: number, updatedAt: string, acknowledgedBy?: string, acknowledgedAt?: string,
 *   assignee?: string, diagnosis: Diagnosis[],
 *   measure?: {quantity: string, unit: string, value: number, expected?: number, limit?: number}, advice: Advice,
 *   history: {at: string, who: string, what: string, why: string}[], detectorVersion: string, policyVersion: string}} Alert
 * @typedef {{id: string, site: string, siteName: string, title?: string, subject?: string, common?: string, place?: string,
 *   cause?: string, openedAt: string, closedAt?: string, priority?: 'urgent' | 'high' | 'medium' | 'low', actBy?: string,
 *   spokenForBy?: string, mergedInto?: string, alerts: AlertSummary[],
 *   calls: {at: string, machine?: string, detail: string, by: string, job: string}[]}} Case
 * @typedef {{id: string, kind: 'raised' | 'worse' | 'over' | 'passed' | 'digest' | 'test', site?: string, caseId?: string,
 *   route?: string, step: number, receiver: string, channel: 'mail' | 'webhook' | 'outbox-only' | 'unknown', target: string,
 *   state: 'waiting' | 'sending' | 'sent' | 'failed' | 'cancelled', attempts: number, createdAt: string, nextAt?: string,
 *   endedAt?: string, detail: string, subject?: string, text?: string,
 *   log?: {at: string, who: string, outcome: string, detail: string}[]}} Notice
 * @typedef {{name: string, channel: 'mail' | 'webhook' | 'outbox-only', target: string, hours?: string, closed?: string}} Receiver
 * @typedef {{value: number, registered: boolean}} Limit
 * @typedef {{machine: string, site: {site: string, name: string, timeZone: string, contact?: string}, room?: string,
 *   modelGroup?: string, serial?: string, gateway: string, kind: 'batch' | 'continuous',
 *   condenserCooling: 'air' | 'water' | 'remote', ratedKgPerDay: number, binKg: number, refrigerant?: string,
 *   installed?: string, warrantyUntil?: string,
 *   limits: {condensingCelsius: Limit, pullDownSeconds: Limit, drainLevelSeconds?: Limit, drainRunOnSeconds: number},
 *   lastReadingAt?: string, now: Record<string, {at: string, value: number, text: string, unit: string}>,
 *   openAlerts: Alert[], outOfService?: Hold}} Machine
 * @typedef {{freezeStart: string, end: string, complete: boolean, pullDownSeconds?: number, freezeSeconds?: number,
 *   harvestSeconds?: number, condensingPeakCelsius?: number, condensingMeanCelsius?: number, splitKelvin?: number,
 *   evaporatorEndCelsius?: number, ambientCelsius?: number, ambientSource: string, waterCelsius?: number,
 *   waterSource: string, drainRuns?: number, drainLevelMaxSeconds?: number, drainRunMaxSeconds?: number,
 *   expected: Record<string, {value: number, sigma: number}>}} Cycle
 * @typedef {(number | null)[]} Column
 * @typedef {{from: string, to: string, bucketSeconds: number, start: number[], evaporatorMin: Column,
 *   evaporatorMean: Column, evaporatorMax: Column, condenserMin: Column, condenserMean: Column, condenserMax: Column,
 *   ambientMean: Column, waterMean: Column}} Temperatures
 * @typedef {{product: string, version: string, now: string, state: 'up' | 'degraded' | 'down',
 *   stages: {name: string, state: string, detail: string}[], demo?: string, liveViewers: number}} Status
 */

/** A request that was answered with a problem (RFC 9457), or not at all (status 0). */
export class Refused extends Error {
  /** @param {number} status @param {string} detail @param {Record<string, any>} problem */
  constructor(status, detail, problem) {
    super(detail);
    this.status = status;
    this.problem = problem;
  }
}

/** @param {string} path @param {RequestInit} [options] @returns {Promise<any>} */
async function call(path, options) {
  /** @type {Response} */
  let response;
  try {
    response = await fetch(`/api/v1/${path}`, options);
  } catch {
    throw new Refused(0, t.unreachable, {});
  }
  const time = response.headers.get('Rimecast-Time');
  if (time) hear(time);
  const body = await response.json().catch(() => ({}));
  if (!response.ok) throw new Refused(response.status, body.detail ?? String(response.status), body);
  return body;
}

const id = encodeURIComponent;

export const api = {
  /** @returns {Promise<{total: number, machines: FleetRow[]}>} */
  fleet: () => call('fleet'),
  /** @param {string} machine @returns {Promise<Machine>} */
  machine: (machine) => call(`machines/${id(machine)}`),
  /** @param {string} machine @param {number} from @param {number} to @returns {Promise<Temperatures>} */
  temperatures: (machine, from, to) => call(`machines/${id(machine)}/temperatures?${range(from, to)}`),
  /** @param {string} machine @param {number} from @param {number} to @returns {Promise<Cycle[]>} */
  cycles: (machine, from, to) => call(`machines/${id(machine)}/cycles?${range(from, to)}`),
  /** @param {boolean} openOnly @returns {Promise<AlertSummary[]>} */
  alerts: (openOnly) => call(`alerts?open=${openOnly}`),
  /** @param {string} alert @returns {Promise<Alert>} */
  alert: (alert) => call(`alerts/${id(alert)}`),
  /** @returns {Promise<Status>} */
  async status() {
    const status = await call('status');
    hear(status.now);
    hearDemo(status.demo);
    return status;
  },
  /**
   * @param {string} alert @param {'acknowledge' | 'reset' | 'shelve' | 'out-of-service'} action
   * @param {Record<string, unknown>} body @returns {Promise<Alert>}
   */
  act: (alert, action, body) => call(`alerts/${id(alert)}/${action}`, post(body)),
  /** @param {boolean} openOnly @returns {Promise<Case[]>} */
  cases: (openOnly) => call(`cases?open=${openOnly}`),
  /** @param {string} case_ @param {Record<string, unknown>} body @returns {Promise<Case>} */
  closeCase: (case_, body) => call(`cases/${id(case_)}/close`, post(body)),
  /** @returns {Promise<Notice[]>} */
  notices: () => call('notices'),
  /** @param {string} notice @returns {Promise<Notice>} */
  notice: (notice) => call(`notices/${id(notice)}`),
  /** @param {string} notice @param {Record<string, unknown>} body @returns {Promise<Notice>} */
  retryNotice: (notice, body) => call(`notices/${id(notice)}/retry`, post(body)),
  /** @returns {Promise<Receiver[]>} */
  receivers: () => call('receivers'),
  /** @param {string} name @param {Record<string, unknown>} body @returns {Promise<Notice>} */
  testReceiver: (name, body) => call(`receivers/${id(name)}/test`, post(body)),
  /** @returns {Promise<Hold[]>} */
  holds: () => call('holds'),
  /** @param {string} hold @param {Record<string, unknown>} body @returns {Promise<Hold>} */
  endHold: (hold, body) => call(`holds/${id(hold)}/end`, post(body)),
  /** @param {string} machine @param {Record<string, unknown>} body @returns {Promise<Hold>} */
  takeOutOfService: (machine, body) => call(`machines/${id(machine)}/out-of-service`, post(body)),
};

/** @param {Record<string, unknown>} body */
const post = (body) => ({ method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) });

/** @param {number} from @param {number} to */
function range(from, to) {
  return `from=${new Date(from).toISOString()}&to=${new Date(to).toISOString()}`;
}
