// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { percent, quantity, when } from './format.js';
import { notHeldHere } from './not-held.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { careConditions, causes, origins, quantities, saysTheSame, word } from './words.js';

/** @typedef {import('./api.js').AlertSummary} AlertSummary */
/** @typedef {import('./api.js').Alert} Alert */

/** @param {import('./api.js').Cause} cause */
const weighed = (cause) => html`${word(causes, cause.cause)} <span class="odds">(${t.about(percent(cause.probability))})</span>`;

/** How sure first, the cause second, the figure last; nothing where the condition says it already. @param {AlertSummary} alert */
export function causeLine(alert) {
  if (isCare(alert)) return nothing;
  const [first, second] = alert.causes;
  if (!first) return html`<span class="cause">${t.causeUnknown}</span>`;
  if (saysTheSame(alert.condition, first.cause)) return nothing;
  const both = alert.confidence === 'cannot-tell' && second;
  return html`<span class="cause"><b>${t.confidence[alert.confidence]}:</b> ${weighed(first)}${both ? html` ${t.or} ${weighed(second)}` : nothing}</span>`;
}

/** The state in plain words, and who. @param {AlertSummary} alert */
export function stateText(alert) {
  if (alert.state === 'acknowledged' && alert.acknowledgedBy) return t.seenBy(alert.acknowledgedBy);
  if (alert.state === 'shelved' && alert.hold?.until) return html`${t.pausedUntil} ${when(alert.hold.until)}`;
  if (alert.state === 'suppressed-by-design' && alert.hold) return t.notCounted(alert.hold.reason);
  return t.states[alert.state];
}

/** The same where another column says who. @param {AlertSummary} alert */
export const stateAlone = (alert) => (alert.state === 'acknowledged' ? t.states.acknowledged : stateText(alert));

/** Planned care: a reminder, never a fault. @param {{condition: string}} alert */
export const isCare = (alert) => careConditions.includes(alert.condition);

/** Whether somebody still has to say that it was seen. @param {AlertSummary} alert */
export const needsEyes = (alert) => alert.state.endsWith('unacknowledged');

/** Whether something keeps it from counting. @param {{state: string}} alert */
export const isHeld = (alert) => alert.state === 'shelved' || alert.state === 'suppressed-by-design' || alert.state === 'out-of-service';

/**
 * A heading whose level depends on the page that it stands on.
 * @param {number} level @param {unknown} content @param {string} [id]
 */
export const heading = (level, content, id) =>
  html`<p class="heading" role="heading" aria-level=${level} id=${id ?? nothing}>${content}</p>`;

/** @param {number} level @param {string} title @param {string[]} items @param {string} [className] */
const items = (level, title, items, className = '') =>
  items.length === 0 ? nothing : html`${heading(level, title)}<ul class=${className}>${items.map((item) => html`<li>${prose(item)}</li>`)}</ul>`;

/** Who said what, and when. @param {import('./api.js').Answered} a */
export const answered = (a) => html`<b>${a.about}:</b> ${prose(a.text)} <span class="hint">(${t.question.by(a.by)}, ${when(a.at)})</span>`;

/** @param {number} level @param {string} title @param {string[]} seen @param {import('./api.js').Answered[]} said @param {string} className */
const evidence = (level, title, seen, said, className) =>
  seen.length + said.length === 0 ? nothing : html`<div>${heading(level, title)}<ul class=${className}>${seen.map((item) => html`<li>${prose(item)}</li>`)}${said.map((a) => html`<li>${answered(a)}</li>`)}</ul></div>`;

/**
 * @param {import('./api.js').Advice} advice @param {string} key unique on the page @param {number} level of its heading
 * @param {string} [about] what tells it from others on the page
 */
export function adviceParts(advice, key, level, about = '') {
  const inner = level + 1;
  return html`
    <section class="advice" aria-labelledby="advice-${key}">
      <div class="major">${heading(level, about ? `${t.advice.title}: ${about}` : t.advice.title, `advice-${key}`)}</div>
      <p class="headline">${prose(advice.headline)}</p>
      ${advice.latestDate ? html`<p class="latest"><b>${t.advice.latest}:</b> ${when(advice.latestDate)}</p>` : nothing}
      ${items(inner, t.advice.site, advice.siteChecks, 'checks')}
      ${advice.cautions.length ? html`<div class="cautions">${items(inner, t.advice.cautions, advice.cautions)}</div>` : nothing}
      ${advice.engineerChecks.length ? html`${heading(inner, t.advice.engineer)}<ol class="checks">${advice.engineerChecks.map((c) => html`
        <li>${prose(c.check)}${c.opensPanel ? html` <span class="tag">${t.advice.opens}</span>` : nothing}
          ${c.expect ? html`<span class="expect">${t.advice.expect} ${prose(c.expect)}</span>` : nothing}</li>`)}</ol>` : nothing}
      <p><b>${t.advice.parts}:</b> ${advice.parts.length ? advice.parts.join(', ') : t.advice.noParts}.
        ${advice.minutes > 0 ? t.advice.minutes(advice.minutes) : nothing}
        ${advice.skills.length ? html`<b>${t.advice.skills}:</b> ${advice.skills.join(', ')}.` : nothing}</p>
      ${items(inner, t.advice.defer, advice.deferTo, 'defer')}
    </section>`;
}

/**
 * @param {Alert} alert @param {string} key unique on the page @param {number} level of its heading
 * @param {string} [about] what tells it from others on the page
 */
export function evidenceParts(alert, key, level, about = '') {
  return html`
    <section class="why" aria-labelledby="why-${key}">
      <div class="major">${heading(level, about ? `${t.alert.causes}: ${about}` : t.alert.causes, `why-${key}`)}</div>
      ${measureLine(alert)}
      ${notHeldHere(alert.notHeld)}
      ${alert.diagnosis.length === 0 ? html`<p>${isCare(alert.alert) ? t.alert.onlyCare : t.causeUnknown}</p>` : nothing}
      ${alert.diagnosis.map((d, i) => html`
        <div class="diagnosis">
          ${heading(level + 1, html`${i === 0 ? html`${t.confidence[alert.alert.confidence]}: ` : nothing}${word(causes, d.cause)} <span class="odds">(${t.about(percent(d.probability))})</span>`)}
          <p class="hint">${word(origins, d.origin)}</p>
          ${d.evidenceFor.length + d.evidenceAgainst.length + d.answersFor.length + d.answersAgainst.length === 0 ? html`<p>${t.alert.noEvidence}</p>` : html`<div class="evidence">
            ${evidence(level + 2, t.alert.for, d.evidenceFor, d.answersFor, 'for')}${evidence(level + 2, t.alert.against, d.evidenceAgainst, d.answersAgainst, 'against')}</div>`}
        </div>`)}
    </section>`;
}

/** Prints what to do, and for which machine, without the page around it. */
export function printAdvice() {
  document.body.classList.add('advice-only');
  addEventListener('afterprint', () => document.body.classList.remove('advice-only'), { once: true });
  print();
}

/** The number behind it, in one line. @param {{measure?: {quantity: string, unit: string, value: number, expected?: number, limit?: number}}} alert */
export function measureLine({ measure }) {
  if (!measure) return nothing;
  const value = (/** @type {number} */ v) => quantity(v, measure.unit);
  return html`<p class="measure"><b>${word(quantities, measure.quantity)}:</b> ${value(measure.value)}${measure.expected !== undefined
    ? html`, ${t.alert.expected} ${value(measure.expected)}` : nothing}${measure.limit !== undefined
    ? html`, ${t.alert.limitIs} ${value(measure.limit)}` : nothing}.</p>`;
}

/** How the site stands for ice, where that is known; what runs short stands out. @param {AlertSummary} alert */
export function iceLine({ ice, iceSays }) {
  if (!ice || iceSays === 'not-known') return nothing;
  return html`<p class="ice ${iceSays === 'short' ? 'short' : ''}"><b>${t.alert.ice}:</b> ${prose(ice)}</p>`;
}

/** @param {AlertSummary} alert */
export function limitLine(alert) {
  const limit = alert.limitExpected;
  if (!limit) return nothing;
  return html`<p class="limit"><b>${t.alert.limit}:</b> ${when(limit.at)}, ${t.alert.between} ${when(limit.early)} ${t.alert.and} ${when(limit.late)} ${t.alert.howSure}.</p>`;
}
