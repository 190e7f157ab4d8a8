// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { repeat } from './lib/lit-html/directives/repeat.js';
import { causeLine, isCare, needsEyes, stateAlone } from './alert-parts.js';
import { api } from './api.js';
import { askToAcknowledge, askToAcknowledgeAll } from './ask.js';
import { markOf } from './fleet-groups.js';
import { actText, leftText } from './fleet-rows.js';
import { when } from './format.js';
import { can, failure, frame, line, show, title, waiting } from './frame.js';
import { listen } from './live.js';
import { olderButton, showMore, STEP } from './show-more.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { conditions, word } from './words.js';

/** @typedef {import('./api.js').AlertSummary} AlertSummary */

/** @type {AlertSummary[] | null} */
let alerts = null;
let failed = '';
let finished = new URLSearchParams(location.search).get('finished') === 'true';
/** How many that are over are wanted, where any are. */
let wanted = STEP;
/** Whether more of them are there. */
let older = false;
const more = showMore(() => draw());
/** Ids of those that are to be marked as seen together. @type {Set<string>} */
const chosen = new Set();
const rank = { urgent: 0, high: 1, medium: 2, low: 3 };

/** What is soonest first; what has no date after it, by priority. @param {AlertSummary} a @param {AlertSummary} b */
function byUrgency(a, b) {
  const priority = rank[a.priority] - rank[b.priority];
  const date = Date.parse(a.actBy ?? '9999-12-31T00:00:00Z') - Date.parse(b.actBy ?? '9999-12-31T00:00:00Z');
  return priority || date || a.id.localeCompare(b.id);
}

/** @typedef {'decide' | 'over' | 'hand' | 'care' | 'held' | 'finished'} Group */
/** @type {Record<AlertSummary['state'], Group>} */
const groupOf = {
  unacknowledged: 'decide',
  'returned-unacknowledged': 'over',
  'latched-unacknowledged': 'over',
  'latched-acknowledged': 'over',
  acknowledged: 'hand',
  shelved: 'held',
  'suppressed-by-design': 'held',
  'out-of-service': 'held',
  normal: 'finished',
};

/** @param {AlertSummary} alert @returns {Group} */
function placeOf(alert) {
  const group = groupOf[alert.state];
  return isCare(alert) && group !== 'held' && group !== 'finished' ? 'care' : group;
}

async function load() {
  try {
    const { rows, more: isMore } = await api.alerts(finished ? wanted : 0);
    [alerts, older] = [rows, isMore];
    failed = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

/** @param {AlertSummary} alert */
const nameOf = (alert) => `${alert.machine ?? alert.gateway ?? ''}, ${word(conditions, alert.condition)}`;

/** Still to be seen, and asked for. */
const toMark = () => (alerts ?? []).filter((alert) => chosen.has(alert.id) && needsEyes(alert));

/** @param {string} alert @param {boolean} is */
function choose(alert, is) {
  if (is) chosen.add(alert);
  else chosen.delete(alert);
  draw();
}

/** @param {Event} e */
function markChosen(e) {
  e.preventDefault();
  const those = toMark();
  if (those.length === 0) return;
  askToAcknowledgeAll(those, (done) => {
    done.forEach((id) => chosen.delete(id));
    load();
  });
}

/** What is chosen stays in sight, wherever in the list somebody is. */
function chosenBar() {
  const count = toMark().length;
  return html`<div class="chosen" ?hidden=${count === 0}><span role="status">${count > 0 ? t.alerts.chosen(count) : ''}</span>
    ${count === 0 ? nothing : html`<button class="primary" data-mark-chosen>${t.alerts.markChosen(count)}</button>
      <button type="button" @click=${() => { chosen.clear(); draw(); }}>${t.alerts.chooseNone}</button> <span class="hint">${t.alerts.enter}</span>`}</div>`;
}

/** @param {AlertSummary} alert */
const seeing = (alert) => html`<button type="button" aria-label="${t.ask.acknowledge.title}: ${nameOf(alert)}"
    @click=${() => askToAcknowledge(alert, load)}>${t.ask.acknowledge.title}</button>
  <label class="check choose"><input type="checkbox" aria-label=${t.alerts.chooseOne(nameOf(alert))} .checked=${chosen.has(alert.id)}
    @change=${(/** @type {any} */ e) => choose(alert.id, e.target.checked)}> ${t.alerts.choose}</label>`;

/** @param {AlertSummary} alert */
function item(alert) {
  const subject = alert.machine
    ? html`<a class="id" href="/machines/${alert.machine}">${alert.machine}</a>`
    : html`<span class="id">${alert.gateway ?? alert.site}</span>`;
  return html`
    <li class="row stage-${markOf(alert)}" data-alert=${alert.id}>
      <div class="left"><b class="amount">${leftText(alert, alert.actBy)}</b></div>
      <div class="which">${subject} <span class="place">${alert.siteName}</span></div>
      <div class="wrong"><a class="what" href="/alerts/${alert.id}">${word(conditions, alert.condition)}</a>
        <span class="state">${stateAlone(alert)}</span> <span class="tag">${t.priorities[alert.priority]}</span>
        <p class="summary">${prose(alert.summary)}</p>
        <p class="likely">${causeLine(alert)} <span class="since">${t.since} ${when(alert.raisedAt)}</span></p></div>
      <div class="act"><span class="label">${t.fleet.columns.act}</span> ${actText(alert, alert.actBy)}</div>
      <div class="who">${needsEyes(alert) && can('acknowledge') ? seeing(alert) : html`<span class="label">${t.fleet.columns.who}</span> ${alert.hasIt ?? t.fleet.nobody}`}</div>
    </li>`;
}

/** What is merely due takes little room: which machine, what, since when. @param {AlertSummary} alert */
function careItem(alert) {
  return html`<li class="calm" data-alert=${alert.id}>
    <a class="id" href="/machines/${alert.machine}">${alert.machine}</a>
    <a class="what" href="/alerts/${alert.id}">${word(conditions, alert.condition)}</a>
    <span class="doing">${t.since} ${when(alert.raisedAt)} · ${stateAlone(alert)}</span></li>`;
}

/** @param {Group} name @param {AlertSummary[]} members */
function section(name, members) {
  if (members.length === 0) return nothing;
  const [heading, hint] = t.alerts.groups[name];
  const shown = more.of(name, members);
  const choosable = (name === 'decide' || name === 'over') && can('acknowledge') ? shown.filter(needsEyes) : [];
  return html`<section class="group ${name}" aria-labelledby="group-${name}">
    <h2 id="group-${name}">${heading} <span class="count">${members.length}</span> <span class="hint">${hint}</span></h2>
    ${choosable.length > 1 ? html`<p class="buttons"><button type="button" data-choose-all=${name} @click=${() => { choosable.forEach((a) => chosen.add(a.id)); draw(); }}>${t.alerts.chooseAll(choosable.length)}</button></p>` : nothing}
    <ul class=${name === 'care' ? 'calms' : 'rows'}>${repeat(shown, (alert) => alert.id, name === 'care' ? careItem : item)}</ul>
    ${more.button(name, members.length)}</section>`;
}

/** @param {any} e */
function toggleFinished(e) {
  finished = e.target.checked;
  history.replaceState(null, '', finished ? '?finished=true' : location.pathname);
  load();
}

function draw() {
  const all = alerts;
  if (!all) return show(waiting(t.alerts.title, failed, load));
  const in_ = (/** @type {Group} */ name) => all.filter((alert) => placeOf(alert) === name);
  const [decide, over, hand] = [in_('decide').sort(byUrgency), in_('over'), in_('hand').sort(byUrgency)];
  show(html`
    <div class="head"><h1>${t.alerts.title}</h1><p class="summary">${t.alerts.summary(decide.length + over.length, decide.length + over.length + hand.length)}</p></div>
    <p class="filter"><label class="check"><input type="checkbox" name="finished" .checked=${finished} @change=${toggleFinished}> ${t.alerts.showFinished}</label></p>
    ${failed ? failure(failed, load) : nothing}
    ${decide.length + over.length + hand.length === 0 ? html`<p class="well">${t.alerts.none}</p>` : nothing}
    <form class="to-see" aria-label=${t.alerts.toSee} @submit=${markChosen}>${section('decide', decide)}${section('over', over)}${chosenBar()}</form>
    ${section('hand', hand)}${section('care', in_('care').sort(byUrgency))}${section('held', in_('held'))}${section('finished', in_('finished'))}
    ${olderButton(older, () => { wanted = in_('finished').length + STEP; load(); })}`);
}

let later = 0;
/** A burst of changes is one look. */
function soon() {
  clearTimeout(later);
  later = setTimeout(load, 300);
}

frame();
title(t.alerts.title);
draw();
load();
listen({ kinds: 'alert', changed: soon, reload: load, line });
addEventListener('units-changed', draw);
addEventListener('me-known', draw);
setInterval(draw, 10_000);
