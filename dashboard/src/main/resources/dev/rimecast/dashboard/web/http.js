// @ts-check
/** Requests to the server, and what every answer says: problems, who is signed in, the server's time. */
import { hear } from './clock.js';
import { t } from './texts.js';

/** @typedef {import('./api.js').Me} Me */

/** A request that was answered with a problem (RFC 9457), or not at all (status 0). */
export class Refused extends Error {
  /** @param {number} status @param {string} detail @param {Record<string, any>} problem */
  constructor(status, detail, problem) {
    super(detail);
    this.status = status;
    this.problem = problem;
  }
}

const REJOINED = 'rimecast.rejoined';
/** @type {Promise<Me> | null} */
let asked = null;

/** Who is signed in; asked once. @returns {Promise<Me>} */
export const me = () => (asked ??= call('session').catch((e) => { asked = null; throw e; }));

/** Nobody is signed in any more: what this address shows then is the server's to say. Not again and again. */
function rejoin() {
  let last = 0;
  try { last = Number(sessionStorage.getItem(REJOINED)); sessionStorage.setItem(REJOINED, String(Date.now())); } catch { return; }
  if (Date.now() - last > 10_000) location.reload();
}

/** A change, with what shows that a page of ours sends it. @param {string} path @param {RequestInit} options @returns {Promise<any>} */
export async function change(path, options) {
  const send = async () => {
    const headers = { ...options.headers, 'Rimecast-Forgery-Token': (await me()).forgeryToken ?? '' };
    return call(path, { ...options, headers });
  };
  try {
    return await send();
  } catch (e) {
    if (!(e instanceof Refused) || !String(e.problem.type).endsWith(':forgery-token')) throw e;
    // signed in anew from another tab
    asked = null;
    return send();
  }
}

/** @param {string} path @param {RequestInit} [options] @returns {Promise<any>} */
export async function call(path, options) {
  return (await answerOf(path, options)).body;
}

/** The address of the next page, without what all have in common (RFC 8288). @param {Response} response */
const nextOf = (response) => response.headers.get('Link')?.match(/^<\/api\/v1\/([^>]+)>; rel="next"$/)?.[1];

/**
 * A list in one piece, from as many pages as it takes, and whether there is more of it.
 * @template T @param {string} path @param {(rows: T[]) => boolean} enough @returns {Promise<{rows: T[], more: boolean}>}
 */
export async function list(path, enough) {
  /** @type {T[]} */
  const rows = [];
  /** @type {string | undefined} */
  let next = path;
  while (next && !enough(rows)) {
    const { body, response } = await answerOf(next);
    rows.push(...body);
    next = nextOf(response);
  }
  return { rows, more: Boolean(next) };
}

/** @param {string} path @param {RequestInit} [options] @returns {Promise<{body: any, response: Response}>} */
async function answerOf(path, options) {
  /** @type {Response} */
  let response;
  try {
    response = await fetch(`/api/v1/${path}`, options);
  } catch (e) {
    // of the state itself the frame hears at once
    if (path !== 'status') dispatchEvent(new CustomEvent('not-answered'));
    throw new Refused(0, t.unreachable, { late: /** @type {Error} */ (e).name === 'TimeoutError' });
  }
  const time = response.headers.get('Rimecast-Time');
  if (time) hear(time);
  const body = await response.json().catch(() => ({}));
  if (response.status === 401 && options?.credentials !== 'omit' && String(body.type).endsWith(':not-signed-in')) rejoin();
  if (!response.ok) throw new Refused(response.status, body.detail ?? String(response.status), body);
  return { body, response };
}

/** @param {Record<string, unknown>} body */
export const post = (body) => ({ method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) });

/** @param {number} seen @param {Record<string, unknown>} body */
export const onVersion = (seen, body) => ({ method: 'POST', headers: { 'Content-Type': 'application/json', 'If-Match': `"${seen}"` }, body: JSON.stringify(body) });
