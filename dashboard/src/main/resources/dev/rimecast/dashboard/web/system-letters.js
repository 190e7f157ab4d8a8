// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api, MOST_LISTED } from './api.js';
import { when } from './format.js';
import { can, failure } from './frame.js';
import { t } from './texts.js';
import { word } from './words.js';

/** @typedef {import('./api.js').DeadLetter} DeadLetter */

/** @type {DeadLetter[] | null} */
let letters = null;
let failed = '';
/** The letter that is being taken again. */
let under = '';
let refused = { id: '', why: '' };

/** @param {() => void} draw */
export async function loadLetters(draw) {
  try {
    letters = await api.deadLetters();
    failed = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

/** @param {DeadLetter} letter @param {() => void} draw */
async function retake(letter, draw) {
  under = letter.id;
  refused = { id: '', why: '' };
  draw();
  try {
    await api.retake(letter.id);
  } catch (e) {
    refused = { id: letter.id, why: /** @type {Error} */ (e).message };
  }
  under = '';
  await loadLetters(draw);
}

/** @param {DeadLetter} l @param {() => void} draw */
function letter(l, draw) {
  const words = t.system.letters;
  return html`<li data-letter=${l.id}><b>${word(t.stageNames, l.stage)}: ${l.content || words.recordOf(l.topic)}</b>
    <span class="hint">${when(l.at)}${l.key ? html`, ${l.key}` : nothing}</span>
    <p>${l.why}</p>
    ${l.retakes.map((x) => html`<p class=${x.failedAgain === undefined ? 'well' : 'warmly'}>${t.system.takenAgain} ${x.by}, ${when(x.at)}: ${x.failedAgain === undefined ? words.taken : words.failedAgain(x.failedAgain)}</p>`)}
    ${!l.open ? nothing : l.obstacle ? html`<p class="hint">${words.obstacle} ${l.obstacle}</p>` : can('replay-rejects') ? html`<p class="buttons"><button type="button" data-retake=${l.id} ?disabled=${under !== ''} @click=${() => retake(l, draw)}>${under === l.id ? t.system.replaying : t.system.replay}</button></p>` : nothing}
    ${refused.id === l.id ? html`<p class="warmly" role="alert">${refused.why}</p>` : nothing}
    <details class="table"><summary>${words.payload(l.payloadBytes)}</summary>
      <p class="hint">${words.place(l.topic, l.partition, l.offset)} <code>${l.id}</code></p>
      <pre class="mail" tabindex="0">${l.payload}</pre>${l.isText ? nothing : html`<p class="hint">${t.system.hex}</p>`}</details></li>`;
}

/** How many nobody has taken again yet. @returns {import('./system-wants.js').Heard<import('./system-wants.js').Count>} */
export const openLetters = () => ({ is: letters && { n: letters.filter((each) => each.open).length, atLeast: letters.length >= MOST_LISTED }, failed: failed !== '' });

/** Records that a stage could not process. @param {() => void} draw */
export function deadLetters(draw) {
  const words = t.system.letters;
  return html`<section class="panel" aria-labelledby="letters"><h2 id="letters">${words.title}</h2><p class="hint">${words.hint}${can('replay-rejects') ? ` ${words.replayHint}` : ''}</p>
    ${failed ? failure(failed, () => loadLetters(draw)) : nothing}
    ${letters === null ? html`<p>${failed ? nothing : t.loading}</p>` : letters.length === 0 ? html`<p class="well">${words.none}</p>` : html`<ul class="history">${letters.map((l) => letter(l, draw))}</ul>`}
    <p class="buttons"><button type="button" @click=${() => loadLetters(draw)}>${t.system.again}</button></p></section>`;
}
