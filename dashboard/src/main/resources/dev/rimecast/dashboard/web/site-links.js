// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { when } from './format.js';
import { can } from './frame.js';
import { t } from './texts.js';

/** @typedef {import('./api.js').SiteLink} SiteLink */

/** @type {SiteLink[]} */
let links = [];
/** Secrets of links that were made on this page, by the link's id: the server does not know them. @type {Map<string, string>} */
const secrets = new Map();
let problem = { of: '', text: '' };
let copied = '';
/** Where mail to a site goes, by site. @type {Map<string, string>} */
let addresses = new Map();
let askedForAddresses = false;

/** @param {() => void} draw */
export async function loadSiteLinks(draw) {
  if (!askedForAddresses) {
    askedForAddresses = true;
    api.sites().then((sites) => { addresses = new Map(sites.flatMap((s) => (s.mail ? [[s.site, s.mail]] : []))); draw(); }, () => { askedForAddresses = false; });
  }
  try { links = await api.siteLinks(); } catch { /* the page says itself when the server is away */ }
  draw();
}

/** @param {string} secret */
const address = (secret) => `${location.origin}/site-check#${secret}`;

/** @param {string} caseId @param {string} machine @param {() => void} draw @param {boolean} [byMail] */
async function ask(caseId, machine, draw, byMail = false) {
  problem = { of: '', text: '' };
  try {
    const made = await api.askSite(caseId, byMail ? { machine, send: 'mail' } : { machine });
    if (made.secret) secrets.set(made.link.id, made.secret);
  } catch (e) {
    problem = { of: caseId + machine, text: /** @type {Error} */ (e).message };
  }
  await loadSiteLinks(draw);
}

/** @param {SiteLink} link @param {() => void} draw */
async function revoke(link, draw) {
  try { await api.revokeSiteLink(link.id); } catch { /* it is over already: the list says so */ }
  await loadSiteLinks(draw);
}

/** @param {SiteLink} link @param {() => void} draw */
async function copy(link, draw) {
  try {
    await navigator.clipboard.writeText(address(secrets.get(link.id) ?? ''));
    copied = link.id;
  } catch { copied = ''; }
  draw();
}

/** @param {SiteLink} link */
function receipt(link) {
  const by = link.receipt?.by;
  if (!link.receipt || !by) return nothing;
  return html`<p class="well" data-receipt=${link.id}>${by.about}: ${by.text} (${when(by.at)}). ${t.siteLink.receipt(link.receipt.cycles, link.receipt.visited)}</p>`;
}

/** @param {SiteLink} link @param {() => void} draw */
function one(link, draw) {
  const secret = secrets.get(link.id);
  return html`<div class="site-link" data-site-link=${link.state}>
    <p><b>${t.siteLink.title}</b> ${t.siteLink.by} ${link.madeBy}, ${when(link.madeAt)}: ${t.siteLink.states[link.state]}${link.revokedBy ? html` ${link.revokedBy}` : nothing}.
      ${link.mailedTo ? html`${t.siteLink.mailed} <b>${link.mailedTo}</b>; <a href="/notices">${t.siteLink.how}</a>.` : nothing}
      ${link.state === 'open' ? html`${t.siteLink.ends} ${when(link.endsAt)}.` : nothing}</p>
    ${secret && link.state === 'open' ? html`<div class="once"><p>${t.siteLink.made}</p><code data-secret>${address(secret)}</code>
      <p class="buttons"><button type="button" @click=${() => copy(link, draw)}>${t.siteLink.copy}</button>
        <span role="status">${copied === link.id ? t.siteLink.copied : nothing}</span></p></div>` : nothing}
    ${link.answers.length ? html`<ul class="given">${link.answers.map((a) => html`<li><b>${a.about}:</b> ${a.text} <span class="hint">${when(a.at)}</span></li>`)}</ul>`
    : link.state === 'open' ? html`<p class="hint">${t.siteLink.noAnswer}</p>` : nothing}
    ${receipt(link)}
    ${link.state === 'open' && can('acknowledge') ? html`<p class="buttons"><button type="button" data-revoke @click=${() => revoke(link, draw)}>${t.siteLink.revoke}</button></p>` : nothing}</div>`;
}

/**
 * Asking the site about a machine of a case, and what it has answered.
 * @param {string} caseId @param {string} site @param {string[]} machines that can be asked about @param {() => void} draw
 * @param {string} [only] links of this machine only
 */
export function siteLinkParts(caseId, site, machines, draw, only) {
  const mail = addresses.get(site);
  const own = links.filter((link) => link.caseId === caseId && (!only || link.machine === only)).slice(0, 5);
  const askable = can('acknowledge') ? machines.filter((machine) => !own.some((link) => link.machine === machine && link.state === 'open')) : [];
  if (own.length + askable.length === 0) return nothing;
  return html`<div class="site-links">
    ${own.map((link) => one(link, draw))}
    ${askable.length ? html`<p class="buttons">${askable.map((machine) => html`<button type="button" data-ask-site=${machine} @click=${() => ask(caseId, machine, draw)}>${t.siteLink.askAbout(machine)}</button>
      ${mail ? html`<button type="button" data-mail-site=${machine} @click=${() => ask(caseId, machine, draw, true)}>${t.siteLink.mailAbout(machine, mail)}</button>` : nothing}`)}</p>` : nothing}
    ${askable.map((machine) => (problem.of === caseId + machine ? html`<p class="told" role="alert">${t.ask.failed(problem.text)}</p>` : nothing))}</div>`;
}
