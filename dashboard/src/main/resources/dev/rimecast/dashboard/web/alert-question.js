// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { answered, heading } from './alert-parts.js';
import { percent } from './format.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { causes, word } from './words.js';

/** @typedef {import('./api.js').Alert} Alert */

/**
 * The question that tells most, with what each answer would change, and what was answered so far.
 * @param {Alert} whole
 * @param {{may: boolean, waiting: string, failed: string, send: (question: string, answer: string) => void}} how
 *   waiting: the question whose answer is being weighed, or empty
 */
export function questionParts(whole, { may, waiting, failed, send }) {
  const question = whole.question;
  if (whole.alert.clearedAt && whole.answers.length === 0) return nothing;
  if (!question && whole.answers.length === 0) return nothing;
  return html`
    <section class="panel question" tabindex="-1" aria-labelledby="question-title">
      <div class="major">${heading(2, t.question.title, 'question-title')}</div>
      ${whole.alert.clearedAt ? nothing : html`<div role="status">${waiting ? html`<p class="hint">${t.question.sending}</p>` : nothing}
        ${failed ? html`<p class="told">${t.ask.failed(failed)}</p>` : nothing}</div>
      ${question && waiting !== question.question ? asked(question, may, send) : waiting ? nothing : html`<p>${t.question.none}</p>`}`}
      ${whole.answers.length ? html`${heading(3, t.question.given)}<ul class="given">${whole.answers.map((a) => html`<li data-answered=${a.question}>${answered(a)}</li>`)}</ul>` : nothing}
    </section>`;
}

/** @param {import('./api.js').Question} question @param {boolean} may @param {(question: string, answer: string) => void} send */
function asked(question, may, send) {
  return html`
    <p class="ask" data-question=${question.question}><span class="tag">${t.question.who[question.who]}</span>
      ${question.opensPanel ? html`<span class="tag">${t.advice.opens}</span>` : nothing} ${prose(question.ask)}</p>
    ${question.cautions.length ? html`<div class="cautions">${heading(3, t.advice.cautions)}<ul>${question.cautions.map((c) => html`<li>${prose(c)}</li>`)}</ul></div>` : nothing}
    <p class="hint">${t.question.why}</p>
    <ul class="answers">${question.answers.map((a) => html`<li>
      ${may ? html`<button type="button" data-answer=${a.answer} @click=${() => send(question.question, a.answer)}>${prose(sentence(a.text))}</button>` : html`<b>${prose(sentence(a.text))}</b>`}
      <span class="change">${a.cause && a.confidence ? html`${t.question.then[a.confidence]} ${word(causes, a.cause)} (${t.about(percent(a.probability ?? 0))})` : t.question.unchanged}</span></li>`)}</ul>`;
}

/** @param {string} text */
const sentence = (text) => text.charAt(0).toUpperCase() + text.slice(1);
