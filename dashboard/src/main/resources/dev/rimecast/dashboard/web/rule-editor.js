// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { diffParts } from './rule-diff.js';
import { tableParts } from './rule-table.js';
import { t } from './texts.js';
import { conditions, word } from './words.js';

/** @typedef {import('./api.js').RuleCheck} RuleCheck */
/** @typedef {import('./api.js').RuleEffect} RuleEffect */
/** @typedef {{text: string, base: number, from: string, check: RuleCheck | null, busy: boolean, failed: string}} Draft */
/** @typedef {{change: (text: string) => void, check: () => void, save: () => void, stop: () => void}} Doing */

const SHOWN = 20;

const area = () => /** @type {HTMLTextAreaElement} */ (document.querySelector('.editor textarea'));

/** Puts the cursor on a line and brings it into view. @param {number} line from 1 */
function toLine(line) {
  const lines = area().value.split('\n');
  const start = lines.slice(0, line - 1).reduce((sum, text) => sum + text.length + 1, 0);
  area().focus();
  area().setSelectionRange(start, start + (lines[line - 1] ?? '').length);
  area().scrollTop = (area().scrollHeight / lines.length) * Math.max(0, line - 5);
}

/** @param {any} e */
function follow(e) {
  const numbers = /** @type {HTMLElement} */ (e.target.previousElementSibling);
  numbers.scrollTop = e.target.scrollTop;
}

/** @param {RuleEffect} effect */
const effectParts = (effect) => html`
  <p><b>${t.rules.effect(effect.changes.length, effect.judged)}</b></p>
  ${effect.changes.length ? html`<ul>${effect.changes.slice(0, SHOWN).map((c) => html`
    <li><a href="/alerts/${c.alert}" target="_blank">${c.machine || c.siteName}</a>, ${c.siteName}, ${word(conditions, c.condition)}: ${word(t.priorities, c.from)} ${t.rules.becomes} <b>${word(t.priorities, c.to)}</b>${c.why ? html`. ${c.why}` : nothing}</li>`)}</ul>
    ${effect.changes.length > SHOWN ? html`<p>${t.rules.effectMore(effect.changes.length - SHOWN)}</p>` : nothing}` : nothing}`;

/** @param {Draft} draft */
function checkParts(draft) {
  const check = draft.check;
  if (!check) return html`<p class="hint">${draft.text === draft.from ? t.rules.unchanged : t.rules.checkFirst}</p>`;
  if (check.problems.length) {
    return html`<div class="cautions"><p class="told"><b>${t.rules.wrong(check.problems.length)}</b></p>
      <ul class="checks">${check.problems.map((p) => html`<li>
        ${p.line ? html`<button type="button" class="line" @click=${() => toLine(p.line ?? 1)}>${t.rules.atLine(p.line)}</button> ` : nothing}${p.path ? html`<code>${p.path}</code> ` : nothing}${p.what}</li>`)}</ul></div>`;
  }
  return html`<div class="well"><p><b>${t.rules.fine}</b></p>
    ${check.notes.map((note) => html`<p class="told">${note}</p>`)}
    ${check.effect ? effectParts(check.effect) : nothing}</div>
    ${check.priority ? html`<details class="table"><summary>${t.rules.rules}</summary>${tableParts(check.priority)}</details>` : nothing}`;
}

/**
 * The text with its line numbers, what a check found, and what differs from what is in the book now.
 * @param {string} file @param {Draft} draft @param {Doing} doing
 */
export function editorParts(file, draft, doing) {
  const lines = draft.text.split('\n').length;
  const ready = draft.check !== null && draft.check.problems.length === 0;
  return html`
    <section class="editor"><h2>${t.rules.text}</h2>
      <p class="hint">${t.rules.textHint}</p>
      <div class="numbered"><pre class="numbers" aria-hidden="true">${Array.from({ length: lines }, (_, i) => i + 1).join('\n')}</pre>
        <textarea wrap="off" spellcheck="false" autocomplete="off" autocapitalize="off" aria-label=${t.rules.textOf(file)} .value=${draft.text}
          @scroll=${follow} @input=${(/** @type {any} */ e) => doing.change(e.target.value)}></textarea></div>
      <p class="buttons">
        <button type="button" class=${ready ? nothing : 'primary'} ?disabled=${draft.busy} @click=${doing.check}>${draft.busy ? t.rules.checking : t.rules.check}</button>
        ${ready ? html`<button type="button" class="primary" @click=${doing.save}>${t.rules.save}</button>` : nothing}
        <button type="button" @click=${doing.stop}>${t.rules.stop}</button></p>
      ${draft.failed ? html`<p class="told" role="alert">${draft.failed}</p>` : nothing}
      <div role="status">${checkParts(draft)}</div>
      ${draft.text === draft.from ? nothing : html`<h3>${t.rules.mineAgainst}</h3>${diffParts(draft.from, draft.text)}`}
    </section>`;
}
