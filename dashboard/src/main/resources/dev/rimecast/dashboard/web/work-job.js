// @ts-check
import { api } from './api.js';

/**
 * The number under which work is booked already, so that nobody types it a second time in a plant room.
 * @typedef {import('./api.js').Visit} Visit
 */

/** Of the newest call that has one. @param {string[]} cases @returns {Promise<string>} */
async function ofCases(cases) {
  const calls = (await Promise.all(cases.map((each) => api.oneCase(each)))).flatMap((found) => found.calls).filter((call) => call.job);
  return calls.sort((a, b) => b.at.localeCompare(a.at))[0]?.job ?? '';
}

/** What was said when it was made by hand, else in a call about the machine. @param {Visit} visit @param {string} machine @returns {Promise<string | undefined>} empty where there is none, undefined where it could not be learned */
export async function jobOfVisit(visit, machine) {
  try {
    return visit.request?.job || await ofCases(visit.needs.filter((n) => n.kind === 'case' && n.machines.includes(machine)).map((n) => n.ref));
  } catch {
    return undefined;
  }
}

/** @param {import('./api.js').Machine} machine @returns {Promise<string | undefined>} */
async function jobOfMachine(machine) {
  try {
    return await ofCases([...new Set(machine.openAlerts.flatMap((a) => a.alert.caseId ?? []))]);
  } catch {
    return undefined;
  }
}

/** @param {import('./api.js').Machine} machine @param {string | undefined} visit the one to which it belongs @returns {Promise<string | undefined>} as of that */
export async function knownJob(machine, visit) {
  if (!visit) return jobOfMachine(machine);
  try {
    return await jobOfVisit(await api.visit(visit), machine.machine);
  } catch {
    return undefined;
  }
}
