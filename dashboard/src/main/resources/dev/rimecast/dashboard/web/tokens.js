// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api, me } from './api.js';
import { ask } from './ask.js';
import { when } from './format.js';
import { can, failure, frame, show, title, waiting } from './frame.js';
import { pagesOfPeople, roleField, shownOnce, sitesField, sitesOf, sitesText } from './people-parts.js';
import { t } from './texts.js';

/** @typedef {import('./api.js').Token} Token */

/** @type {Token[] | null} */
let tokens = null;
/** @type {import('./api.js').Site[]} */
let sites = [];
/** @type {import('./api.js').Role[]} */
let roles = [];
/** @type {import('./api.js').Me | null} */
let who = null;
let failed = '';
/** @type {Token | null} */
let made = null;

async function load() {
  try {
    who = await me();
    const mine = who.permissions;
    if (mine.includes('use-tokens')) {
      const [all, known, table] = await Promise.all([api.tokens(), api.sites(), api.roles()]);
      [tokens, sites] = [all, known];
      roles = table.filter((row) => row.role !== 'screen' && row.permissions.every((p) => mine.includes(p))).map((row) => row.role);
    }
    failed = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

const endField = () => html`<label>${t.tokens.ends}<select name="days">${Object.entries(t.tokens.days).map(([days, name]) => html`<option value=${days} ?selected=${days === '90'}>${name}</option>`)}</select></label>`;
/** @param {string} days */
const endOf = (days) => new Date(Date.now() + Number(days) * 86_400_000).toISOString();

function make() {
  ask({ title: t.tokens.make, intro: t.tokens.makeIntro, send: t.tokens.send }, nothing, html`
    <label>${t.tokens.name}<input name="name" maxlength="60" required autocomplete="off"></label>
    ${roleField(roles, 'viewer')}${sitesField(sites, who?.sites ? [] : undefined, !who?.sites)}
    ${endField()}`,
  (data, form) => api.makeToken({
    name: data.name, role: data.role, sites: sitesOf(form), endsAt: endOf(data.days),
  }), (/** @type {Token} */ token) => { made = token; load(); });
}

function makeLink() {
  ask({ title: t.tokens.wall.make, intro: t.tokens.wall.intro, send: t.tokens.wall.send }, nothing, html`
    <label>${t.tokens.wall.name}<input name="name" maxlength="60" required autocomplete="off"></label>
    ${sitesField(sites, who?.sites ? [] : undefined, !who?.sites)}${endField()}`,
  (data, form) => api.makeToken({ name: data.name, role: 'screen', sites: sitesOf(form), endsAt: endOf(data.days) }),
  (/** @type {Token} */ token) => { made = token; load(); });
}

/** What is told once of what was just made. @param {Token} token */
const once = (token) => (token.role === 'screen'
  ? shownOnce(t.tokens.wall.made(token.name), `${location.origin}/wall#${token.secret}`)
  : shownOnce(t.tokens.made(token.name), token.secret ?? ''));

/** @param {Token} token */
async function revoke(token) {
  try {
    await api.revokeToken(token.id);
    if (made?.id === token.id) made = null;
    await load();
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
    draw();
  }
}

/** @param {Token} token */
const item = (token) => html`
  <li class="person"><div><b class="id">${token.name}</b> <span class="tag">${t.roles[token.role]}</span>
      <p class="hint">${sitesText(token.sites, sites)}</p>
      <p class="hint">${t.people.since} ${when(token.madeAt)}, ${t.people.until} ${when(token.endsAt)}, ${token.usedAt ? html`${t.tokens.used} ${when(token.usedAt)}` : t.tokens.never}</p></div>
    <p class="buttons"><button type="button" aria-label=${t.tokens.revokeLabel(token.name)} @click=${() => revoke(token)}>${t.tokens.revoke}</button></p></li>`;

function draw() {
  if (!who) return show(waiting(t.tokens.title, failed, load));
  show(html`
    <h1>${t.tokens.title}</h1>
    ${pagesOfPeople('tokens')}
    ${failed ? failure(failed, load) : nothing}
    ${can('use-tokens') ? html`<p class="lead">${t.tokens.intro}</p>
      ${made?.secret ? once(made) : nothing}
      <p class="buttons"><button type="button" class="primary" @click=${make}>${t.tokens.make}</button><button type="button" @click=${makeLink}>${t.tokens.wall.make}</button></p>
      ${tokens?.length ? html`<ul class="people">${tokens.map(item)}</ul>` : html`<p class="well">${t.tokens.none}</p>`}`
    : html`<p class="well">${t.tokens.notAllowed}</p>`}`);
}

frame();
title(t.tokens.title);
draw();
load();
addEventListener('me-known', draw);
