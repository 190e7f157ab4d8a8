// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api, Refused } from './api.js';
import { ask } from './ask.js';
import { now } from './clock.js';
import { when } from './format.js';
import { can, failure } from './frame.js';
import { shownOnce } from './people-parts.js';
import { showMore } from './show-more.js';
import { t } from './texts.js';

/** @typedef {import('./api.js').GatewayKey} GatewayKey */
/** @typedef {import('./api.js').System['gateways'][0]} Gateway */

/** By gateway, the newest first, those that have ended, too. @type {GatewayKey[] | null} */
let keys = null;
let failed = '';
/** An account of some sites only has no say in them. */
let refused = false;
/** The key that was just made: its secret is shown this once. @type {GatewayKey | null} */
let made = null;
let redraw = () => {};
const shown = showMore(() => redraw());

/** @param {() => void} draw */
export async function loadKeys(draw) {
  redraw = draw;
  try {
    keys = await api.gatewayKeys();
    failed = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
    refused = e instanceof Refused && e.status === 403;
  }
  draw();
}

/** @param {GatewayKey} key */
const inForce = (key) => !key.endedAt && !(key.until && Date.parse(key.until) <= now());

/** @param {GatewayKey | null} key what came of it, if that is to be told */
function changed(key) {
  made = key;
  loadKeys(redraw);
}

/** @param {Gateway[]} gateways */
function add(gateways) {
  const words = t.system.keys;
  let kind = 'secret';
  ask({ title: words.add, intro: words.addIntro, send: words.addSend }, nothing, (/** @type {() => void} */ draw) => {
    const choose = (/** @type {string} */ next) => () => { kind = next; draw(); };
    return html`
    <label>${words.gateway}<input name="gateway" list="gateway-names" required maxlength="63" pattern="[a-z0-9][a-z0-9._\\-]*" autocomplete="off" spellcheck="false"></label>
    <datalist id="gateway-names">${gateways.map((g) => html`<option value=${g.gateway}></option>`)}</datalist>
    <fieldset class="sites"><legend>${words.kind}</legend>
      <label class="check"><input type="radio" name="kind" value="secret" ?checked=${kind === 'secret'} @change=${choose('secret')}> ${words.bySecret}</label>
      <label class="check"><input type="radio" name="kind" value="certificate" ?checked=${kind === 'certificate'} @change=${choose('certificate')}> ${words.byCertificate}</label></fieldset>
    ${kind === 'certificate' ? pem() : nothing}`;
  }, (data) => api.addGatewayKey(data.gateway, kind === 'certificate' ? { certificate: data.certificate } : {}), changed);
}

const grace = () => {
  const words = t.system.keys;
  return html`<label>${words.grace}<select name="grace">${words.graces.map(([hours, name]) => html`<option value=${hours} ?selected=${hours === 24}>${name}</option>`)}</select></label>`;
};

const pem = () => html`<label>${t.system.keys.pem}<textarea name="certificate" rows="6" maxlength="20000" required spellcheck="false" placeholder=${t.system.keys.pemBegins}></textarea></label>`;

/** @param {string} gateway */
function rotate(gateway) {
  const words = t.system.keys;
  ask({ title: words.rotate, intro: words.rotateIntro, send: words.rotateSend }, html`<b>${gateway}</b>`, grace(),
    (data) => api.rotateGatewayKey(gateway, { graceHours: Number(data.grace) }), changed);
}

/** @param {string} gateway */
function rotateCertificate(gateway) {
  const words = t.system.keys;
  ask({ title: words.next, intro: words.nextIntro, send: words.nextSend }, html`<b>${gateway}</b>`, html`${pem()}${grace()}`,
    (data) => api.rotateGatewayKey(gateway, { graceHours: Number(data.grace), certificate: data.certificate }), changed);
}

/** @param {GatewayKey} key */
function revokeOne(key) {
  const words = t.system.keys;
  ask({ title: words.revokeOne, intro: words.revokeOneIntro, send: words.revokeOneSend },
    html`<b>${key.gateway}</b>: ${key.kind === 'secret' ? words.secret : words.certificate} <code>${key.fingerprint}</code>`, nothing,
    () => api.revokeGatewayKeys(key.gateway, { fingerprint: key.fingerprint }), () => changed(null));
}

/** @param {string} gateway */
function revoke(gateway) {
  const words = t.system.keys;
  ask({ title: words.revoke, intro: words.revokeIntro, send: words.revokeSend }, html`<b>${gateway}</b>`, nothing,
    () => api.revokeGatewayKeys(gateway, {}), () => changed(null));
}

/** @param {GatewayKey} key @param {boolean} [apart] whether it can be taken back by itself */
const line = (key, apart) => {
  const words = t.system.keys;
  return html`<li>${key.kind === 'secret' ? words.secret : words.certificate} <code>${key.fingerprint}…</code>
    <span class="hint">${words.since} ${when(key.addedAt)}, ${words.by} ${key.addedBy}${key.endedAt ? html`; ${words.ended} ${when(key.endedAt)}, ${words.by} ${key.endedBy}`
      : key.until ? html`; ${inForce(key) ? words.until : words.ended} ${when(key.until)}` : nothing}</span>
    ${apart ? html`<button type="button" aria-label="${words.revokeOne}: ${key.gateway} ${key.fingerprint}" @click=${() => revokeOne(key)}>${words.revokeOne}</button>` : nothing}</li>`;
};

/** @param {string} gateway @param {GatewayKey[]} all its own */
function item(gateway, all) {
  const words = t.system.keys;
  const current = all.filter(inForce);
  const old = all.filter((key) => !inForce(key));
  return html`<li class="person" data-keys=${gateway}><div><p><b>${gateway}</b>${current.length ? nothing : html` <b class="warmly">${words.lockedOut}</b>`}</p>
      <ul class="history">${current.map((key) => line(key, current.length > 1))}</ul>
      ${old.length ? html`<details class="table"><summary>${words.old(old.length)}</summary><ul class="history">${old.map((key) => line(key))}</ul></details>` : nothing}</div>
    <p class="buttons">${current.some((key) => key.kind === 'secret') ? html`<button type="button" aria-label="${words.rotate}: ${gateway}" @click=${() => rotate(gateway)}>${words.rotate}</button>` : nothing}
      ${current.some((key) => key.kind === 'certificate') ? html`<button type="button" aria-label="${words.next}: ${gateway}" @click=${() => rotateCertificate(gateway)}>${words.next}</button>` : nothing}
      ${current.length ? html`<button type="button" aria-label="${words.revoke}: ${gateway}" @click=${() => revoke(gateway)}>${words.revoke}</button>` : nothing}</p></li>`;
}

function byGateway() {
  /** @type {Map<string, GatewayKey[]>} */
  const of = new Map();
  for (const key of keys ?? []) of.set(key.gateway, [...(of.get(key.gateway) ?? []), key]);
  return of;
}

/**
 * What lets gateways in. Whoever may not manage them does not see it.
 * @param {Gateway[]} gateways that were ever heard, or stand in the register @param {() => void} draw
 */
export function gatewayKeys(gateways, draw) {
  if (!can('manage-gateways') || refused) return nothing;
  const words = t.system.keys;
  const of = byGateway();
  const open = gateways.filter((g) => !of.has(g.gateway)).length;
  return html`<section class="panel" aria-labelledby="keys"><h2 id="keys">${words.title}</h2><p class="hint">${words.hint}</p>
    ${failed ? failure(failed, () => loadKeys(draw)) : nothing}
    ${made?.secret ? html`${shownOnce(words.made(made.gateway), made.secret)}` : made ? html`<p class="well" role="status">${words.known(made.gateway)}</p>` : nothing}
    ${keys === null ? html`<p>${failed ? nothing : t.loading}</p>` : html`
      <p>${of.size ? words.count(of.size, open) : words.none}</p>
      <ul class="people">${shown.of('keys', [...of]).map(([gateway, all]) => item(gateway, all))}</ul>${shown.button('keys', of.size)}
      <p class="buttons"><button type="button" @click=${() => add(gateways)}>${words.add}</button></p>`}</section>`;
}
