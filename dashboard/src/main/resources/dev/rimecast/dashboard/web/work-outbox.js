// @ts-check
/**
 * What this phone keeps of work and of commissioning: what is known of a machine, what is being written, and what is finished
 * but not sent. A report has its id from the beginning, so that sending it twice stores it once.
 */
import { api, Refused } from './api.js';
import { now } from './clock.js';
import { forgetPhotos, forgetStrays, keptPhoto } from './photo-store.js';
import { t } from './texts.js';
import { KEPT_VISITS } from './visit-kept.js';

/** @typedef {{what: string, detail: string, grams: string}} Done */
/** @typedef {{id: string, found: string, foundText: string, origin: string, done: Done[], charge: string, job: string, jobKnown?: string,
 *   note: string, by: string, certificate: string, photos: string[], caseId?: string, visit?: string}} Draft photos: their ids; jobKnown: what stood in job at first */
/** @typedef {{id: string, answers: Record<string, {result: string, note: string}>, note: string, by: string, job: string}} RecordDraft */
/** @typedef {{id: string, machine: string, account: string, accountName: string, time: string, problem?: string}} Finished */
/** @typedef {Finished & {kind?: undefined, draft: Draft}} WaitingWork */
/** @typedef {Finished & {kind: 'commissioning', draft: RecordDraft, items: string[]}} WaitingRecord */
/** @typedef {WaitingWork | WaitingRecord} Waiting */
/** @typedef {{id: string, kind?: 'commissioning', machine: string, time: string, sentAt: string}} Sent */
/** @typedef {{id: string, report: string, machine: string, account: string, accountName: string, time: string, problem?: string, lost?: boolean}} WaitingPhoto of a report that is sent; lost: no longer on this phone */
/** @typedef {{machine: import('./api.js').Machine, commissioning?: import('./api.js').Commissioning, proofs?: import('./api.js').ProofOfFix[], me: import('./api.js').Me, jobs?: Record<string, string>, at: number, aheadMs: number}} Sheet jobs: of each visit, and of none */

const WAITING = 'rimecast.work.waiting';
const SENT = 'rimecast.work.sent';
const PHOTOS = 'rimecast.work.photos';
const SHEET = 'rimecast.work.sheet.';
const DRAFT = 'rimecast.work.draft.';
const RECORD_SHEET = `${SHEET}commissioning/`;
const RECORD = 'rimecast.work.commissioning.';
const SENT_KEPT = 20;
const JOBS_KEPT = 5;
/** Answers after which the same report would be refused again. */
const FOR_GOOD = [400, 403, 404, 409, 413, 415];
/** And the same photo: rights can come back, and a report be there again. */
const PHOTO_FOR_GOOD = [400, 409, 413, 415];

/** @template T @param {string} key @param {T} otherwise @returns {T} */
function read(key, otherwise) {
  try {
    return JSON.parse(localStorage.getItem(key) ?? 'null') ?? otherwise;
  } catch {
    return otherwise;
  }
}

/** @param {string} key @param {unknown} value */
const write = (key, value) => localStorage.setItem(key, JSON.stringify(value));

const told = () => dispatchEvent(new CustomEvent('work-kept'));
addEventListener('storage', (e) => { if (e.key?.startsWith('rimecast.work.')) told(); });

/** Finished, not sent. @returns {Waiting[]} */
export const waiting = () => read(WAITING, []);
/** The last ones, newest first. @returns {Sent[]} */
export const sent = () => read(SENT, []);
/** Photos whose reports the server has. @returns {WaitingPhoto[]} */
export const waitingPhotos = () => read(PHOTOS, []);
/** Of a report that waits. @param {Waiting} report @returns {string[]} */
export const photosOf = (report) => (report.kind ? [] : report.draft.photos ?? []);
/** @param {string} machine @returns {Sheet | null} */
export const sheet = (machine) => read(SHEET + machine, null);
/** @param {string} machine @returns {Draft | null} */
export function draft(machine) {
  const kept = read(DRAFT + machine, /** @type {Draft | null} */ (null));
  // one of an earlier version has none
  return kept && { ...kept, photos: kept.photos ?? [] };
}

/** @param {string} machine @returns {Sheet | null} */
export const recordSheet = (machine) => read(RECORD_SHEET + machine, null);
/** @param {string} machine @returns {RecordDraft | null} */
export const record = (machine) => read(RECORD + machine, null);

/**
 * What is known of the machine, for when there is no connection.
 * @param {import('./api.js').Machine} machine @param {import('./api.js').Me} me @param {import('./api.js').ProofOfFix[]} proofs
 * @param {string} visit for which it is opened; empty for none @param {string | undefined} job under which that is booked; empty for none, undefined where it could not be learned
 * @returns {Sheet}
 */
export function keepSheet(machine, me, proofs, visit, job) {
  const { [visit]: before, ...others } = sheet(machine.machine)?.jobs ?? {};
  const number = job ?? before;
  const jobs = number === undefined ? others : Object.fromEntries([...Object.entries(others), [visit, number]].slice(-JOBS_KEPT));
  const known = { machine, me, proofs, jobs, at: now(), aheadMs: now() - Date.now() };
  keepKnown(SHEET, known);
  return known;
}

/** The same for its commissioning: the list, and the records that there are. @param {Sheet} sheet */
export const keepRecordSheet = (sheet) => keepKnown(RECORD_SHEET, sheet);

/** @param {string} where @param {Sheet} sheet */
function keepKnown(where, sheet) {
  try {
    // the forgery token is the session's, and of no use without it
    write(where + sheet.machine.machine, { ...sheet, me: { ...sheet.me, forgeryToken: undefined } });
  } catch { /* no room: the page works, with a connection only */ }
}

/** What is being written. @param {string} machine @param {Draft} draft @returns {boolean} whether it is kept */
export const keepDraft = (machine, draft) => keep(DRAFT + machine, draft);

/** @param {string} machine @param {RecordDraft} draft @returns {boolean} whether it is kept */
export const keepRecord = (machine, draft) => keep(RECORD + machine, draft);

/** @param {string} key @param {unknown} value */
function keep(key, value) {
  try {
    write(key, value);
    return true;
  } catch {
    return false;
  }
}

/** @param {Waiting} report */
const draftOf = (report) => (report.kind ? RECORD : DRAFT) + report.machine;

/** The page on which it was written. @param {{kind?: 'commissioning', machine: string}} report */
export const pageOf = (report) => `/${report.kind ?? 'work-report'}/${report.machine}`;

/** It is finished. Throws where the phone has no room. @param {Waiting} report */
export function finish(report) {
  write(WAITING, [...waiting().filter((w) => w.id !== report.id), report]);
  localStorage.removeItem(draftOf(report));
  told();
}

/** Whether something else is being written on its page, of which more is there than the form begins with. @param {Waiting} report */
export function occupied(report) {
  if (report.kind) {
    const kept = record(report.machine);
    return kept !== null && kept.id !== report.id && Boolean(kept.note || kept.job || Object.values(kept.answers).some((a) => a.result));
  }
  const kept = draft(report.machine);
  return kept !== null && kept.id !== report.id && Boolean(kept.done.length || kept.photos.length || kept.note || (kept.job && kept.job !== kept.jobKnown) || kept.foundText || kept.charge);
}

/** One that was not taken is opened again, unless it would take another's place. @param {Waiting} report @returns {boolean} whether it is */
export function reopen(report) {
  if (occupied(report)) return false;
  write(draftOf(report), report.draft);
  drop(report.id);
  return true;
}

/** @param {string} id */
export function drop(id) {
  write(WAITING, waiting().filter((w) => w.id !== id));
  told();
}

/** With its photos. @param {Waiting} report */
export function throwAway(report) {
  drop(report.id);
  forgetPhotos(photosOf(report));
}

/** @param {string} id */
export function dropPhoto(id) {
  write(PHOTOS, waitingPhotos().filter((p) => p.id !== id));
  forgetPhotos([id]);
  told();
}

/** One that was not taken. @param {string} id */
export function retryPhoto(id) {
  write(PHOTOS, waitingPhotos().map((p) => (p.id === id ? { ...p, problem: undefined, lost: undefined } : p)));
  told();
  deliver();
}

/** Pictures that nothing names any more. */
export function tidyPhotos() {
  /** @param {string} key @returns {string[]} */
  const photos = (key) => /** @type {Draft | null} */ (read(key, null))?.photos ?? [];
  const drafts = Object.keys(localStorage).filter((key) => key.startsWith(DRAFT)).flatMap(photos);
  return forgetStrays(new Set([...drafts, ...waiting().flatMap(photosOf), ...waitingPhotos().map((p) => p.id)]));
}

/** Who signs out leaves no machine's data behind; what is written stays until it is sent. */
export function forgetSheets() {
  if ('caches' in window) caches.delete(KEPT_VISITS).catch(() => {});
  Object.keys(localStorage).filter((key) => key.startsWith(SHEET)).forEach((key) => localStorage.removeItem(key));
}

export const gas = ['refrigerant-recovered', 'refrigerant-added'];

/** R290 from r-290, R 290. @param {string} text */
export const designation = (text) => text.trim().replace(/[\s-]/g, '').replace(/^r/, 'R');

/** @param {Done} d */
function done(d) {
  const detail = gas.includes(d.what) ? designation(d.detail) : d.detail.trim();
  return { what: d.what, ...(detail && { detail }), ...(d.grams && { grams: Number(d.grams) }) };
}

/** @param {WaitingRecord} w */
const recordBody = ({ time, draft, items }) => ({ ...draft, time, answers: items.map((item) => ({ item, ...draft.answers[item] })) });

/** @param {WaitingWork} w */
function body({ time, draft }) {
  const given = Object.fromEntries(Object.entries(draft).filter(([, value]) => value !== ''));
  return {
    ...given,
    time,
    done: draft.done.map(done),
    photos: undefined,
    jobKnown: undefined,
  };
}

/** @type {Promise<void> | null} */
let delivering = null;

/** Sends what waits, of whoever is signed in; of several tabs, one at a time. Never throws. */
export const deliver = () => (delivering ??= alone().finally(() => { delivering = null; }));

/** Browsers have locks on HTTPS and on this computer alone. */
const alone = async () => (navigator.locks ? navigator.locks.request('rimecast-deliver', run) : run());

/** Whether the others are tried, too: not where none could be sent either. @param {unknown} e */
function unlessOver(e) {
  if (e instanceof Refused && ([401, 429].includes(e.status) || (e.status === 0 && !e.problem.late))) throw e;
}

async function run() {
  if (![...waiting(), ...waitingPhotos()].some((w) => !w.problem)) return;
  try {
    const me = await api.session();
    const tried = new Set();
    const next = (/** @type {Finished | WaitingPhoto} */ w) => w.account === me.account.id && !w.problem && !tried.has(w.id);
    for (;;) {
      // looked for anew each time: a report that came meanwhile goes before the next photo
      const report = waiting().find(next);
      const photo = report ? undefined : waitingPhotos().find(next);
      if (!report && !photo) break;
      tried.add((report ?? photo)?.id);
      if (report) await send(report).catch(unlessOver);
      if (photo) await sendPhoto(photo).catch((e) => { putLast(photo.id); unlessOver(e); });
    }
  } catch { /* no connection, or nobody signed in: it stays */ }
  told();
}

/** @param {Waiting} report */
async function send(report) {
  const waits = () => waiting().some((w) => w.id === report.id);
  if (!waits()) return;
  try {
    await (report.kind ? api.commission(report.machine, recordBody(report)) : api.sendWork(report.machine, body(report)));
  } catch (e) {
    if (!(e instanceof Refused) || !FOR_GOOD.includes(e.status)) throw e;
    write(WAITING, waiting().map((w) => (w.id === report.id ? { ...w, problem: e.message } : w)));
    return;
  }
  // another tab has seen to it, or it was thrown away
  if (!waits()) return;
  const done = { id: report.id, ...(report.kind && { kind: report.kind }), machine: report.machine, time: report.time, sentAt: new Date(now()).toISOString() };
  const { machine, account, accountName, time } = report;
  const photos = photosOf(report).map((id) => ({ id, report: report.id, machine, account, accountName, time }));
  if (photos.length) write(PHOTOS, [...waitingPhotos().filter((p) => p.report !== report.id), ...photos]);
  write(SENT, [done, ...sent().filter((s) => s.id !== report.id)].slice(0, SENT_KEPT));
  drop(report.id);
}

/** Its report is there by now. @param {WaitingPhoto} photo */
async function sendPhoto(photo) {
  try {
    const jpeg = await keptPhoto(photo.id);
    if (!waitingPhotos().some((p) => p.id === photo.id)) return;
    if (!jpeg) return markPhoto(photo.id, t.work.photoLost, true);
    await api.sendPhoto(photo.report, photo.id, jpeg);
  } catch (e) {
    if (!(e instanceof Refused) || !PHOTO_FOR_GOOD.includes(e.status)) throw e;
    return markPhoto(photo.id, e.message);
  }
  dropPhoto(photo.id);
}

/** Those that went wrong are tried after all others. @param {string} id */
const putLast = (id) => write(PHOTOS, waitingPhotos().sort((a, b) => Number(a.id === id) - Number(b.id === id)));

/** The others go on. @param {string} id @param {string} problem @param {boolean} [lost] */
const markPhoto = (id, problem, lost) => write(PHOTOS, waitingPhotos().map((p) => (p.id === id ? { ...p, problem, lost } : p)));
