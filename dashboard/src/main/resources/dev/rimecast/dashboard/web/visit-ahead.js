// @ts-check
import { api } from './api.js';
import { now } from './clock.js';
import { DAY } from './format.js';
import { forgetVisit, keepVisit, keptVisits } from './visit-kept.js';
import { loadEvidence } from './visit-plots.js';
import { jobOfVisit } from './work-job.js';
import { keepOther } from './work-offline.js';
import { keepSheet } from './work-outbox.js';

/** @typedef {import('./api.js').Visit} Visit */
/** @typedef {import('./api.js').Me} Me */

const MOST_ALERTS = 6;
const MOST_EVENTS = 8;

/** What is open of a case, or the care that is due. @param {import('./api.js').VisitNeed} need */
export async function alertsOf(need) {
  const ids = need.kind === 'care' ? [need.ref]
    : (await api.oneCase(need.ref)).alerts.filter((a) => !a.clearedAt).map((a) => a.id).slice(0, MOST_ALERTS);
  return Promise.all(ids.map((each) => api.alert(each)));
}

/** What was done lately. @param {string} machine */
export const eventsOf = async (machine) => (await api.eventsOfMachine(machine)).events.slice(0, MOST_EVENTS);

/** @param {Visit} visit */
export const machinesOf = (visit) => [...new Set([...(visit.request?.machines ?? []), ...visit.needs.flatMap((n) => n.machines)])];

/** The closing forms to which a sheet leads. @param {Visit} visit @param {string[]} machines @param {Me} who @returns {Promise<boolean>} whether they open without a connection */
export async function keepForms(visit, machines, who) {
  if (!who.permissions.includes('report-work') || !machines.length) return false;
  await Promise.all(machines.map(async (m) => keepSheet(await api.machine(m), who, await api.proofs(m), visit.id, await jobOfVisit(visit, m))));
  return keepOther(`/work-report/${encodeURIComponent(machines[0])}`);
}

/** @template T @param {string} id @param {Promise<T>} found @returns {Promise<[string, T]>} */
const both = async (id, found) => [id, await found];

/** Of each visit that was tried, as it was then, and whether it is kept. @type {Map<string, {was: string, kept: boolean}>} */
const tried = new Map();

/** Those of whoever is signed in, until the end of tomorrow. @param {Visit[]} visits @param {Me} who */
const mine = (visits, who) => visits.filter((v) => (v.state === 'proposed' || v.state === 'accepted') && v.engineer === who.account.name
  && Date.parse(v.endsAt) > now() - DAY && Date.parse(v.beginsAt) < now() + 2 * DAY);

/** What a sheet of it is made of. @param {Visit} visit */
const standing = (visit) => JSON.stringify([visit.sequence, visit.needs]);

/** @param {Visit} visit @param {Me} who @returns {Promise<boolean>} */
async function keep(visit, who) {
  const machines = machinesOf(visit);
  const alerts = await Promise.all(visit.needs.map((need) => both(need.id, alertsOf(need))));
  const wrong = visit.needs.filter((n) => n.kind === 'case').map((n) => n.id);
  const evidence = await Promise.all(alerts.filter(([need]) => wrong.includes(need)).flatMap(([, found]) => found)
    .map((alert) => both(alert.alert.id, loadEvidence(alert))));
  const events = await Promise.all(machines.map((m) => both(m, eventsOf(m))));
  await keepForms(visit, machines, who);
  return await keepVisit(visit.id, { visit, alerts, events, evidence, permissions: who.permissions, at: now() })
    && keepOther(`/visits/${encodeURIComponent(visit.id)}`);
}

/**
 * Has this phone keep the sheets of the next visits, which nobody may have opened: below ground it is too late for that. A sheet of a visit that is no more, or
 * somebody else's by now, is forgotten; one that can't be kept is tried again once its visit has changed.
 * @param {Visit[]} visits all that are open @param {Me} who @returns {Promise<number>} how many are kept
 */
export async function keepAhead(visits, who) {
  if (!('caches' in window) || !navigator.serviceWorker) return 0;
  const open = new Map(visits.map((v) => [v.id, v]));
  for (const { visit } of await keptVisits()) {
    const is = open.get(visit.id);
    if (!is || (visit.engineer === who.account.name && is.engineer !== who.account.name)) {
      await forgetVisit(visit.id);
      tried.delete(visit.id);
    }
  }
  const next = mine(visits, who);
  for (const visit of next.filter((v) => tried.get(v.id)?.was !== standing(v))) {
    let isKept = false;
    try { isKept = await keep(visit, who); } catch { /* the next one all the same */ }
    tried.set(visit.id, { was: standing(visit), kept: isKept });
  }
  return next.filter((v) => tried.get(v.id)?.kept).length;
}
