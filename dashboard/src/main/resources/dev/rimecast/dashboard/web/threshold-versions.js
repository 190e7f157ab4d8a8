// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { when } from './format.js';
import { thresholdTexts as words } from './texts/thresholds.js';
import { changeList } from './threshold-differences.js';

/** @typedef {import('./thresholds-api.js').Sheet} Sheet */
/** @typedef {import('./thresholds-api.js').Version} Version */

/** @param {Sheet} s @param {Version} v @param {boolean} mayChange @param {(to: number) => void} rollBack */
const item = (s, v, mayChange, rollBack) => html`
  <li class="person" data-version=${v.number}><div><b>${words.version(v.number)}</b> ${v.name}
      ${v.number === s.version.number ? html` <span class="tag">${words.tagNow}</span>` : nothing}
      ${v.restores === undefined ? nothing : html` <span class="tag">${words.restores(v.restores)}</span>`}
      ${v.trial === undefined ? nothing : html` <span class="tag">${words.fromTrial(v.trial)}</span>`}
      <p>${v.who}: <q>${v.why}</q></p><p class="hint">${when(v.at)}</p>
      ${changeList(v.changes, s.numbers)}</div>
    ${v.number === s.version.number || !mayChange ? nothing : html`<p class="buttons">
      <button type="button" aria-label="${words.rollBack} ${words.version(v.number)}" @click=${() => rollBack(v.number)}>${words.rollBack}</button></p>`}</li>`;

/** Who changed them, when and why, and the way back. @param {Sheet} s @param {Version[]} versions @param {boolean} mayChange @param {(to: number) => void} rollBack */
export const versionParts = (s, versions, mayChange, rollBack) => html`
  <section id="versions"><h2>${words.versions}</h2>
    <ul class="people">${versions.map((v) => item(s, v, mayChange, rollBack))}</ul>
    <details class="table"><summary>${words.text}</summary><pre class="mail yaml" tabindex="0" aria-label=${words.text}>${s.text}</pre></details></section>`;
