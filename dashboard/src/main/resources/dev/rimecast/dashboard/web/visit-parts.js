// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { ask } from './ask.js';
import { now } from './clock.js';
import { dateInProse, when, workTime } from './format.js';
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
const weekday = new Intl.DateTimeFormat(undefined, { weekday: 'short', timeZone: 'UTC' });
const dayOfMonth = new Intl.DateTimeFormat(undefined, { day: 'numeric', month: 'short', timeZone: 'UTC' });

/** The day of the week, and the date; where it is narrow, its month is left out. @param {string} day */
export function dayParts(day) {
  const date = new Date(`${day}T00:00:00Z`);
  return html`<span class="weekday">${weekday.format(date)}</span> <span>${dayOfMonth.formatToParts(date).map((part) => (part.type === 'month' ? html`<span class="month">${part.value}</span>` : part.value))}</span>`;
}

/** Who did what. Behind the day, which is the product's, stands what people have written: that stays as it is. @param {Visit['history'][0]} h */
export const historyLine = (h) => html`<li>${when(h.at)} <b>${h.who}</b> ${h.what}${h.why ? `: ${h.why.replace(/^(to )?(\d{4}-\d{2}-\d{2})(?=, )/, (_, to, day) => (to ?? '') + dateInProse(day))}` : nothing}</li>`;

/** @param {string} day @param {number} more */
export const plusDays = (day, more) => new Date(Date.parse(`${day}T00:00:00Z`) + more * 86_400_000).toISOString().slice(0, 10);

/** Needs that are the same thing of several machines, in the order of the first of each. @param {VisitNeed[]} needs */
export function alike(needs) {
  /** @type {Map<string, VisitNeed[]>} */
  const map = new Map();
  for (const need of needs) {
    const key = `${need.kind} ${need.title}`;
    map.set(key, [...(map.get(key) ?? []), need]);
  }
  return [...map.values()];
}

/** The earliest of some days. @param {(string | undefined)[]} days */
const first = (days) => days.filter((d) => d !== undefined).sort()[0];

/** @param {VisitNeed[]} needs */
const machinesOf = (needs) => needs.flatMap((n) => n.machines).map((m, i) => html`${i ? ', ' : ''}<a href="/machines/${m}">${m}</a>`);

/** Until when, or by how much it comes too late: loud, since ice is at risk. @param {VisitNeed} need */
export const needDate = (need) => (need.problem
  ? html`<p class="warmly">${prose(need.problem)}.</p>`
  : html`<span class="hint">${need.latest ? t.visits.latest(dayBrief(need.latest)) : t.visits.noDate}</span>`);

/** Since when care is due: a reminder, however late it is. @param {VisitNeed[]} needs */
export function careDate(needs) {
  const due = first(needs.map((n) => n.since ?? n.earliest)) ?? '';
  return Date.parse(due) < now() ? t.visits.dueSince(dayBrief(due)) : t.visits.dueFrom(dayBrief(due));
}

/** Care of one kind: one line, whatever it is late. @param {VisitNeed[]} needs */
const careItem = (needs) => html`
  <li class="care-need">${needs[0].title}: ${machinesOf(needs)}
    <span class="hint">${careDate(needs)}, ${t.visits.about(workTime(needs.reduce((sum, n) => sum + n.minutes, 0)))}</span></li>`;

/** What is wrong, for one reason. @param {VisitNeed[]} needs */
const caseItem = (needs) => html`
  <li><b>${needs[0].title}</b>, ${machinesOf(needs)}
    ${needs.map((need) => html`
      ${need.why ? html`<p>${needs.length > 1 ? `${need.machines.join(', ')}: ` : nothing}${prose(need.why)}</p>` : nothing}
      ${needDate(need)} <span class="hint">${t.visits.takes(workTime(need.minutes))}${need.siteCanCheck ? ` ${t.visits.siteFirst}` : ''}</span>
      <a class="hint" href="/cases#${need.ref}">${t.visits.toCase}</a>`)}</li>`;

/** What a visit is for: what is wrong first, then care. @param {VisitNeed[]} needs */
export const needsList = (needs) => html`
  <ul class="needs">${alike(needs.filter((n) => n.kind === 'case')).map(caseItem)}${alike(needs.filter((n) => n.kind === 'care')).map(careItem)}</ul>`;

/** On no visit: the same reason of the same thing is one line. @param {import('./api.js').VisitPlan['waiting']} list */
export function waitingList(list) {
  /** @type {Map<string, typeof list>} */
  const map = new Map();
  for (const each of list) {
    const key = `${each.need.kind} ${each.need.site} ${each.need.title} ${each.words}`;
    map.set(key, [...(map.get(key) ?? []), each]);
  }
  return html`<ul class="history">${[...map.values()].map((some) => html`
    <li><b>${some[0].need.title}</b>, ${some.some((w) => w.need.machines.length) ? machinesOf(some.map((w) => w.need)) : some[0].need.site}:
      <span class=${some[0].reason === 'impossible' && some[0].need.kind === 'case' ? 'warmly' : ''}>${prose(some[0].words)}.</span></li>`)}</ul>`;
}

/** What to take along, each once. @param {VisitNeed[]} needs */
export const partsOf = (needs) => [...new Set(needs.flatMap((n) => n.parts))].filter((part) => !part.startsWith('None'));

/** @typedef {NonNullable<Visit['orders']>[number]} Order */

/** The day that it is in a zone; without one, where the reader is. @param {string} [zone] */
export const todayIn = (zone) => new Intl.DateTimeFormat('en-CA', { timeZone: zone }).format(new Date(now()));

/** As a day of the site. @param {Visit} visit */
const todayAt = (visit) => todayIn(visit.timeZone);

/** The last day on which it can be ordered for this visit; a sheet that was kept by an older version lacks it. @param {Order} order @param {Visit} visit */
const orderBy = (order, visit) => order.orderBy ?? plusDays(visit.day, -order.days);

/** @param {Order[]} orders */
const orderWords = (orders) => orders.map((o) => t.visits.toOrder.part(o.part, o.days)).join(', ');

/** @param {string} by @param {Order[]} orders @param {string} today */
const orderLine = (by, orders, today) => html`
  <p class="orders ${by < today ? 'warmly' : 'mind'}" data-order-by=${by}><b>${by > today ? t.visits.toOrder.by(dayBrief(by)) : by < today ? t.visits.toOrder.passed(dayBrief(by)) : t.visits.toOrder.today}</b>
    ${orderWords(orders)}.${by < today ? ` ${t.visits.toOrder.late}` : nothing}</p>`;

/** @param {Order} order @param {Visit} visit */
function alongWords(order, visit) {
  const [by, today, part] = [orderBy(order, visit), todayAt(visit), orderWords([order])];
  return by < today ? t.visits.toOrder.alongPassed(part) : by === today ? t.visits.toOrder.alongToday(part) : t.visits.toOrder.alongBy(part, dayBrief(by));
}

/** What takes days to come, and until when it can be ordered. Nobody tells when it was, so it is said until the visit is over. @param {Visit} visit */
export function ordersPart(visit) {
  const orders = visit.orders ?? [];
  const needed = orders.filter((o) => o.needed);
  const along = orders.filter((o) => !o.needed);
  const days = [...new Set(needed.map((o) => orderBy(o, visit)))].sort();
  return html`
    ${days.map((by) => orderLine(by, needed.filter((o) => orderBy(o, visit) === by), todayAt(visit)))}
    ${needed.length ? html`<p class="hint">${t.visits.toOrder.counted(dayBrief(first(needed.map((o) => o.since)) ?? visit.day))}</p>` : nothing}
    ${along.length ? html`<p class="hint">${t.visits.toOrder.along(along.map((o) => alongWords(o, visit)).join('; '))}</p>` : nothing}`;
}

/** What somebody asked for who made it by hand. @param {Visit} visit */
export const requestPart = ({ request }) => (request ? html`
  <p class="asked"><span class="label">${t.visits.asked}</span> ${request.reason}${request.machines.length ? html` (${request.machines.map((m, i) => html`${i ? ', ' : ''}<a href="/machines/${m}">${m}</a>`)})` : nothing}${request.job ? html` <span class="hint">${t.visits.jobOf(request.job)}</span>` : nothing}</p>` : nothing);

/** Whoever goes is away that day. @param {Visit} visit */
export const awayPart = (visit) => (visit.engineerAway ? html`<p class="warmly">${t.visits.away(visit.engineer)}</p>` : nothing);

/** @param {VisitNeed[]} needs */
export function partsLine(needs) {
  const parts = partsOf(needs);
  return parts.length ? html`<p><span class="label">${t.visits.parts}</span> ${parts.join(', ')}</p>` : nothing;
}

/** @param {MoveEffect | null} effect @param {string} failed */
function effectText(effect, failed) {
  if (failed) return html`<p class="warmly">${failed}</p>`;
  if (!effect) return nothing;
  if (effect.refused) return html`<p class="warmly">${prose(effect.refused)}</p>`;
  return html`
    ${effect.ice ? html`<p><b>${t.visits.ice}:</b> ${prose(effect.ice)}</p>` : nothing}
    ${effect.missed.length ? html`<p class="warmly">${t.visits.misses}</p><ul>${effect.missed.map((m) => html`<li>${prose(m)}</li>`)}</ul>` : html`<p>${t.visits.allMet}</p>`}
    ${effect.warnings.map((w) => html`<p class="warmly">${prose(w)}</p>`)}`;
}

/**
 * Asks where a visit goes, and says what that changes before anybody decides.
 * @param {Visit} visit @param {Engineer[]} engineers @param {string} day the one to begin with @param {() => void} changed
 */
export function askToMove(visit, engineers, day, changed) {
  /** @type {{day: string, engineer: string, from?: string}} */
  let to = { day, engineer: visit.engineer, ...(day === visit.day && { from: visit.from }) };
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
    const choose = (/** @type {'day' | 'engineer' | 'from'} */ name) => (/** @type {any} */ e) => {
      const { from, ...rest } = { ...to, [name]: e.target.value };
      to = from ? { ...rest, from } : rest;
      look(draw);
    };
    return html`
      <label>${t.visits.day}<input type="date" name="day" required .value=${to.day} @change=${choose('day')}></label>
      <label>${t.visits.from}<input type="time" name="from" .value=${to.from ?? ''} @change=${choose('from')}></label>
      <p class="hint">${to.from || !effect?.from ? t.visits.fromHint : t.visits.beginsAt(effect.from)}</p>
      <label>${t.visits.engineer}<select name="engineer" @change=${choose('engineer')}>${engineers.map((e) => html`<option value=${e.name} ?selected=${e.name === to.engineer}>${e.name} (${e.days.map((d) => t.visits.days[d]).join(', ')})</option>`)}</select></label>
      <div role="status" class="effect">${effectText(effect, failed)}</div>
      <label>${effect?.noteNeeded ? t.visits.noteNeeded : t.ask.note}<textarea name="note" rows="2" maxlength="2000" ?required=${effect?.noteNeeded ?? false}></textarea></label>`;
  };
  ask(t.visits.move, html`<b>${visit.siteName}</b>, ${dayLong(visit.day)}, ${visit.from}`, fields,
    (data) => api.visitAct(visit.id, 'move', { ...data, sequence: visit.sequence }), changed);
}

const noteField = html`<label>${t.ask.note}<textarea name="note" rows="3" maxlength="2000"></textarea></label>`;
const reasonField = html`<label>${t.ask.reason}<textarea name="reason" rows="3" maxlength="2000" required></textarea></label>`;

/** @param {Visit} visit @param {'accept' | 'release' | 'cancel' | 'done'} action @param {() => void} changed */
export const askToAct = (visit, action, changed) => ask(t.visits[action], html`<b>${visit.siteName}</b>, ${dayLong(visit.day)}, ${visit.engineer}`,
  action === 'cancel' ? reasonField : action === 'accept' ? html`${awayPart(visit)}${ordersPart(visit)}${noteField}` : noteField,
  (data) => api.visitAct(visit.id, action, { ...data, sequence: visit.sequence }), changed);
