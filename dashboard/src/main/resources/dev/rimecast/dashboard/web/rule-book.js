// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api, me, Refused } from './api.js';
import { ask } from './ask.js';
import { when } from './format.js';
import { can, failure, frame, show, title, waiting } from './frame.js';
import { diffParts } from './rule-diff.js';
import { editorParts } from './rule-editor.js';
import { tableParts } from './rule-table.js';
import { stateParts } from './rules.js';
import { t } from './texts.js';

/** @typedef {import('./api.js').RuleBook} RuleBook */
/** @typedef {import('./api.js').RuleVersion} RuleVersion */

const book = decodeURIComponent(location.pathname.split('/')[2] ?? '');
const [name, about] = t.rules.books[/** @type {import('./api.js').BookName} */ (book)] ?? [t.rules.title, ''];
/** What stands in a version's place for the text that comes with the product. */
const STANDARD = 0;

/** @type {RuleBook | null} */
let whole = null;
/** @type {RuleVersion[]} */
let versions = [];
let failed = '';
/** @type {import('./rule-editor.js').Draft | null} */
let draft = null;
/** Whether the account sees every site, whose rules these are. */
let everySite = false;
/** The version that the book is compared with. */
let against = STANDARD;
/** Texts of versions that were looked at. @type {Map<number, string>} */
const texts = new Map();

async function load() {
  try {
    [whole, versions] = await Promise.all([api.ruleBook(book), api.ruleVersions(book)]);
    texts.set(STANDARD, whole.standardText);
    failed = '';
  } catch (e) {
    failed = e instanceof Refused && e.status === 404 ? t.missing.text : /** @type {Error} */ (e).message;
  }
  draw();
}

/** @param {RuleBook} fresh */
function take(fresh) {
  whole = fresh;
  draft = null;
  load();
}

function begin() {
  if (!whole) return;
  draft = { text: whole.text, base: whole.state.version, from: whole.text, check: null, busy: false, failed: '' };
  draw();
  document.querySelector('textarea')?.focus();
}

/** What a draft can do. @param {import('./rule-editor.js').Draft} own */
const doing = (own) => ({
  change: (/** @type {string} */ text) => {
    own.text = text;
    own.check = null;
    draw();
  },
  check: async () => {
    own.busy = true;
    own.failed = '';
    draw();
    const asked = own.text;
    try {
      const found = await api.checkRules(book, asked);
      if (own.text === asked) own.check = found;
    } catch (e) {
      own.failed = /** @type {Error} */ (e).message;
    }
    own.busy = false;
    draw();
  },
  save: () => ask({ title: t.rules.saveTitle(name), intro: t.rules.saveIntro, send: t.rules.saveSend }, html`<b>${name}</b>`,
    html`<label>${t.ask.reason}<textarea name="reason" rows="3" maxlength="2000" required></textarea></label>`,
    ({ reason }) => api.saveRules(book, own.base, { text: own.text, reason }).catch((e) => { load(); throw e; }), take),
  stop: () => {
    draft = null;
    draw();
  },
});

/** Goes on from what somebody else has saved, with what was written here. */
function onTop() {
  if (!draft || !whole) return;
  draft = { ...draft, base: whole.state.version, from: whole.text, check: null };
  draw();
}

/** @param {number} version 0 is the standard */
const rollBack = (version) => whole && ask({ title: t.rules.rollBackTitle(version), intro: t.rules.rollBackIntro, send: t.rules.rollBackSend }, html`<b>${name}</b>`,
  html`<label>${t.ask.reason}<textarea name="reason" rows="3" maxlength="2000" required></textarea></label>`,
  ({ reason }) => api.rollBackRules(book, whole?.state.version ?? 0, { to: version, reason }).catch((e) => { load(); throw e; }), take);

/** @param {number} version */
async function compare(version) {
  against = version;
  draw();
  if (texts.has(version)) return;
  try {
    texts.set(version, (await api.ruleVersion(book, version)).text);
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

/** @param {RuleBook} b */
function differences(b) {
  const before = texts.get(against);
  return html`
    <section id="differences"><h2>${t.rules.differences}</h2>
      <p class="filter"><label>${t.rules.against}<select name="against" @change=${(/** @type {any} */ e) => compare(Number(e.target.value))}>
        <option value=${STANDARD} ?selected=${against === STANDARD}>${t.rules.theStandard}</option>
        ${versions.filter((v) => v.version !== b.state.version).map((v) => html`<option value=${v.version} ?selected=${v.version === against}>${t.rules.version(v.version)}</option>`)}
      </select></label></p>
      ${before === undefined ? html`<p class="hint">${t.loading}</p>` : diffParts(before, b.text)}</section>`;
}

/** @param {RuleBook} b @param {RuleVersion} v */
const versionItem = (b, v) => html`
  <li class="person" data-version=${v.version}><div><b>${t.rules.version(v.version)}</b>${v.version === b.state.version ? html` <span class="tag">${t.rules.now}</span>` : nothing}
      ${v.restores === undefined ? nothing : html` <span class="tag">${t.rules.restores(v.restores)}</span>`}
      <p>${v.savedBy}: <q>${v.reason}</q></p><p class="hint">${when(v.savedAt)}</p></div>
    ${v.version === b.state.version ? nothing : html`<p class="buttons">
      <button type="button" aria-label="${t.rules.differences}: ${t.rules.version(v.version)}" @click=${() => { compare(v.version); document.getElementById('differences')?.scrollIntoView(); }}>${t.rules.differences}</button>
      ${mayChange() ? html`<button type="button" aria-label="${t.rules.rollBack}: ${t.rules.version(v.version)}" @click=${() => rollBack(v.version)}>${t.rules.rollBack}</button>` : nothing}</p>`}</li>`;

const mayChange = () => can('edit-rules') && everySite;

/** @param {RuleBook} b */
const history = (b) => html`
  <section><h2>${t.rules.history}</h2>
    ${versions.length === 0 ? html`<p class="well">${t.rules.noHistory}</p>` : html`<ul class="people">${versions.map((v) => versionItem(b, v))}</ul>`}
    ${mayChange() && versions.length && !versions[0].followsStandard ? html`<p class="buttons"><button type="button" @click=${() => rollBack(STANDARD)}>${t.rules.followStandard}</button></p>` : nothing}</section>`;

/** @param {RuleBook} b */
const problems = (b) => b.state.problems.length === 0 ? nothing : html`
  <div class="cautions" role="alert"><ul class="checks">${b.state.problems.map((p) => html`<li>${p.line ? `${t.rules.atLine(p.line)}: ` : ''}${p.path ? html`<code>${p.path}</code> ` : nothing}${p.what}</li>`)}</ul></div>`;

function draw() {
  if (!whole) return show(waiting(name, failed, load));
  const b = whole;
  const overtaken = draft && draft.base !== b.state.version;
  show(html`
    <article class="one rulebook">
      <div class="head"><p><a href="/rules">${t.rules.back}</a></p><h1>${name}</h1><p class="lead">${about}</p>
        ${stateParts(b.state)}
        <p class="well">${t.rules.takesEffect[b.state.book]}</p>
        ${draft ? nothing : mayChange() ? html`<p class="buttons"><button type="button" class="primary" @click=${begin}>${t.rules.change}</button></p>`
          : html`<p class="hint">${t.rules.cannotChange}</p>`}</div>
      ${failed ? failure(failed, load) : nothing}
      ${problems(b)}
      ${overtaken ? html`<div class="notice" role="alert"><p>${t.rules.meanwhile(b.state.version, b.state.savedBy ?? '')}</p><button type="button" @click=${onTop}>${t.rules.onTop}</button></div>` : nothing}
      ${draft ? editorParts(`${b.state.book}.yaml`, draft, doing(draft)) : html`
        ${b.priority ? tableParts(b.priority) : nothing}
        <section><h2>${t.rules.text}</h2>
          <details class="table" ?open=${!b.priority && b.text.length < 8_000}><summary>${t.rules.textOf(`${b.state.book}.yaml`)}</summary>
            <pre class="mail yaml" tabindex="0" aria-label=${t.rules.textOf(`${b.state.book}.yaml`)}>${b.text}</pre></details></section>
        ${differences(b)}
        ${history(b)}`}
    </article>`);
}

/** Whoever writes is told that somebody else has saved. Texts are long, so they come again only where there is a new one. */
async function look() {
  try {
    const now = (await api.rules()).find((b) => b.book === book);
    if (failed || !whole || now?.version !== whole.state.version) load();
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
    draw();
  }
}

setInterval(look, 15_000);
addEventListener('beforeunload', (e) => { if (draft && draft.text !== draft.from) e.preventDefault(); });

frame();
title(name);
draw();
load();
me().then((who) => { everySite = !who.sites; draw(); }, () => {});
addEventListener('me-known', draw);
