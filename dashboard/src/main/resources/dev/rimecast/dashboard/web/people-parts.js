// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { can } from './frame.js';
import { t } from './texts.js';

/** @typedef {import('./api.js').Role} Role */
/** @typedef {import('./api.js').Site} Site */

/** The pages about oneself and others. @param {'account' | 'tokens' | 'accounts'} here */
export function pagesOfPeople(here) {
  const link = (/** @type {string} */ page, /** @type {string} */ name) =>
    html`<a href="/${page}" aria-current=${page === here ? 'page' : nothing}>${name}</a>`;
  return html`<nav class="subpages" aria-label=${t.people.pages}>
    ${link('account', t.account.title)}${can('use-tokens') ? link('tokens', t.tokens.title) : nothing}
    ${can('manage-accounts') ? link('accounts', t.accounts.title) : nothing}</nav>`;
}

/** @param {string[] | undefined} sites @param {Site[]} all */
export function sitesText(sites, all) {
  if (!sites) return t.people.everySite;
  return sites.map((id) => all.find((s) => s.site === id)?.name ?? id).join(', ') || t.people.noSite;
}

/** @param {Role[]} roles @param {Role} chosen */
export const roleField = (roles, chosen) => html`
  <label>${t.people.role}<select name="role">${roles.map((role) => html`<option value=${role} ?selected=${role === chosen}>${t.roles[role]}</option>`)}</select></label>`;

/**
 * @param {Site[]} all sites that can be given
 * @param {string[] | undefined} chosen undefined for every site
 * @param {boolean} everyAllowed whether every site can be given
 */
export const sitesField = (all, chosen, everyAllowed) => html`
  <fieldset class="sites"><legend>${t.people.sites}</legend>
    ${everyAllowed ? html`<label class="check"><input type="radio" name="every" value="true" ?checked=${!chosen}> ${t.accounts.everySite}</label>
      <label class="check"><input type="radio" name="every" value="false" ?checked=${Boolean(chosen)}> ${t.accounts.someSites}</label>` : nothing}
    <div class="choices">${all.map((s) => html`<label class="check"><input type="checkbox" name="sites" value=${s.site} ?checked=${chosen?.includes(s.site)}> ${s.name}</label>`)}</div>
  </fieldset>`;

/** What the field says: null for every site. @param {FormData} form */
export const sitesOf = (form) => (form.get('every') === 'true' ? null : form.getAll('sites').map(String));

/** Two fields for a new password. @param {string} autofocus */
export const newPasswordFields = (autofocus = '') => html`
  <label>${t.people.newPassword}<input name="next" type="password" autocomplete="new-password" minlength="12" maxlength="128" required aria-describedby="rule" ?autofocus=${Boolean(autofocus)}></label>
  <p class="hint" id="rule">${t.people.rule}</p>
  <label>${t.people.again}<input name="again" type="password" autocomplete="new-password" maxlength="128" required></label>`;

/**
 * A form that says what went wrong. Its owner draws on `changed`.
 * @param {(data: FormData) => Promise<unknown>} send @param {() => void} changed
 */
export function formState(send, changed) {
  const state = {
    message: '',
    sending: false,
    /** @param {SubmitEvent} e */
    async submit(e) {
      e.preventDefault();
      if (state.sending) return;
      const form = /** @type {HTMLFormElement} */ (e.target);
      const data = new FormData(form);
      if (data.has('again') && data.get('next') !== data.get('again')) {
        state.message = t.people.differ;
        return changed();
      }
      state.sending = true;
      state.message = '';
      changed();
      try {
        await send(data);
      } catch (e) {
        state.message = /** @type {Error} */ (e).message;
      }
      state.sending = false;
      changed();
    },
  };
  return state;
}

/** @param {{message: string, sending: boolean}} state @param {string} send */
export const formEnd = (state, send) => html`
  <p role="alert" class="told">${state.message}</p>
  <p class="buttons"><button class="primary" ?disabled=${state.sending}>${state.sending ? t.people.working : send}</button></p>`;

/** What is shown once, to be copied. @param {string} text @param {string} secret */
export const shownOnce = (text, secret) => html`
  <div class="notice once" role="status"><p>${text}</p><code>${secret}</code>
    <button type="button" @click=${(/** @type {any} */ e) => copy(e.target, secret)}>${t.people.copy}</button></div>`;

/** @param {HTMLButtonElement} button @param {string} secret */
async function copy(button, secret) {
  await navigator.clipboard.writeText(secret);
  button.textContent = t.people.copied;
}

/** Where to go after coming in: only to a page of ours. With the origin before it, since a path that begins with // is another server's. */
export function goOn() {
  const then = new URLSearchParams(location.search).get('then') ?? '/';
  const there = URL.canParse(then, location.origin) ? new URL(then, location.origin) : null;
  location.assign(there?.origin === location.origin ? there.origin + there.pathname + there.search : '/');
}

/** Sites, where they can be asked for. @returns {Promise<Site[]>} */
export const knownSites = () => api.sites().catch(() => []);
