// @ts-check
import { api } from './api.js';
import { now } from './clock.js';
import { DAY } from './format.js';
import { keepVisit } from './visit-kept.js';
import { loadEvidence } from './visit-plots.js';
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
export const machinesOf = (visit) => [...new Set(visit.needs.flatMap((n) => n.machines))];

/** The closing forms to which a sheet leads. @param {string[]} machines @param {Me} who @returns {Promise<boolean>} whether they open without a connection */
export async function keepForms(machines, who) {
  if (!who.permissions.includes('report-work') || !machines.length) return false;
  await Promise.all(machines.map(async (m) => keepSheet(await api.machine(m), who, await api.proofs(m))));
  return keepOther(`/work-report/${encodeURIComponent(machines[0])}`);
}

/** @template T @param {string} id @param {Promise<T>} found @returns {Promise<[string, T]>} */
const both = async (id, found) => [id, await found];

/** Of each visit that is kept, as it was then. @type {Map<string, number>} */
const kept = new Map();

/** Those of whoever is signed in, until the end of tomorrow. @param {Visit[]} visits @param {Me} who */
const mine = (visits, who) => visits.filter((v) => (v.state === 'proposed' || v.state === 'accepted') && v.engineer === who.account.name
  && Date.parse(v.endsAt) > now() - DAY && Date.parse(v.beginsAt) < now() + 2 * DAY);

/**
 * Has this phone keep the sheets of the next visits, which nobody may have opened: below ground it is too late for that.
 * @param {Visit[]} visits @param {Me} who @returns {Promise<number>} how many are kept
 */
export async function keepAhead(visits, who) {
  const next = mine(visits, who);
  for (const visit of next.filter((v) => kept.get(v.id) !== v.sequence)) {
    const machines = machinesOf(visit);
    const alerts = await Promise.all(visit.needs.map((need) => both(need.id, alertsOf(need))));
    const wrong = visit.needs.filter((n) => n.kind === 'case').map((n) => n.id);
    const evidence = await Promise.all(alerts.filter(([need]) => wrong.includes(need)).flatMap(([, found]) => found)
      .map((alert) => both(alert.alert.id, loadEvidence(alert))));
    const events = await Promise.all(machines.map((m) => both(m, eventsOf(m))));
    const sheet = { visit, alerts, events, evidence, permissions: who.permissions, at: now() };
    await keepForms(machines, who);
    if (await keepVisit(visit.id, sheet) && await keepOther(`/visits/${encodeURIComponent(visit.id)}`)) kept.set(visit.id, visit.sequence);
  }
  return next.filter((v) => kept.has(v.id)).length;
}
