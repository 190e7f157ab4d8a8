// @ts-check
import { hear, hearDemo } from './clock.js';
import { call, change, list, onVersion, post } from './http.js';

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
 *   causes: Cause[], limitExpected?: {at: string, early: string, late: string}, actBy?: string, hasIt?: string, acknowledgedBy?: string, hold?: Hold, caseId?: string, priorityWhy?: string,
 *   ice?: string, iceSays?: 'short' | 'enough' | 'not-known', silence?: string}} AlertSummary
 * @typedef {{machine: string, site: string, siteName: string, room?: string, phase?: string, lastReadingAt?: string,
 *   openAlerts: number, priority?: string, actBy?: string, leading?: AlertSummary}} FleetRow
 * @typedef {{about: string, headline: string, siteChecks: string[],
 *   engineerChecks: {check: string, expect: string, opensPanel: boolean}[], parts: string[], minutes: number,
 *   skills: string[], cautions: string[], deferTo: string[], latestDate?: string}} Advice
 * @typedef {{question: string, about: string, answer: string, text: string, by: string, at: string}} Answered
 * @typedef {{question: string, who: 'site' | 'operator' | 'engineer', about: string, ask: string, opensPanel: boolean, cautions: string[], gainBits: number,
 *   answers: {answer: string, text: string, chance?: number, cause?: string,
 *   confidence?: 'likely' | 'possible' | 'cannot-tell', probability?: number}[]}} Question
 * @typedef {{cause: string, probability: number, origin: string, evidenceFor: string[], evidenceAgainst: string[],
 *   answersFor: Answered[], answersAgainst: Answered[]}} Diagnosis
 * @typedef {{alert: AlertSummary, revision: number, updatedAt: string, acknowledgedBy?: string, acknowledgedAt?: string,
 *   assignee?: string, diagnosis: Diagnosis[], question?: Question, answers: Answered[],
 *   measure?: {quantity: string, unit: string, value: number, expected?: number, limit?: number}, advice: Advice,
 *   notHeld?: NotHeld[], history: {at: string, who: string, what: string, why: string}[], detectorVersion: string, policyVersion: string}} Alert
 * @typedef {{entry: string, value: number, unit: string, source: 'register' | 'model-group' | 'policy' | 'standard' | 'detector',
 *   standard?: number, about?: string}} Ground
 * @typedef {{at: string, stage: 'early' | 'at-limit' | 'stopped', summary: string,
 *   measure?: {quantity: string, unit: string, value: number, expected?: number, limit?: number}, decidedBy: Ground[]}} Look
 * @typedef {{alert: string, machine?: string, gateway?: string, site: string, siteName: string, condition: string,
 *   detectorVersion: string, policyVersion: string, raised: Look, now?: Look}} Why
 * @typedef {{id: string, site: string, siteName: string, title?: string, subject?: string, common?: string, place?: string,
 *   cause?: string, openedAt: string, closedAt?: string, priority?: 'urgent' | 'high' | 'medium' | 'low', actBy?: string,
 *   spokenForBy?: string, mergedInto?: string, alerts: AlertSummary[],
 *   calls: {at: string, machine?: string, detail: string, by: string, job: string}[]}} Case
 * @typedef {{id: string, kind: 'raised' | 'worse' | 'over' | 'passed' | 'digest' | 'test' | 'link', site?: string, caseId?: string,
 *   route?: string, step: number, receiver: string, channel: 'mail' | 'webhook' | 'outbox-only' | 'unknown', target: string,
 *   state: 'waiting' | 'sending' | 'sent' | 'failed' | 'cancelled', attempts: number, createdAt: string, nextAt?: string,
 *   endedAt?: string, detail: string, subject?: string, text?: string,
 *   log?: {at: string, who: string, outcome: string, detail: string}[]}} Notice
 * @typedef {{id: string, kind: 'case' | 'care', ref: string, site: string, title: string, why: string, machines: string[],
 *   since?: string, earliest: string, latest?: string, minutes: number, skills: string[], parts: string[], siteCanCheck: boolean, problem?: string}} VisitNeed
 * @typedef {{id: string, site: string, siteName: string, timeZone: string, contact?: string, day: string, from: string, minutes: number,
 *   beginsAt: string, endsAt: string, engineer: string, state: 'proposed' | 'accepted' | 'done' | 'cancelled', sequence: number,
 *   note: string, needs: VisitNeed[], createdAt: string, changedAt: string, changedBy: string, engineerAway?: boolean,
 *   request?: {machines: string[], reason: string, job: string},
 *   orders?: {part: string, days: number, needed: boolean, since: string, orderBy?: string}[],
 *   history: {at: string, who: string, what: string, why: string}[]}} Visit
 * @typedef {{name: string, days: string[], skills?: string[], minutesPerDay: number}} Engineer
 * @typedef {{visits: Visit[], waiting: {need: VisitNeed, reason: 'later' | 'next-visit' | 'visited' | 'impossible', words: string}[],
 *   means: {engineers: Engineer[], teamKnown: boolean, partsKnown: boolean, horizonDays: number}}} VisitPlan
 * @typedef {{id: string, engineer?: string, madeAt: string}} CalendarLink
 * @typedef {{refused: string, joins: string[], apart: string[], warnings: string[], ice: string}} NewVisitEffect
 * @typedef {{refused: string, missed: string[], warnings: string[], ice: string, from: string, noteNeeded?: boolean}} MoveEffect
 * @typedef {{name: string, channel: 'mail' | 'webhook' | 'outbox-only', target: string, hours?: string, closed?: string}} Receiver
 * @typedef {{check: string, about: string, text: string, putsRight: boolean, at: string}} SiteAnswer
 * @typedef {{by: SiteAnswer, overAt: string, cycles: number, visited: boolean}} Receipt
 * @typedef {{id: string, caseId: string, site: string, machine: string, madeBy: string, madeAt: string, endsAt: string, mailedTo?: string,
 *   state: 'open' | 'over' | 'settled' | 'ended' | 'revoked', revokedBy?: string, answers: SiteAnswer[], receipt?: Receipt}} SiteLink
 * @typedef {{state: 'asking' | 'watching' | 'over' | 'settled', machine: string, siteName: string, number: number, most: number,
 *   check?: {id: string, about: string, ask: string, choices: {answer: string, text: string}[]}, answers: SiteAnswer[],
 *   cycles: number, goodCycles: number, receipt?: Receipt, endsAt: string}} SiteCheck
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
 * @typedef {{from: string, to: string, stepSeconds: number, start: number[], evaporator: Column, condenser: Column}} Trace
 * @typedef {{id: string, workedAt: string, at: string, cause?: string, about: string[], check: string, verdict: string, probability?: number,
 *   cycles: number, more?: number, raisedSince: string[], last: boolean, summary: string,
 *   shown: {feature: string, unit: string, before?: number, measured: number, expected: number, sigma: number, cycles: number, probability: number}[],
 *   looks: {check: string, at: string, verdict: string, summary: string}[]}} ProofOfFix
 * @typedef {{proof: string, site: string, machine: string, workedAt: string, at: string, cause?: string, summary: string}} NotHeld
 * @typedef {{event: string, doneAt?: string, by?: string, job?: string, everyDays?: number, dueAt?: string}} Care
 * @typedef {{time: string, kilograms: number, by?: string, rate?: {cycleSeconds: number, kgPerDay: number, allowedKgPerDay: number,
 *   share: number, enough: boolean}}} Weighed
 * @typedef {{reason: string, began: string, at: string, cycles: number, verdict: string, last: boolean, probes: string,
 *   ambientC?: number, waterC?: number, figures: {feature: string, unit: string, measured: number, expected: number, low: number,
 *   high: number, cycles: number, verdict: string, kin?: {others: number, low: number, high: number}}[],
 *   rating?: {ratedKgPerDay: number, allowedKgPerDay: number, madeKgPerDay: number, verdict: string}, wrong: string[]}} Acceptance
 * @typedef {{checklist: {sections: {id: string, title: string, isolated: boolean, cautions: string[],
 *   items: {id: string, check: string, expect: string}[]}[], cautions: string[], deferTo: string[]}, acceptances: Acceptance[],
 *   records: {id: string, time: string, site: string, machine: string, good: boolean, note: string, by: string, job: string,
 *   enteredBy: string, enteredAt: string, answers: {item: string, check: string, result: string, note: string}[]}[]}} Commissioning
 * @typedef {{from: string, to: string, figures: {figure: string, definition: string, count: number, of: number, unit: string}[]}} Figures
 * @typedef {{id: string, width: number, height: number, bytes: number, sha256: string, enteredBy: string, enteredAt: string}} Photo
 * @typedef {{id: string, time: string, machine: string, found: string, foundText?: string, by: string, caseId?: string, photos: Photo[]}} Work what pages use of it
 * @typedef {{time: string, machine?: string, site: string, what: string, detail: string, by: string, job: string, enteredBy: string}} CareLine
 * @typedef {{product: string, version: string, now: string, state: 'up' | 'degraded' | 'down',
 *   stages: {name: string, state: string, detail: string}[], demo?: string, liveViewers: number}} Status
 * @typedef {{now: string, versions: {part: string, version: string}[], disks: {path: string, freeBytes: number, totalBytes: number}[],
 *   counters: {name: string, labels: Record<string, string>, value: number}[],
 *   gateways: {gateway: string, site: string, siteName: string, online?: boolean, presenceAt?: string, lastPackAt?: string, machines: string[]}[]}} System
 * @typedef {{index?: number, reason: string, detail: string}} RejectReason
 * @typedef {{at: string, by: string, stored: number, unclaimed: number, rejected: RejectReason[]}} Replayed
 * @typedef {{id: string, at: string, sender: string, topic: string, reasons: RejectReason[],
 *   payload: string, isText: boolean, payloadBytes: number, replays: Replayed[]}} RejectedMessage
 * @typedef {{at: string, by: string, failedAgain?: string}} Retake
 * @typedef {{id: string, at: string, stage: string, topic: string, partition: number, offset: number, key: string, why: string, content: string,
 *   payload: string, isText: boolean, payloadBytes: number, obstacle?: string, open: boolean, retakes: Retake[]}} DeadLetter
 * @typedef {{id: string, gateway: string, kind: 'secret' | 'certificate', fingerprint: string, sha256?: string, secret?: string, addedAt: string, addedBy: string,
 *   until?: string, endedAt?: string, endedBy?: string}} GatewayKey
 * @typedef {{machine: string, gateway: string, site?: string, readings: number, firstAt: string, lastAt: string, line: string, registeredBehind?: string}} UnclaimedMachine
 * @typedef {'screen' | 'viewer' | 'operator' | 'engineer' | 'manager' | 'analyst' | 'administrator'} Role
 * @typedef {{id: string, name: string, role: Role, sites?: string[], demo: boolean, hasPassword: boolean, secondFactor: boolean,
 *   createdAt: string, disabledAt?: string}} Account
 * @typedef {{account: Account, permissions: string[], sites?: string[], forgeryToken?: string, secondFactorMissing: boolean, endsAt: string}} Me
 * @typedef {{asked: boolean, since?: string, codesLeft: number}} SecondFactor
 * @typedef {{secret: string, uri: string, picture: {side: number, path: string}}} ProposedFactor
 * @typedef {{id: string, beganAt: string, usedAt: string, endsAt: string, address: string, client: string,
 *   current: boolean}} Session
 * @typedef {{id: string, name: string, role: Role, sites?: string[], madeAt: string, endsAt: string, usedAt?: string,
 *   secret?: string}} Token
 * @typedef {{site: string, name: string, timeZone: string, mail?: string}} Site
 * @typedef {{id: number, time: string, site: string, machine?: string, event: string, detail: string, text?: string, by: string, job: string,
 *   enteredBy?: string, enteredAt?: string, caseId?: string}} HappenedEvent
 * @typedef {{question: string, who: 'site' | 'operator' | 'engineer', about: string, ask: string, answers: {answer: string, text: string}[]}} QuestionText
 * @typedef {{events: HappenedEvent[], next?: number}} EventPage
 * @typedef {{added: boolean, event: HappenedEvent}} Reported
 * @typedef {'priority' | 'cases' | 'life' | 'advice'} BookName
 * @typedef {{path: string, line?: number, what: string}} RuleProblem
 * @typedef {{book: BookName, version: number, standard: boolean, savedAt?: string, savedBy?: string, reason?: string,
 *   problems: RuleProblem[]}} RuleState
 * @typedef {{words: string, found: string[], stages: string[], conditions: string[], ice: string[], withinSeconds?: number,
 *   priority: string}} PriorityRule
 * @typedef {{found: string[], priority: string, rule: number}} PriorityChange
 * @typedef {{ice: string, stages: string[], cells: PriorityChange[][]}} PriorityRow
 * @typedef {{conditions: string[], countsIce: boolean, rows: PriorityRow[]}} PriorityGroup
 * @typedef {{rules: PriorityRule[], withinSeconds: number[], groups: PriorityGroup[]}} PriorityTable
 * @typedef {{state: RuleState, text: string, standardText: string, priority?: PriorityTable}} RuleBook
 * @typedef {{version: number, savedAt: string, savedBy: string, reason: string, restores?: number,
 *   followsStandard: boolean}} RuleVersion
 * @typedef {{judged: number, changes: {alert: string, machine: string, siteName: string, condition: string, from: string,
 *   to: string, why: string}[]}} RuleEffect
 * @typedef {{problems: RuleProblem[], notes: string[], effect?: RuleEffect, priority?: PriorityTable}} RuleCheck
 * @typedef {{rows: number, added: number, known: number, refused: number,
 *   problems: {line: number, column: string, problem: string}[]}} EventImport
 */

export { call, change, me, onVersion, post, Refused } from './http.js';

const id = encodeURIComponent;

/** Rejected messages and dead letters that an answer has at most. */
export const MOST_LISTED = 100;

export const api = {
  /** @returns {Promise<{total: number, machines: FleetRow[]}>} */
  fleet: () => call('fleet'),
  /** The same by the secret of a link, for whoever has it. @param {string} secret @returns {Promise<{total: number, machines: FleetRow[]}>} */
  wall: (secret) => call('fleet', { headers: { Authorization: `Bearer ${secret}` }, credentials: 'omit' }),
  /** @param {string} machine @returns {Promise<Machine>} */
  machine: (machine) => call(`machines/${id(machine)}`),
  /** @param {string} machine @param {number} from @param {number} to @returns {Promise<Temperatures>} */
  temperatures: (machine, from, to) => call(`machines/${id(machine)}/temperatures?${range(from, to)}`),
  /** @param {string} machine @param {number} from @param {number} to @returns {Promise<Cycle[]>} */
  cycles: (machine, from, to) => call(`machines/${id(machine)}/cycles?${range(from, to)}`),
  /** At most a day. @param {string} machine @param {number} from @param {number} to @returns {Promise<Trace>} */
  trace: (machine, from, to) => call(`machines/${id(machine)}/trace?${range(from, to)}`),
  /** @param {string} machine @returns {Promise<Care[]>} */
  care: (machine) => call(`machines/${id(machine)}/care`),
  /** Who did what, oldest first. @param {string} machine @param {string} query @returns {Promise<CareLine[]>} */
  careRecord: (machine, query) => call(`machines/${id(machine)}/care-record${query}`),
  /** @param {string} site @param {string} query @returns {Promise<CareLine[]>} */
  careRecordOfSite: (site, query) => call(`sites/${id(site)}/care-record${query}`),
  /** Where the same is as a file. @param {string} machine @param {string} query */
  careTable: (machine, query) => `/api/v1/machines/${id(machine)}/care-record.csv${query}`,
  /** @param {string} site @param {string} query */
  careTableOfSite: (site, query) => `/api/v1/sites/${id(site)}/care-record.csv${query}`,
  /** @param {string} machine @returns {Promise<ProofOfFix[]>} newest work first */
  proofs: (machine) => call(`machines/${id(machine)}/proofs`),
  /** @param {string} machine @returns {Promise<AlertSummary[]>} those that are over, too */
  alertsOfMachine: (machine) => call(`alerts?open=false&machine=${id(machine)}`),
  /** @param {string} machine @param {number} [before] @returns {Promise<EventPage>} */
  eventsOfMachine: (machine, before) => call(`machines/${id(machine)}/events${before ? `?before=${before}` : ''}`),
  /** @param {string} site @param {number} [before] @returns {Promise<EventPage>} */
  eventsOfSite: (site, before) => call(`sites/${id(site)}/events${before ? `?before=${before}` : ''}`),
  /** @returns {Promise<QuestionText[]>} */
  questions: () => call('questions'),
  /** @param {string} machine @param {Record<string, unknown>} body @returns {Promise<Reported>} */
  reportOfMachine: (machine, body) => change(`machines/${id(machine)}/events`, post(body)),
  /** @param {string} site @param {Record<string, unknown>} body @returns {Promise<Reported>} */
  reportOfSite: (site, body) => change(`sites/${id(site)}/events`, post(body)),
  /** @param {Blob} csv @returns {Promise<EventImport>} */
  importEvents: (csv) => change('events/import', { method: 'POST', headers: { 'Content-Type': 'text/csv' }, body: csv }),
  /** @param {string} machine @returns {Promise<Weighed[]>} newest first */
  weighed: (machine) => call(`machines/${id(machine)}/weighed-harvests`),
  /** @returns {Promise<Figures>} of the last year */
  figures: () => call('figures'),
  /** @returns {Promise<NotHeld[]>} that became known in the last 30 days, newest first */
  notHeld: () => call('work-not-held'),
  /** @param {string} machine @returns {Promise<Commissioning>} */
  commissioning: (machine) => call(`machines/${id(machine)}/commissioning`),
  /** The same id again adds nothing. @param {string} machine @param {Record<string, unknown>} body */
  commission: (machine, body) => change(`machines/${id(machine)}/commissioning`, { ...post(body), signal: AbortSignal.timeout(20_000) }),
  /** The same id again adds nothing. @param {string} machine @param {Record<string, unknown>} body */
  sendWork: (machine, body) => change(`machines/${id(machine)}/work-reports`, { ...post(body), signal: AbortSignal.timeout(20_000) }),
  /** The same identifier again adds nothing. @param {string} report @param {string} photo @param {Blob} jpeg */
  sendPhoto: (report, photo, jpeg) => change(`work-reports/${id(report)}/photos/${id(photo)}`, { method: 'PUT', headers: { 'Content-Type': 'image/jpeg' }, body: jpeg, signal: AbortSignal.timeout(60_000) }),
  /** @param {string} machine @param {number} limit @returns {Promise<Work[]>} newest first */
  workOf: (machine, limit) => call(`machines/${id(machine)}/work-reports?limit=${limit}`),
  /** What is open, and at least so many of those that are over. @param {number} over @returns {Promise<{rows: AlertSummary[], more: boolean}>} */
  alerts: (over) => list(`alerts?open=${over === 0}`, (rows) => rows.filter((a) => a.state === 'normal').length >= over && over > 0),
  /** @param {string} alert @returns {Promise<Alert>} */
  alert: (alert) => call(`alerts/${id(alert)}`),
  /** @param {string} alert @returns {Promise<Why>} */
  why: (alert) => call(`alerts/${id(alert)}/why`),
  /** @returns {Promise<Status>} */
  async status() {
    const status = await call('status');
    hear(status.now);
    hearDemo(status.demo);
    return status;
  },
  /**
   * @param {string} alert @param {'acknowledge' | 'reset' | 'shelve' | 'out-of-service' | 'assign' | 'notes' | 'join' | 'part'} action
   * @param {Record<string, unknown>} body @returns {Promise<Alert>}
   */
  act: (alert, action, body) => change(`alerts/${id(alert)}/${action}`, post(body)),
  /** Who could have it. @param {string} alert @returns {Promise<string[]>} */
  assignees: (alert) => call(`alerts/${id(alert)}/assignees`),
  /** @param {string} alert @param {{question: string, answer: string}} body @returns {Promise<Alert>} */
  answer: (alert, body) => change(`alerts/${id(alert)}/answers`, post(body)),
  /** What is open, and at least so many of those that are over. @param {number} over @returns {Promise<{rows: Case[], more: boolean}>} */
  cases: (over) => list(`cases?open=${over === 0}`, (rows) => rows.filter((c) => c.closedAt).length >= over && over > 0),
  /** Open ones of a site. @param {string} site @returns {Promise<Case[]>} */
  casesAt: (site) => call(`cases?site=${id(site)}`),
  /** @param {string} one @returns {Promise<Case>} */
  caseOf: (one) => call(`cases/${id(one)}`),
  /** @param {string} case_ @returns {Promise<Case>} */
  oneCase: (case_) => call(`cases/${id(case_)}`),
  /** @param {boolean} ended also those that are done or cancelled @returns {Promise<VisitPlan>} */
  visits: (ended) => call(`visits${ended ? '?state=proposed,accepted,done,cancelled' : ''}`),
  /** @param {string} visit @returns {Promise<Visit>} */
  visit: (visit) => call(`visits/${id(visit)}`),
  /** What becomes of it if it is moved. @param {string} visit @param {{day: string, engineer: string, from?: string}} to @returns {Promise<MoveEffect>} */
  visitEffect: (visit, to) => call(`visits/${id(visit)}/effect?${new URLSearchParams(to)}`),
  /** @param {string} visit @param {'accept' | 'move' | 'release' | 'cancel' | 'done'} action @param {Record<string, unknown>} body @returns {Promise<Visit>} */
  visitAct: (visit, action, body) => change(`visits/${id(visit)}/${action}`, post(body)),
  /** What one by hand would mean. @param {string} site @param {{day: string, from: string, to: string, engineer: string}} wanted @returns {Promise<NewVisitEffect>} */
  newVisitEffect: (site, wanted) => call(`sites/${id(site)}/visit-effect?${new URLSearchParams(wanted)}`),
  /** @param {Record<string, unknown>} body @returns {Promise<Visit>} */
  makeVisit: (body) => change('visits', post(body)),
  /** @returns {Promise<CalendarLink[]>} */
  calendars: () => call('calendars'),
  /** @param {{engineer?: string}} body @returns {Promise<{path: string, link: CalendarLink}>} */
  makeCalendar: (body) => change('calendars', post(body)),
  /** @param {string} link */
  revokeCalendar: (link) => change(`calendars/${id(link)}`, { method: 'DELETE' }),
  /** @returns {Promise<VisitPlan>} */
  planVisits: () => change('visits/plan', post({})),
  /** @param {string} case_ @param {Record<string, unknown>} body @returns {Promise<Case>} */
  closeCase: (case_, body) => change(`cases/${id(case_)}/close`, post(body)),
  /** @returns {Promise<SiteLink[]>} */
  siteLinks: () => call('site-links'),
  /** @param {string} case_ @param {{machine?: string, send?: string}} body @returns {Promise<{secret?: string, link: SiteLink}>} */
  askSite: (case_, body) => change(`cases/${id(case_)}/site-links`, post(body)),
  /** @param {string} link */
  revokeSiteLink: (link) => change(`site-links/${id(link)}/revoke`, post({})),
  /** @param {{link: string}} body @returns {Promise<SiteCheck>} */
  siteCheck: (body) => call('site-check', post(body)),
  /** @param {{link: string, check: string, answer: string}} body @returns {Promise<SiteCheck>} */
  answerSiteCheck: (body) => call('site-check/answers', post(body)),
  /** @param {{link: string, kilograms: string}} body @returns {Promise<SiteCheck>} */
  weighOnSite: (body) => call('site-check/weighed-harvests', post(body)),
  /** At least so many. @param {number} least @returns {Promise<{rows: Notice[], more: boolean}>} */
  notices: (least) => list('notices', (rows) => rows.length >= least),
  /** @param {string} notice @returns {Promise<Notice>} */
  notice: (notice) => call(`notices/${id(notice)}`),
  /** @param {string} notice @param {Record<string, unknown>} body @returns {Promise<Notice>} */
  retryNotice: (notice, body) => change(`notices/${id(notice)}/retry`, post(body)),
  /** @returns {Promise<Receiver[]>} */
  receivers: () => call('receivers'),
  /** @param {string} name @param {Record<string, unknown>} body @returns {Promise<Notice>} */
  testReceiver: (name, body) => change(`receivers/${id(name)}/test`, post(body)),
  /** @returns {Promise<System>} */
  system: () => call('system'),
  /** @returns {Promise<RejectedMessage[]>} */
  rejects: () => call(`system/rejects?limit=${MOST_LISTED}`),
  /** @param {string} message @returns {Promise<Replayed>} */
  replayReject: (message) => change(`system/rejects/${id(message)}/replay`, post({})),
  /** @returns {Promise<DeadLetter[]>} */
  deadLetters: () => call(`system/dead-letters?limit=${MOST_LISTED}`),
  /** @param {string} letter @returns {Promise<Retake>} */
  retake: (letter) => change(`system/dead-letters/${id(letter)}/replay`, post({})),
  /** @returns {Promise<GatewayKey[]>} */
  gatewayKeys: () => call('gateway-credentials'),
  /** @param {string} gateway @param {{certificate?: string}} body @returns {Promise<GatewayKey>} */
  addGatewayKey: (gateway, body) => change(`gateways/${id(gateway)}/credentials`, post(body)),
  /** @param {string} gateway @param {{graceHours: number, certificate?: string}} body @returns {Promise<GatewayKey>} */
  rotateGatewayKey: (gateway, body) => change(`gateways/${id(gateway)}/credentials/rotate`, post(body)),
  /** @param {string} gateway @param {{fingerprint?: string}} body @returns {Promise<GatewayKey[]>} */
  revokeGatewayKeys: (gateway, body) => change(`gateways/${id(gateway)}/credentials/revoke`, post(body)),
  /** @returns {Promise<UnclaimedMachine[]>} */
  unclaimed: () => call('system/unclaimed'),
  /** @returns {Promise<RuleState[]>} */
  rules: () => call('rules'),
  /** @param {string} book @returns {Promise<RuleBook>} */
  ruleBook: (book) => call(`rules/${id(book)}`),
  /** @param {string} book @returns {Promise<RuleVersion[]>} */
  ruleVersions: (book) => call(`rules/${id(book)}/versions`),
  /** @param {string} book @param {number} version 0 is the standard @returns {Promise<{version: number, text: string}>} */
  ruleVersion: (book, version) => call(`rules/${id(book)}/versions/${version}`),
  /** @param {string} book @param {string} text @returns {Promise<RuleCheck>} */
  checkRules: (book, text) => change(`rules/${id(book)}/check`, post({ text })),
  /** @param {string} book @param {number} seen the version that was looked at @param {{text: string, reason: string}} body @returns {Promise<RuleBook>} */
  saveRules: (book, seen, body) => change(`rules/${id(book)}`, { ...onVersion(seen, body), method: 'PUT' }),
  /** @param {string} book @param {number} seen @param {{to: number, reason: string}} body @returns {Promise<RuleBook>} */
  rollBackRules: (book, seen, body) => change(`rules/${id(book)}/roll-back`, onVersion(seen, body)),
  /** @returns {Promise<Hold[]>} */
  holds: () => call('holds'),
  /** @param {string} hold @param {Record<string, unknown>} body @returns {Promise<Hold>} */
  endHold: (hold, body) => change(`holds/${id(hold)}/end`, post(body)),
  /** @param {string} machine @param {Record<string, unknown>} body @returns {Promise<Hold>} */
  takeOutOfService: (machine, body) => change(`machines/${id(machine)}/out-of-service`, post(body)),

  /** Who is signed in, asked anew. @returns {Promise<Me>} */
  session: () => call('session'),
  /** @returns {Promise<Site[]>} */
  sites: () => call('sites'),
  /** @param {Record<string, unknown>} body @returns {Promise<Me>} */
  signIn: (body) => call('session', post(body)),
  /** @returns {Promise<{id: string, name: string, role: Role}[]>} */
  demoAccounts: () => call('demo/accounts'),
  /** @param {string} account @returns {Promise<Me>} */
  enterDemo: (account) => call('demo/session', post({ account })),
  signOut: () => change('session', { method: 'DELETE' }),
  /** @param {Record<string, unknown>} body @returns {Promise<Me>} */
  setUp: (body) => call('set-up', post(body)),
  /** @param {Record<string, unknown>} body @returns {Promise<Me>} */
  choosePassword: (body) => call('password', post(body)),
  /** @returns {Promise<SecondFactor>} one's own */
  secondFactor: () => call('account/second-factor'),
  /** @param {{current: string}} body @returns {Promise<ProposedFactor>} */
  proposeFactor: (body) => change('account/second-factor', post(body)),
  /** @param {{code: string}} body @returns {Promise<{recoveryCodes: string[]}>} */
  confirmFactor: (body) => change('account/second-factor/confirm', post(body)),
  /** @param {{current: string, code: string}} body @returns {Promise<{recoveryCodes: string[]}>} */
  renewRecoveryCodes: (body) => change('account/second-factor/recovery-codes', post(body)),
  /** @param {{current: string, code: string}} body */
  removeFactor: (body) => change('account/second-factor/remove', post(body)),
  /** @param {Record<string, unknown>} body */
  changePassword: (body) => change('account/password', post(body)),
  /** @returns {Promise<Session[]>} */
  sessions: () => call('account/sessions'),
  /** @param {string} session */
  endSession: (session) => change(`account/sessions/${id(session)}`, { method: 'DELETE' }),
  /** @returns {Promise<Token[]>} */
  tokens: () => call('tokens'),
  /** @param {Record<string, unknown>} body @returns {Promise<Token>} */
  makeToken: (body) => change('tokens', post(body)),
  /** @param {string} token */
  revokeToken: (token) => change(`tokens/${id(token)}`, { method: 'DELETE' }),
  /** @returns {Promise<{role: Role, permissions: string[]}[]>} */
  roles: () => call('roles'),
  /** @returns {Promise<Account[]>} */
  accounts: () => call('accounts'),
  /** @param {Record<string, unknown>} body @returns {Promise<{account: Account, link: string}>} */
  createAccount: (body) => change('accounts', post(body)),
  /** @param {string} account @param {Record<string, unknown>} body @returns {Promise<Account>} */
  changeAccount: (account, body) => change(`accounts/${id(account)}`, post(body)),
  /** Of somebody who has lost the device. @param {string} account */
  removeFactorOf: (account) => change(`accounts/${id(account)}/second-factor/remove`, post({})),
  /** @param {string} account @returns {Promise<{account: Account, link: string}>} */
  passwordLink: (account) => change(`accounts/${id(account)}/link`, post({})),
};

/** @param {number} from @param {number} to */
function range(from, to) {
  return `from=${new Date(from).toISOString()}&to=${new Date(to).toISOString()}`;
}
