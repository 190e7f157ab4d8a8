// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api, me } from './api.js';
import { when } from './format.js';
import { failure, frame, show, title, waiting } from './frame.js';
import { formEnd, formState, knownSites, newPasswordFields, pagesOfPeople, sitesText } from './people-parts.js';
import { secondFactor } from './second-factor.js';
import { t } from './texts.js';

/** @type {import('./api.js').Me | null} */
let who = null;
/** @type {import('./api.js').Session[]} */
let sessions = [];
/** @type {import('./api.js').Site[]} */
let sites = [];
let failed = '';

const form = formState(async (data) => {
  await api.changePassword({ current: String(data.get('current')), next: String(data.get('next')) });
  location.assign('/sign-in');
}, draw);

const factor = secondFactor(draw, load);

async function load() {
  try {
    [who, sessions, sites] = await Promise.all([me(), api.sessions(), knownSites()]);
    failed = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

/** @param {string} id */
async function end(id) {
  try {
    await api.endSession(id);
    await load();
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
    draw();
  }
}

/** A browser and what it runs on, from how it names itself; what is unknown stays as it is. @param {string} client */
function clientText(client) {
  const first = (/** @type {[RegExp, string][]} */ known) => known.find(([sign]) => sign.test(client))?.[1];
  const browser = first([[/Firefox\//, 'Firefox'], [/Edg\//, 'Edge'], [/OPR\//, 'Opera'], [/Chrom(e|ium)\//, 'Chrome'], [/Safari\//, 'Safari']]);
  const system = first([[/Android/, 'Android'], [/iPhone|iPad/, 'iOS'], [/Windows/, 'Windows'], [/Mac OS/, 'macOS'], [/Linux|X11/, 'Linux']]);
  return browser && system ? t.account.browserOn(browser, system) : client || t.account.unknownClient;
}

/** @param {import('./api.js').Session} s */
const session = (s) => html`
  <li><span title=${s.client}>${clientText(s.client)}</span> <span class="place">${s.address}</span>
    <p class="hint">${t.people.since} ${when(s.beganAt)}, ${t.account.used} ${when(s.usedAt)}, ${t.people.until} ${when(s.endsAt)}</p>
    ${s.current ? html`<span class="tag">${t.account.thisOne}</span>`
    : html`<button type="button" aria-label=${t.account.endLabel(clientText(s.client))} @click=${() => end(s.id)}>${t.account.end}</button>`}</li>`;

const passwordForm = () => html`
  <form class="ack" @submit=${form.submit}>
    <input type="text" name="username" autocomplete="username" hidden .value=${who?.account.name ?? ''}>
    <label>${t.account.current}<input name="current" type="password" autocomplete="current-password" maxlength="2000" required></label>
    ${newPasswordFields()}
    <p class="hint">${t.account.changeHint}</p>
    ${formEnd(form, t.account.sendChange)}
  </form>`;

function draw() {
  if (!who) return show(waiting(t.account.title, failed, load));
  const { account, permissions } = who;
  show(html`
    <h1>${t.account.title}</h1>
    ${pagesOfPeople('account')}
    ${failed ? failure(failed, load) : nothing}
    <dl class="facts"><div><dt>${t.people.name}</dt><dd>${account.name}</dd></div>
      <div><dt>${t.people.role}</dt><dd>${t.roles[account.role]}</dd></div>
      <div><dt>${t.people.sites}</dt><dd>${sitesText(account.sites, sites)}</dd></div>
      <div class="whole"><dt>${t.account.may}</dt><dd>${permissions.map((p) => t.permissions[/** @type {keyof typeof t.permissions} */ (p)] ?? p).join(', ')}</dd></div></dl>
    <div class="two">
      <section class="panel" aria-labelledby="change"><h2 id="change">${t.account.change}</h2>
        ${account.demo ? html`<p class="hint">${t.account.noPassword}</p>` : passwordForm()}</section>
      <section class="panel" aria-labelledby="sessions"><h2 id="sessions">${t.account.sessions}</h2>
        <ul class="history">${sessions.map(session)}</ul></section>
      ${account.demo ? nothing : factor.part()}
    </div>`);
}

frame();
title(t.account.title);
draw();
load();
factor.load();
addEventListener('me-known', draw);
