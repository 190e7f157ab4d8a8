// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { ask } from './ask.js';
import { dateText } from './format.js';
import { t } from './texts.js';
import { prose } from './units.js';

/** @typedef {import('./api.js').Visit} Visit */
/** @typedef {import('./api.js').VisitNeed} VisitNeed */
/** @typedef {import('./api.js').Engineer} Engineer */
/** @typedef {import('./api.js').MoveEffect} MoveEffect */

const dayName = new Intl.DateTimeFormat(undefined, { weekday: 'long', day: 'numeric', month: 'long', timeZone: 'UTC' });
const dayShort = new Intl.DateTimeFormat(undefined, { weekday: 'short', day: 'numeric', month: 'short', timeZone: 'UTC' });

/** A day, which has no time zone. @param {string} day */
export const dayLong = (day) => dayName.format(new Date(`${day}T00:00:00Z`));
/** @param {string} day */
export const dayBrief = (day) => dayShort.format(new Date(`${day}T00:00:00Z`));
/** @param {string} day @param {number} more */
export const plusDays = (day, more) => new Date(Date.parse(`${day}T00:00:00Z`) + more * 86_400_000).toISOString().slice(0, 10);

/** What is done for one need. @param {VisitNeed} need */
export const needItem = (need) => html`
  <li><b>${need.title}</b>${need.machines.length ? html`, ${need.machines.map((m, i) => html`${i ? ', ' : ''}<a href="/machines/${m}">${m}</a>`)}` : nothing}
    <a class="hint" href=${need.kind === 'case' ? `/cases#${need.ref}` : `/alerts/${need.ref}`}>${need.kind === 'case' ? t.visits.toCase : t.visits.toCare}</a>
    ${need.why ? html`<p>${prose(need.why)}</p>` : nothing}
    <p class="hint">${need.latest ? t.visits.latest(dateText(need.latest)) : t.visits.noDate} ${t.visits.takes(need.minutes)}${need.siteCanCheck ? html` ${t.visits.siteFirst}` : nothing}</p>
    ${need.problem ? html`<p class="warmly">${need.problem}.</p>` : nothing}</li>`;

/** What to take along, each once. @param {VisitNeed[]} needs */
export const partsOf = (needs) => [...new Set(needs.flatMap((n) => n.parts))].filter((part) => !part.startsWith('None'));

/** @param {VisitNeed[]} needs */
export function partsLine(needs) {
  const parts = partsOf(needs);
  return parts.length ? html`<p><span class="label">${t.visits.parts}</span> ${parts.join(', ')}</p>` : nothing;
}

/** @param {MoveEffect | null} effect @param {string} failed */
function effectText(effect, failed) {
  if (failed) return html`<p class="warmly">${failed}</p>`;
  if (!effect) return nothing;
  if (effect.refused) return html`<p class="warmly">${effect.refused}</p>`;
  return html`
    ${effect.ice ? html`<p><b>${t.visits.ice}:</b> ${effect.ice}</p>` : nothing}
    ${effect.missed.length ? html`<p class="warmly">${t.visits.misses}</p><ul>${effect.missed.map((m) => html`<li>${m}</li>`)}</ul>` : html`<p>${t.visits.allMet}</p>`}
    ${effect.warnings.map((w) => html`<p class="warmly">${w}</p>`)}`;
}

/**
 * Asks where a visit goes, and says what that changes before anybody decides.
 * @param {Visit} visit @param {Engineer[]} engineers @param {string} day the one to begin with @param {() => void} changed
 */
export function askToMove(visit, engineers, day, changed) {
  let to = { day, engineer: visit.engineer };
  /** @type {MoveEffect | null} */
  let effect = null;
  let failed = '';
  let asked = 0;

  /** @param {() => void} draw */
  async function look(draw) {
    const number = ++asked;
    if (!to.day) return;
    try {
      const found = await api.visitEffect(visit.id, to);
      if (number !== asked) return;
      [effect, failed] = [found, ''];
    } catch (e) {
      [effect, failed] = [null, /** @type {Error} */ (e).message];
    }
    draw();
  }

  let first = true;
  /** @param {() => void} draw */
  const fields = (draw) => {
    if (first) {
      first = false;
      look(draw);
    }
    const choose = (/** @type {'day' | 'engineer'} */ name) => (/** @type {any} */ e) => { to = { ...to, [name]: e.target.value }; look(draw); };
    return html`
      <label>${t.visits.day}<input type="date" name="day" required .value=${to.day} @change=${choose('day')}></label>
      <label>${t.visits.engineer}<select name="engineer" @change=${choose('engineer')}>${engineers.map((e) => html`<option value=${e.name} ?selected=${e.name === to.engineer}>${e.name} (${e.days.map((d) => t.visits.days[d]).join(', ')})</option>`)}</select></label>
      <div role="status" class="effect">${effectText(effect, failed)}</div>
      <label>${t.ask.note}<textarea name="note" rows="2" maxlength="2000"></textarea></label>`;
  };
  ask(t.visits.move, html`<b>${visit.siteName}</b>, ${dayLong(visit.day)}, ${visit.from}`, fields,
    (data) => api.visitAct(visit.id, 'move', { ...data, sequence: visit.sequence }), changed);
}

const noteField = html`<label>${t.ask.note}<textarea name="note" rows="3" maxlength="2000"></textarea></label>`;
const reasonField = html`<label>${t.ask.reason}<textarea name="reason" rows="3" maxlength="2000" required></textarea></label>`;

/** @param {Visit} visit @param {'accept' | 'release' | 'cancel' | 'done'} action @param {() => void} changed */
export const askToAct = (visit, action, changed) => ask(t.visits[action], html`<b>${visit.siteName}</b>, ${dayLong(visit.day)}, ${visit.engineer}`,
  action === 'cancel' ? reasonField : noteField,
  (data) => api.visitAct(visit.id, action, { ...data, sequence: visit.sequence }), changed);
