// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api, Refused } from './api.js';
import { ask } from './ask.js';
import { when } from './format.js';
import { can, failure } from './frame.js';
import { call, change, post } from './http.js';
import { showMore } from './show-more.js';
import { t } from './texts.js';
import { claimTexts as words } from './texts/system-claims.js';

/** @typedef {import('./api.js').UnclaimedMachine} UnclaimedMachine */
/** @typedef {import('./api.js').Site} Site */
/** @typedef {{machine: string, site: string, gateway: string, at: string, by: string, row: Record<string, string>}} Claim */

/** By machine. @type {Claim[] | null} */
let claims = null;
/** @type {string[]} */
let groups = [];
/** @type {Site[]} */
let sites = [];
/** @type {UnclaimedMachine[] | null} */
let unclaimed = null;
let failed = '';
/** Whether the machines themselves could not be loaded, the last time. */
let lost = false;
/** An account of some sites only has no say in them. */
let refused = false;
let told = '';
let copied = '';
let redraw = () => {};
const shown = showMore(() => redraw());

const may = () => can('claim-machines') && !refused;

/** @param {() => void} draw */
export async function loadClaims(draw) {
  redraw = draw;
  let heard = false;
  try {
    unclaimed = await api.unclaimed();
    heard = true;
    if (may()) {
      const [known, all] = await Promise.all([call('claims'), api.sites()]);
      claims = known.claims;
      groups = known.modelGroups;
      sites = all;
    }
    failed = '';
  } catch (e) {
    // who sees some sites only may look, and not claim
    refused = e instanceof Refused && e.status === 403 && unclaimed !== null;
    failed = refused ? '' : /** @type {Error} */ (e).message;
  }
  lost = !heard;
  draw();
}

/** @param {string} text */
async function copy(text) {
  try {
    await navigator.clipboard.writeText(text);
    copied = text;
  } catch { copied = ''; }
  redraw();
}

/** @param {string} cell */
const quoted = (cell) => (/[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);

/** A header and a line, as machines.csv has them. @param {Record<string, string>} row */
const csv = (row) => `${Object.keys(row).join(',')}\n${Object.values(row).map(quoted).join(',')}\n`;

/** @param {string} label @param {string} name @param {[string, string][]} options */
const choice = (label, name, options) => html`<label>${label}<select name=${name}>${options.map(([value, text]) => html`<option value=${value}>${text}</option>`)}</select></label>`;

/** @param {string} label @param {string} name @param {string} [type] */
const field = (label, name, type) => html`<label>${label}<input name=${name} type=${type ?? 'text'} maxlength="200" autocomplete="off" spellcheck="false"
  step=${type === 'number' ? 'any' : nothing} min=${type === 'number' ? '0' : nothing}></label>`;

/** @param {UnclaimedMachine} m @param {boolean} isNew @param {(site: string) => void} choose */
function siteOf(m, isNew, choose) {
  const f = words.fields;
  if (m.site) return html`<p>${f.siteIs(m.site, m.gateway)}</p>`;
  return html`<label>${f.site}<select name="site" required @change=${(/** @type {Event} */ e) => choose(/** @type {HTMLSelectElement} */ (e.target).value)}>
      <option value="">${f.choose}</option>${sites.map((s) => html`<option value=${s.site}>${s.name === s.site ? s.site : `${s.name} (${s.site})`}</option>`)}<option value="+">${f.newSite}</option></select></label>
    ${isNew ? html`<label>${f.newSiteName}<input name="newSite" required maxlength="63" pattern="[a-z0-9][a-z0-9._\\-]*" autocomplete="off" spellcheck="false"></label><p class="hint">${f.newSiteHint}</p>` : nothing}`;
}

/** @param {UnclaimedMachine} m */
function claim(m) {
  const f = words.fields;
  let isNew = false;
  ask(words.ask, html`<b>${m.machine}</b> ${words.behind} ${m.gateway}`, (/** @type {() => void} */ draw) => html`
    ${siteOf(m, isNew, (site) => { isNew = site === '+'; draw(); })}
    <label>${f.modelGroup}<input name="model_group" list="model-groups" maxlength="63" autocomplete="off" spellcheck="false"></label>
    <datalist id="model-groups">${groups.map((group) => html`<option value=${group}></option>`)}</datalist>
    <details class="fold"><summary>${f.more}</summary><div class="ack">
      ${choice(f.kind, 'kind', f.kinds)}${field(f.rated, 'rated_kg_per_day', 'number')}${field(f.bin, 'bin_kg', 'number')}
      ${choice(f.cooling, 'condenser_cooling', f.coolings)}${choice(f.drain, 'drain_kind', f.drains)}${field(f.refrigerant, 'refrigerant')}
      ${field(f.room, 'room')}${field(f.serial, 'serial')}${field(f.installed, 'installed', 'date')}${field(f.warranty, 'warranty_until', 'date')}</div></details>`,
  (data) => sendClaim(m, data), (/** @type {Claim} */ made) => { told = words.done(made.machine, made.site); loadClaims(redraw); });
}

/** Somebody else may have been faster: the lists then show it. @param {UnclaimedMachine} m @param {Record<string, string>} data */
async function sendClaim(m, data) {
  const { newSite, ...row } = data;
  const site = m.site ?? (row.site === '+' ? newSite : row.site);
  try {
    return await change('claims', post({ row: { ...row, machine: m.machine, gateway: m.gateway, site }, newSite: newSite !== undefined }));
  } catch (e) {
    if (e instanceof Refused && e.status === 409) loadClaims(redraw);
    // what is wrong is said above the fields, and there are many
    document.querySelector('dialog')?.scrollTo(0, 0);
    throw e;
  }
}

/** @param {Claim} c */
const release = (c) => ask({ title: words.claims.release, intro: words.claims.releaseIntro, send: words.claims.releaseSend }, html`<b>${c.machine}</b> ${words.claims.onSite} ${c.site}`, nothing,
  () => change(`claims/${encodeURIComponent(c.machine)}`, { method: 'DELETE' }), () => { told = words.released(c.machine); loadClaims(redraw); });

/** @param {UnclaimedMachine} m @param {UnclaimedMachine[]} all */
function waits(m, all) {
  const others = all.filter((x) => x.machine === m.machine && x.gateway !== m.gateway).map((x) => x.gateway);
  return html`<li class="person" data-unclaimed=${m.machine} data-gateway=${m.gateway}><div><p><b>${m.machine}</b> ${words.behind} ${m.gateway}${m.site ? html`, ${words.site} ${m.site}` : nothing}</p>
    <p class="hint">${words.waits(m.readings)} ${when(m.firstAt)} – ${when(m.lastAt)}</p>
    ${m.registeredBehind ? html`<p class="warmly">${words.elsewhere(m.registeredBehind)}</p>` : others.length ? html`<p class="warmly">${words.several(others.join(', '))}</p>` : nothing}
    ${m.registeredBehind || may() ? nothing : html`<p><code>${m.line}</code> ${m.site ? nothing : html`<span class="hint">${words.nameSite}</span>`}</p>`}</div>
    ${m.registeredBehind ? nothing : html`<p class="buttons">${may() ? html`<button type="button" aria-label="${words.claim}: ${m.machine}, ${m.gateway}" @click=${() => claim(m)}>${words.claim}</button>`
      : html`<button type="button" aria-label="${words.copy}: ${m.machine}" @click=${() => copy(m.line)}>${copied === m.line ? words.copied : words.copy}</button>`}</p>`}</li>`;
}

/** @param {Claim[]} all */
function claimed(all) {
  const c = words.claims;
  return html`<h3>${c.title}</h3><p class="hint">${c.hint}</p>
    <ul class="people">${shown.of('claims', all).map((one) => html`<li class="person" data-claimed=${one.machine}><div><p><b>${one.machine}</b> ${words.behind} ${one.gateway}, ${words.site} ${one.site}</p>
      <p class="hint">${c.by} ${one.by}, ${when(one.at)}</p></div>
      <p class="buttons"><button type="button" aria-label="${c.copy}: ${one.machine}" @click=${() => copy(csv(one.row))}>${copied === csv(one.row) ? words.copied : c.copy}</button>
        <button type="button" aria-label="${c.release}: ${one.machine}" @click=${() => release(one)}>${c.release}</button></p></li>`)}</ul>${shown.button('claims', all.length)}`;
}

/** How many of them wait. @returns {import('./system-wants.js').Heard<number>} */
export const machinesThatWait = () => ({ is: unclaimed && unclaimed.length, failed: lost });

/** Machines that wait for a row in the register, and those that were given one here. */
export function claimsPanel() {
  const all = unclaimed ?? [];
  return html`<section class="panel" aria-labelledby="unclaimed"><h2 id="unclaimed">${words.title}</h2>
    ${failed ? failure(failed, () => loadClaims(redraw)) : nothing}
    ${told ? html`<p class="well" role="status">${told}</p>` : nothing}
    ${unclaimed === null ? html`<p>${failed ? nothing : t.loading}</p>` : all.length === 0 ? html`<p class="well">${words.none}</p>` : html`
      <p class="hint">${may() ? words.hint : words.hintOfOthers}</p>
      <ul class="people">${shown.of('unclaimed', all).map((m) => waits(m, all))}</ul>${shown.button('unclaimed', all.length)}`}
    ${claims?.length ? claimed(claims) : nothing}</section>`;
}
