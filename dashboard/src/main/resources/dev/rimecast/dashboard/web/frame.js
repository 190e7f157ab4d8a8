// @ts-check
import { html, nothing, render } from './lib/lit-html/lit-html.js';
import { api, me } from './api.js';
import { demoText, now } from './clock.js';
import { first as inPage } from './first.js';
import { clockText, dateTimeText } from './format.js';
import { t } from './texts.js';
import { choose, units } from './units.js';
import { word } from './words.js';
import { deliver, forgetSheets, pageOf, waiting as unsent, waitingPhotos } from './work-outbox.js';

const page = document.body.dataset.page;
const top = /** @type {HTMLElement} */ (document.getElementById('top'));
const foot = /** @type {HTMLElement} */ (document.getElementById('foot'));
export const main = /** @type {HTMLElement} */ (document.getElementById('main'));

/** @type {number | null} */
let staleSince = null;
/** @type {import('./api.js').Status | null} */
let status = inPage?.status ?? null;
let statusFailed = false;
/** A page that hears changes, or asks again and again, knows best whether what it shows is old. */
let knowsLine = false;
/** For the other pages: since when the server has not answered. @type {number | null} */
let unansweredSince = null;
let answeredAt = Date.now();
const ASK_MS = 30_000;
const ASK_AGAIN_MS = 5_000;
let asking = 0;
/** @type {import('./api.js').Me | null} */
let who = inPage?.session ?? null;
let told = false;
/** Pages for somebody who has not come in. */
const outside = ['sign-in', 'set-up', 'choose-password'].includes(page ?? '');

/** Whether the account may do this; false until it is known, which `me-known` tells. @param {string} permission */
export const can = (permission) => who?.permissions.includes(permission) ?? false;

/** @param {number | null} since when the last live update was heard, by the browser's clock; null while all is well */
export function line(since) {
  knowsLine = true;
  staleSince = since;
  if (since === null && statusFailed) askStatus();
  draw();
}

let first = true;

/** Draws the page's own part. @param {unknown} content */
export function show(content) {
  if (first) main.textContent = '';
  first = false;
  render(content, main);
}

/** @param {string} title */
export function title(title) {
  document.title = `${title} · ${t.product}`;
}

const glyph = html`<svg class="glyph" viewBox="0 0 32 32" aria-hidden="true"><path d="M4 22 L12 11 L17 17 L28 6"/><path class="ground" d="M4 27 H28"/></svg>`;

/** @param {string} href @param {string} name @param {string[]} pages */
const link = (href, name, pages) =>
  html`<a href=${href} aria-current=${pages.includes(page ?? '') ? 'page' : nothing}>${name}</a>`;

/** @param {'c' | 'f'} unit @param {string} name */
const unitButton = (unit, name) =>
  html`<button type="button" aria-pressed=${units() === unit} @click=${() => choose(unit)}>${name}</button>`;

function strips() {
  const demo = demoText();
  const account = who?.account;
  const stale = knowsLine ? staleSince : unansweredSince;
  return html`
    ${demo || account?.demo ? html`<aside aria-label=${t.people.notice}>
      ${demo ? html`<p class="strip demo">${demo}${demo.endsWith('.') ? '' : ','} <b>${t.productNow(dateTimeText(now()))}</b></p>` : nothing}
      ${account?.demo ? html`<p class="strip borrowed">${t.people.demo(account.name, t.roles[account.role])} <a href="/sign-in">${t.people.another}</a></p>` : nothing}
    </aside>` : nothing}
    ${kept()}
    <div role="status">${stale === null ? nothing : html`<p class="strip stale">${t.stale(clockText(stale))}</p>`}</div>`;
}

/** Reports of work that wait here; the pages on which they are written say so themselves. */
function kept() {
  const told = page === 'work' || page === 'commissioning';
  const list = told ? [] : unsent();
  const photos = told ? [] : waitingPhotos();
  const first = list[0] ?? photos[0];
  return first ? html`<aside aria-label=${t.work.write}><p class="strip">${list.length ? t.work.strip(list.length) : t.work.photosStrip(photos.length)} <a href=${pageOf(first)}>${t.work.look}</a></p></aside>` : nothing;
}

async function leave() {
  try { await api.signOut(); forgetSheets(); } finally { location.assign('/sign-in'); }
}

const account = () => who && html`
  <div class="who-am-i"><a href="/account" aria-current=${['account', 'accounts', 'tokens'].includes(page ?? '') ? 'page' : nothing}>${who.account.name}</a>
    <button type="button" @click=${leave}>${t.people.signOut}</button></div>`;

function draw() {
  if (outside) {
    render(html`<header class="bar"><a class="brand" href="/">${glyph}<span>${t.product}</span></a></header>`, top);
    render(html`<footer class="foot">${footText()}</footer>`, foot);
    return;
  }
  render(html`
    <header class="bar">
      <a class="brand" href="/">${glyph}<span>${t.product}</span></a>
      <nav aria-label=${t.nav.label}>
        ${link('/', t.nav.fleet, ['fleet', 'machine'])}
        ${link('/cases', t.nav.cases, ['cases'])}
        ${link('/visits', t.nav.visits, ['visits', 'visit'])}
        ${link('/alerts', t.nav.alerts, ['alerts', 'alert'])}
        ${link('/events', t.nav.events, ['events'])}
        ${link('/notices', t.nav.notices, ['notices'])}
        ${link('/rules', t.nav.rules, ['rules', 'rule-book'])}
        ${link('/thresholds', t.nav.thresholds, ['thresholds'])}
        ${can('see-system') ? link('/system', t.nav.system, ['system']) : nothing}
      </nav>
      <div class="units" role="group" aria-label=${t.units.label}>${unitButton('c', t.units.c)}${unitButton('f', t.units.f)}</div>
      ${account()}
    </header>
    ${strips()}`, top);
  render(html`<footer class="foot">${footText()}</footer>`, foot);
}

function footText() {
  if (!status) return html`<p>${statusFailed ? t.foot.unknown : nothing}</p>`;
  const bad = status.stages.filter((stage) => stage.state !== 'up');
  return html`
    <p>${t.foot[status.state]} ${bad.map((stage) => html`<span class="stage">${word(t.stageNames, stage.name)} ${word(t.system.states, stage.state)}${stage.detail ? `: ${stage.detail}` : ''}.</span> `)}</p>
    <p>${t.product}, ${t.foot.version(status.version)}</p>`;
}

async function askStatus() {
  clearTimeout(asking);
  try {
    status = await api.status();
    statusFailed = false;
    unansweredSince = null;
    answeredAt = Date.now();
    askWho();
  } catch {
    status = null;
    statusFailed = true;
    unansweredSince = answeredAt;
  }
  clearTimeout(asking);
  asking = setTimeout(askStatus, statusFailed ? ASK_AGAIN_MS : ASK_MS);
  draw();
}

/** Who is signed in, until that is known; `me-known` tells it once. */
export function askWho() {
  if (outside || told) return;
  me().then((known) => {
    if (told) return;
    told = true;
    who = known;
    draw();
    dispatchEvent(new CustomEvent('me-known'));
    deliver();
  }, () => {});
}

/** What a page shows while it has nothing else. @param {string} why @param {() => void} retry */
export const failure = (why, retry) => html`
  <div class="notice" role="alert"><p>${t.failed(why)}</p><button type="button" @click=${retry}>${t.retry}</button></div>`;

/** The page while it has nothing to show yet. @param {string} heading @param {string} failed why, or empty while it loads @param {() => void} retry */
export const waiting = (heading, failed, retry) => html`
  <h1>${heading}</h1>${failed ? failure(failed, retry) : html`<p class="quietly" role="status">${t.loading}</p>`}`;

/** Draws the frame now and whenever something in it changes. */
export function frame() {
  draw();
  askWho();
  askStatus();
  // whoever comes back to the page is told at once
  addEventListener('focus', () => askStatus());
  addEventListener('not-answered', () => { if (!statusFailed) askStatus(); });
  addEventListener('work-kept', draw);
  addEventListener('clock-told', draw);
  addEventListener('units-changed', draw);
}
