// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api, me } from './api.js';
import { ask } from './ask.js';
import { when } from './format.js';
import { failure, frame, show, title, waiting } from './frame.js';
import { pagesOfPeople, roleField, shownOnce, sitesField, sitesOf, sitesText } from './people-parts.js';
import { t } from './texts.js';

/** @typedef {import('./api.js').Account} Account */

/** @type {Account[] | null} */
let accounts = null;
/** @type {import('./api.js').Site[]} */
let sites = [];
/** @type {{role: import('./api.js').Role, permissions: string[]}[]} */
let roles = [];
/** @type {import('./api.js').Me | null} */
let who = null;
let failed = '';
/** @type {{name: string, link: string} | null} */
let made = null;

async function load() {
  try {
    [accounts, sites, roles, who] = await Promise.all([api.accounts(), api.sites(), api.roles(), me()]);
    failed = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

/** @param {{account: Account, link: string}} linked */
function linked({ account, link }) {
  made = { name: account.name, link: location.origin + link };
  load();
}

const names = () => roles.map((row) => row.role).filter((role) => role !== 'screen');
const everyAllowed = () => !who?.sites;

function make() {
  ask({ title: t.accounts.make, intro: t.accounts.makeIntro, send: t.accounts.send }, nothing, html`
    <label>${t.people.name}<input name="name" minlength="2" maxlength="60" required autocomplete="off"></label>
    ${roleField(names(), 'operator')}${sitesField(sites, everyAllowed() ? undefined : [], everyAllowed())}`,
  (data, form) => api.createAccount({ name: data.name, role: data.role, sites: sitesOf(form) }), linked);
}

/** @param {Account} a */
function change(a) {
  ask({ title: t.accounts.changeTitle(a.name), intro: t.accounts.changeIntro, send: t.accounts.save }, nothing, html`
    ${roleField(names(), a.role)}${sitesField(sites, a.sites, everyAllowed())}
    <label class="check"><input type="checkbox" name="disabled" ?checked=${Boolean(a.disabledAt)}> ${t.accounts.disabled}</label>`,
  (data, form) => api.changeAccount(a.id, { role: data.role, sites: sitesOf(form), disabled: form.has('disabled') }), load);
}

/** @param {Account} a */
const removeFactor = (a) => ask({ title: t.factor.removeOf(a.name), intro: t.factor.removeOfIntro, send: t.factor.removeShort }, nothing, nothing,
  () => api.removeFactorOf(a.id), load);

/** @param {Account} a */
async function link(a) {
  try {
    linked(await api.passwordLink(a.id));
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
    draw();
  }
}

/** @param {Account} a */
const item = (a) => html`
  <li class="person" data-account=${a.name}><div><b class="id">${a.name}</b> <span class="tag">${t.roles[a.role]}</span>
      ${a.demo ? html`<span class="tag">${t.accounts.demo}</span>` : nothing}
      <p class="hint">${sitesText(a.sites, sites)}</p>
      ${a.secondFactor ? html`<span class="tag">${t.factor.tag}</span>` : nothing}
      ${a.disabledAt ? html`<p class="hint">${t.accounts.disabledSince} ${when(a.disabledAt)}</p>` : nothing}
      ${a.demo || a.hasPassword ? nothing : html`<p class="hint">${t.accounts.noPassword}</p>`}</div>
    <p class="buttons"><button type="button" aria-label=${t.accounts.changeTitle(a.name)} @click=${() => change(a)}>${t.accounts.change}</button>
      ${a.demo ? nothing : html`<button type="button" aria-label=${t.accounts.linkLabel(a.name)} @click=${() => link(a)}>${t.accounts.link}</button>`}
      ${a.secondFactor && a.id !== who?.account.id ? html`<button type="button" aria-label=${t.factor.removeOf(a.name)} @click=${() => removeFactor(a)}>${t.factor.removeShort}</button>` : nothing}</p></li>`;

const table = () => html`
  <details class="table"><summary>${t.accounts.roles}</summary><dl class="facts">${roles.map((row) => html`
    <div><dt>${t.roles[row.role]}</dt><dd>${row.permissions.map((p) => t.permissions[/** @type {keyof typeof t.permissions} */ (p)] ?? p).join(', ')}</dd></div>`)}</dl></details>`;

function draw() {
  if (!accounts) return show(waiting(t.accounts.title, failed, load));
  show(html`
    <div class="head"><h1>${t.accounts.title}</h1></div>
    ${pagesOfPeople('accounts')}
    <p class="lead">${t.accounts.intro}</p>
    ${failed ? failure(failed, load) : nothing}
    ${made ? shownOnce(t.accounts.linkFor(made.name), made.link) : nothing}
    <p class="buttons"><button type="button" class="primary" @click=${make}>${t.accounts.make}</button></p>
    <ul class="people">${accounts.map(item)}</ul>
    ${table()}`);
}

frame();
title(t.accounts.title);
draw();
load();
addEventListener('me-known', draw);
