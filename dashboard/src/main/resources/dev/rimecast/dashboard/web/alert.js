// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { adviceParts, evidenceParts, isHeld, limitLine, needsEyes, printAdvice, stateText } from './alert-parts.js';
import { questionParts } from './alert-question.js';
import { api, Refused } from './api.js';
import { askForNote, askOutOfService, askToAcknowledge, askToAssign, askToEndHold, askToJoin, askToPart, askToReset, askToShelve } from './ask.js';
import { now } from './clock.js';
import { leftText } from './fleet-rows.js';
import { when } from './format.js';
import { can, failure, frame, line, show, title, waiting } from './frame.js';
import { listen } from './live.js';
import { loadMarks, markParts } from './marks.js';
import { loadSiteLinks, siteLinkParts } from './site-links.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { conditions, deeds, word } from './words.js';

/** @typedef {import('./api.js').Alert} Alert */

const id = decodeURIComponent(location.pathname.split('/')[2] ?? '');
/** @type {Alert | null} */
let alert = null;
let failed = '';
/** The question whose answer is on its way through the site's log. */
let waitingFor = '';
let notSent = '';
/** The machine whose marks were asked for. */
let markedOf = '';
/** Whether it is the only alert of its case, so that there is nothing to take it out of. */
let alone = true;

async function load() {
  loadSiteLinks(draw);
  try {
    take(await api.alert(id));
  } catch (e) {
    failed = e instanceof Refused && e.status === 404 ? t.alert.missing : /** @type {Error} */ (e).message;
    draw();
  }
}

/** @param {Alert} fresh */
function take(fresh) {
  alert = fresh;
  failed = '';
  if (fresh.alert.machine && markedOf !== fresh.alert.machine) loadMarks(markedOf = fresh.alert.machine, draw);
  const answered = fresh.answers.some((a) => a.question === waitingFor);
  if (fresh.alert.clearedAt || answered) waitingFor = '';
  if (fresh.alert.caseId) api.caseOf(fresh.alert.caseId).then((c) => { alone = c.alerts.length === 1; draw(); }, () => {});
  title(`${word(conditions, fresh.alert.condition)}, ${fresh.alert.machine ?? fresh.alert.gateway ?? fresh.alert.siteName}`);
  draw();
  // the answer that was pressed is gone: on to what is asked next
  if (answered && document.activeElement === document.body) /** @type {HTMLElement | null} */ (document.querySelector('.question'))?.focus();
}

/** @param {Alert} whole */
function facts(whole) {
  const a = whole.alert;
  const rows = /** @type {[string, unknown][]} */ ([
    a.caseId ? [t.cases.part, html`<a href="/cases#${a.caseId}">${t.cases.toCase}</a>`] : null,
    [t.alert.state, html`${stateText(a)}, ${t.stages[a.stage]}`],
    [t.alert.priority, html`${t.priorities[a.priority]}${a.priorityWhy ? html`: ${prose(a.priorityWhy)}` : nothing} <a href="/rules/priority">${t.rules.toRule}</a>`],
    a.silence ? [t.alert.silence, prose(a.silence)] : null,
    a.ice ? [t.alert.ice, prose(a.ice)] : null,
    [t.alert.raised, when(a.raisedAt)],
    a.clearedAt ? [t.alert.cleared, when(a.clearedAt)] : null,
    a.actBy && !a.clearedAt ? [t.fleet.columns.act, when(a.actBy)] : null,
    [t.fleet.columns.who, a.hasIt ?? t.fleet.nobody],
    a.hold ? [t.alert.hold, html`${a.hold.by}: ${a.hold.reason}${a.hold.permittedBy ? html`, ${t.alert.permitted} ${a.hold.permittedBy}` : nothing}`] : null,
  ].filter(Boolean));
  return html`<dl class="facts">${rows.map(([name, value]) => html`<div><dt>${name}</dt><dd>${value}</dd></div>`)}</dl>`;
}

/** Of the machine of this alert, in its case. @param {Alert} whole */
function siteLinks(whole) {
  const a = whole.alert;
  return a.caseId && a.machine ? siteLinkParts(a.caseId, a.site, a.clearedAt ? [] : [a.machine], draw, a.machine) : nothing;
}

/** @param {string} question @param {string} answer */
async function send(question, answer) {
  waitingFor = question;
  notSent = '';
  draw();
  try {
    take(await api.answer(id, { question, answer }));
  } catch (e) {
    waitingFor = '';
    notSent = /** @type {Error} */ (e).message;
    draw();
  }
}

/** @param {Alert} whole */
async function assign(whole) {
  try {
    await askToAssign(whole.alert, whole.assignee, take);
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
    draw();
  }
}

/** @param {Alert} whole */
async function join(whole) {
  try {
    await askToJoin(whole.alert, take);
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
    draw();
  }
}

/** What the state allows. @param {Alert} whole */
function buttons(whole) {
  const a = whole.alert;
  const hold = a.hold;
  const button = (/** @type {string} */ title, /** @type {() => void} */ act, primary = false) =>
    html`<button class=${primary ? 'primary' : nothing} type="button" @click=${act}>${title}</button>`;
  const active = a.state === 'unacknowledged' || a.state === 'acknowledged';
  return html`<p class="buttons">
    ${needsEyes(a) && can('acknowledge') ? button(t.ask.acknowledge.title, () => askToAcknowledge(a, take), true) : nothing}
    ${a.state.startsWith('latched') && can('reset') ? button(t.ask.reset.title, () => askToReset(a, take), !needsEyes(a)) : nothing}
    ${a.state !== 'normal' && can('acknowledge') ? button(t.ask.assign.title, () => assign(whole)) : nothing}
    ${can('acknowledge') ? button(t.ask.comment.title, () => askForNote(a, take)) : nothing}
    ${active && can('shelve') ? button(t.ask.shelve.title, () => askToShelve(a, take)) : nothing}
    ${active && can('out-of-service') ? button(t.ask.outOfService.title, () => askOutOfService(a, take)) : nothing}
    ${hold && a.state === 'shelved' && can('shelve') ? button(t.ask.unshelve.title, () => askToEndHold(hold, load), true) : nothing}
    ${hold && a.state === 'out-of-service' && can('out-of-service') ? button(t.ask.returnToService.title, () => askToEndHold(hold, load), true) : nothing}
    ${a.caseId && a.state !== 'normal' && can('close-case') ? html`${button(t.ask.join.title, () => join(whole))}${alone ? nothing : button(t.ask.part.title, () => askToPart(a, take))}` : nothing}
    ${button(t.alert.print, printAdvice)}</p>`;
}

/** @param {Alert} whole */
function history(whole) {
  return html`<section><h2>${t.alert.history}</h2>
    ${whole.history.length === 0 ? html`<p>${t.alert.emptyHistory}</p>` : html`<ol class="history">${whole.history.map((h) => html`
      <li>${when(h.at)} <b>${h.who}</b> ${word(deeds, h.what)}${h.why ? html`: <q>${h.why}</q>` : nothing}</li>`)}</ol>`}
    <p class="hint">${t.alert.versions(whole.detectorVersion, whole.policyVersion)}</p></section>`;
}

function draw() {
  if (!alert) return show(waiting(t.alert.loading, failed, load));
  const a = alert.alert;
  const whole = alert;
  show(html`
    <article class="one">
      <div class="head"><h1>${word(conditions, a.condition)}</h1>
        <p class="where">${a.machine ? html`<a class="id" href="/machines/${a.machine}">${a.machine}</a>` : html`<b class="id">${a.gateway ?? a.site}</b>`} ${a.siteName}</p>
        <p class="lead">${prose(a.summary)} <a href="/alerts/${id}/why">${t.alert.why}</a></p>
        <p class="amountline">${a.clearedAt || isHeld(a) ? stateText(a) : html`${t.fleet.columns.left}: <b>${leftText(a, a.actBy)}</b>`}</p>
        ${buttons(whole)}</div>
      ${failed ? failure(failed, load) : nothing}
      ${facts(whole)}
      ${limitLine(a)}
      ${questionParts(whole, { may: can('acknowledge'), waiting: waitingFor, failed: notSent, send })}
      ${siteLinks(whole)}
      <div class="two">
        <div class="panel">${adviceParts(whole.advice, 'one', 2)}</div>
        <div class="panel">${evidenceParts(whole, 'one', 2)}</div>
      </div>
      ${a.machine ? markParts({ machine: a.machine, alert: a.id, from: Date.parse(a.raisedAt), to: a.clearedAt ? Date.parse(a.clearedAt) : now() }, draw) : nothing}
      ${history(whole)}
    </article>`);
}

frame();
title(t.alert.loading);
draw();
load();
listen({ kinds: 'alert', changed: (_, data) => { if (data.alert === id || (data.machine && data.machine === alert?.alert.machine)) load(); }, reload: load, line });
addEventListener('units-changed', draw);
addEventListener('me-known', draw);
setInterval(draw, 15_000);
