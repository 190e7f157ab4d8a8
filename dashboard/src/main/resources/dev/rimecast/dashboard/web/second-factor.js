// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { ask } from './ask.js';
import { when } from './format.js';
import { formEnd, formState, shownOnce } from './people-parts.js';
import { t } from './texts.js';

/** The field for a code. @param {boolean} alsoRecovery whether a recovery code does as well @param {boolean} focus */
export const codeField = (alsoRecovery, focus = false) => html`
  <label>${t.factor.code}<input name="code" autocomplete="one-time-code" inputmode=${alsoRecovery ? nothing : 'numeric'} maxlength="60" required ?autofocus=${focus}
    aria-describedby="code-hint"></label>
  <p class="hint" id="code-hint">${alsoRecovery ? t.factor.codeOrRecovery : t.factor.codeHint}</p>`;

const passwordField = () => html`
  <label>${t.factor.password}<input name="current" type="password" autocomplete="current-password" maxlength="2000" required></label>`;

/** Dark on light whatever the reader's colours are: cameras do not read it the other way round. @param {{side: number, path: string}} of */
const picture = ({ side, path }) => html`
  <svg class="camera" viewBox="0 0 ${side} ${side}" role="img" aria-label=${t.factor.picture}><rect width=${side} height=${side}/><path d=${path}/></svg>`;

/**
 * The part of one's account about the second factor.
 * @param {() => void} redraw @param {() => void} changed there is one now, or none any more
 */
export function secondFactor(redraw, changed) {
  /** @type {import('./api.js').SecondFactor | null} */
  let stands = null;
  /** @type {import('./api.js').ProposedFactor | null} */
  let proposed = null;
  /** @type {string[]} */
  let codes = [];
  let failed = '';

  async function load() {
    try {
      stands = await api.secondFactor();
      failed = '';
    } catch (e) {
      failed = /** @type {Error} */ (e).message;
    }
    redraw();
  }

  const begin = formState(async (data) => { proposed = await api.proposeFactor({ current: String(data.get('current')) }); }, redraw);
  const confirm = formState(async (data) => {
    codes = (await api.confirmFactor({ code: String(data.get('code')).trim() })).recoveryCodes;
    proposed = null;
    await load();
    changed();
  }, redraw);

  const both = () => html`${passwordField()}${codeField(true)}`;
  const renew = () => ask({ title: t.factor.renew, intro: t.factor.renewIntro, send: t.factor.renewSend }, nothing, both(),
    (data) => api.renewRecoveryCodes({ current: data.current, code: data.code }), (made) => { codes = made.recoveryCodes; load(); });
  const remove = () => ask({ title: t.factor.remove, intro: t.factor.removeIntro, send: t.factor.removeSend }, nothing, both(),
    (data) => api.removeFactor({ current: data.current, code: data.code }), () => { codes = []; load(); changed(); });

  const beginning = () => html`
    <p class="hint">${t.factor.intro}</p>
    <form class="ack" @submit=${begin.submit}>${passwordField()}${formEnd(begin, t.factor.begin)}</form>`;

  const confirming = (/** @type {import('./api.js').ProposedFactor} */ made) => html`
    <ol class="steps"><li>${t.factor.scan}${picture(made.picture)}${t.factor.enter}<br><code class="secret">${made.secret.replace(/(.{4})(?=.)/g, '$1 ')}</code>
      <p><a href=${made.uri}>${t.factor.open}</a></p></li><li>${t.factor.then}</li></ol>
    <form class="ack" @submit=${confirm.submit}>${codeField(false)}${formEnd(confirm, t.factor.confirm)}</form>`;

  const there = (/** @type {import('./api.js').SecondFactor} */ factor) => html`
    <p>${t.factor.since} ${when(/** @type {string} */ (factor.since))}. ${t.factor.left(factor.codesLeft)}</p>
    <p class="buttons"><button type="button" @click=${renew}>${t.factor.renew}</button>
      ${factor.asked ? nothing : html`<button type="button" @click=${remove}>${t.factor.remove}</button>`}</p>`;

  const part = () => html`
    <section class="panel" aria-labelledby="factor"><h2 id="factor">${t.factor.title}</h2>
      <p role="alert" class="told">${failed}</p>
      ${stands?.asked && !stands.since ? html`<p class="notice">${t.factor.asked}</p>` : nothing}
      ${codes.length ? shownOnce(t.factor.codes, codes.join('\n')) : nothing}
      ${!stands ? nothing : stands.since ? there(stands) : proposed ? confirming(proposed) : beginning()}</section>`;

  return { load, part };
}
