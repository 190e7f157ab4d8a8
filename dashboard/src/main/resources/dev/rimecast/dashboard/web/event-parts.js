// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { ask } from './ask.js';
import { now } from './clock.js';
import { when } from './format.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { causes, complaints, conditions, eventKinds, word } from './words.js';

/** @typedef {import('./api.js').HappenedEvent} HappenedEvent */
/** @typedef {import('./api.js').Reported} Reported */

/** What sites can be asked; none until it was looked up. @type {import('./api.js').QuestionText[]} */
let questions = [];
/** A check of the advice by its place in it, and what was answered. */
const ofACheck = /^([a-z-]+)\.(\d+):([a-z-]+)$/;

/** What the detail of an event means, in words. @param {HappenedEvent} e */
function detailText(e) {
  if (e.event === 'call') return word(complaints, e.detail);
  if (e.event === 'visit') return e.detail === 'nothing-found' ? t.events.nothingFound : word(causes, e.detail);
  if (e.event === 'site-answer') return e.text ? prose(e.text) : checkText(e.detail);
  return e.detail;
}

/** @param {string} detail */
function checkText(detail) {
  const check = ofACheck.exec(detail);
  return check ? t.events.ofACheck(Number(check[2]), word({ ...conditions, ...causes }, check[1]), word(t.events.checkAnswers, check[3])) : detail;
}

/** @param {HappenedEvent} e @param {boolean} named whether the machine is named */
export const eventItem = (e, named) => html`
  <li><b>${word(eventKinds, e.event)}</b>${e.detail ? html`: ${detailText(e)}` : nothing}
    <span class="hint">${when(e.time)}${e.machine ? (named ? html`, <a href="/machines/${e.machine}">${e.machine}</a>` : nothing) : `, ${t.events.wholeSite}`}${e.by ? `, ${e.by}` : ''}${e.job ? `, ${t.events.jobNumber(e.job)}` : ''}${e.enteredBy && e.enteredBy !== e.by ? `, ${t.events.enteredBy(e.enteredBy)}` : ''}</span>
    ${e.caseId ? html`<a href="/cases#${e.caseId}">${t.events.toCase}</a>` : nothing}</li>`;

/**
 * @param {HappenedEvent[]} events @param {boolean} named @param {(() => void) | null} more what the button for more does; null where there is no more
 */
export const eventList = (events, named, more) => events.length === 0 ? html`<p class="well">${t.events.none}</p>` : html`
  <ul class="history">${events.map((e) => eventItem(e, named))}</ul>
  ${more ? html`<p class="buttons"><button type="button" @click=${more}>${t.events.more}</button></p>` : nothing}`;

/** What was done with a report, for a line that screen readers speak. @param {Reported} reported */
export const reportedText = (reported) =>
  (reported.added ? t.events.added : t.events.known)(word(eventKinds, reported.event.event));

/** The product's time as an input of local time takes it. */
function localNow() {
  const at = new Date(now());
  return new Date(at.getTime() - at.getTimezoneOffset() * 60_000).toISOString().slice(0, 16);
}

/** Kinds that are about one machine, never about a site as a whole. */
const ofAMachine = new Set(['cleaned', 'air-filter-washed', 'water-filter-changed', 'lamp-changed', 'part-replaced',
  'sensor-replaced', 'controller-replaced', 'moved', 'exchanged', 'harvest-weighed']);

/** @param {string} asked the question that is chosen */
const questionOf = (asked) => questions.find((q) => q.question === asked);

/** What the site says, as an answer that is weighed or in words that are not. @param {string} asked @param {(question: string) => void} choose */
const questionField = (asked, choose) => html`
  <label>${t.events.question}<select name="question" .value=${asked} @change=${(/** @type {any} */ e) => {
    choose(e.target.value);
    // an answer to the question before is none to this one
    const answer = e.target.form.elements.namedItem('answer');
    if (answer) answer.value = '';
  }}><option value="">${t.events.inWords}</option>
    ${/** @type {const} */ (['site', 'operator', 'engineer']).map((who) => html`<optgroup label=${t.events.answeredBy[who]}>${questions.filter((q) => q.who === who).map((q) => html`<option value=${q.question} ?selected=${q.question === asked}>${q.about}</option>`)}</optgroup>`)}</select></label>`;

/** @param {import('./api.js').QuestionText} question */
const answerField = (question) => html`${question.who === 'site' ? html`<p class="hint">${prose(question.ask)}</p>` : nothing}
  <label>${t.events.answer}<select name="answer" required><option value="">${t.events.choose}</option>${question.answers.map((a) => html`<option value=${a.answer}>${a.text}</option>`)}</select></label>`;

/** @param {string} kind */
function detailField(kind) {
  const first = html`<option value="">${t.events.choose}</option>`;
  switch (kind) {
    case 'call': return html`<label>${t.events.complaint}<select name="detail" required>${first}
      ${Object.entries(complaints).map(([code, name]) => html`<option value=${code}>${name}</option>`)}</select></label>`;
    case 'visit': return html`<label>${t.events.cause}<select name="detail"><option value="">${t.events.notYet}</option>
      <option value="nothing-found">${t.events.nothingFound}</option>
      ${Object.entries(causes).map(([code, name]) => html`<option value=${code}>${name}</option>`)}</select></label>`;
    case 'harvest-weighed': return html`<label>${t.weighed.kilograms}<input name="detail" type="number" inputmode="decimal" min="0.01" max="50" step="any" required autocomplete="off"></label>`;
    case 'closed-from': return html`<label>${t.events.opens}<input name="detail" type="date" autocomplete="off"></label>
      <p class="hint">${t.events.opensHint}</p>`;
    case 'part-replaced': return html`<label>${t.events.part}<input name="detail" maxlength="200" required autocomplete="off"></label>`;
    default: return html`<label>${t.events.detail}<input name="detail" maxlength="200" autocomplete="off"></label>`;
  }
}

/** @type {Promise<void> | null} */
let lookingUp = null;

/** Asks for the questions, where they are not there yet: until then there are words. @param {() => void} draw called once they are */
function lookUp(draw) {
  if (questions.length > 0) return;
  lookingUp ??= api.questions().then((all) => { questions = all; }).finally(() => { lookingUp = null; });
  lookingUp.then(draw, () => {});
}

/**
 * Asks what happened, and reports it.
 * @param {{machine?: string, site: string, siteName: string, machines?: string[]}} place where; with `machines`, one of them may be named
 * @param {(reported: Reported) => void} changed
 */
export function askToReport(place, changed) {
  let kind = 'call';
  let asked = '';
  let machine = place.machine ?? '';
  const kinds = () => Object.entries(eventKinds).filter(([code]) => machine || !ofAMachine.has(code));
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
  const at = localNow();
  let again = () => {};

  /** @param {() => void} draw */
  function fields(draw) {
    again = draw;
    const weighs = kind === 'site-answer' && machine !== '' && questions.length > 0;
    const question = weighs ? questionOf(asked) : undefined;
    // words that are written while the questions come stay: it is the same field with and without them
    return html`
      ${place.machines ? html`<label>${t.events.about}<select name="machine" @change=${(/** @type {any} */ e) => { machine = e.target.value; if (!machine && ofAMachine.has(kind)) kind = 'call'; draw(); }}>
        <option value="">${t.events.siteAsAWhole}</option>${place.machines.map((id) => html`<option value=${id}>${id}</option>`)}</select></label>` : nothing}
      <label>${t.events.what}<select name="event" .value=${kind} @change=${(/** @type {any} */ e) => { kind = e.target.value; if (kind === 'site-answer') lookUp(draw); draw(); }}>
        ${kinds().map(([code, name]) => html`<option value=${code} ?selected=${code === kind}>${name}</option>`)}</select></label>
      ${weighs ? questionField(asked, (chosen) => { asked = chosen; draw(); }) : nothing}
      ${question ? answerField(question) : detailField(kind)}
      ${weighs && !question ? html`<p class="hint">${t.events.wordsHint}</p>` : nothing}
      <label>${t.events.time(zone)}<input type="datetime-local" name="time" .defaultValue=${at} required></label>
      <label>${t.events.by}<input name="by" maxlength="200" autocomplete="off"></label>
      <label>${t.events.job}<input name="job" maxlength="200" autocomplete="off"></label>`;
  }

  lookUp(() => again());
  ask(t.ask.report, html`<b>${place.machine ?? place.siteName}</b>`, fields, ({ time, machine: named, question, answer, ...data }) => {
    const body = { ...data, ...(question ? { detail: `${question}:${answer}` } : {}), time: new Date(time).toISOString() };
    const target = place.machine ?? named;
    return target ? api.reportOfMachine(target, body) : api.reportOfSite(place.site, body);
  }, changed);
}
