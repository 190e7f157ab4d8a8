// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { repeat } from './lib/lit-html/directives/repeat.js';
import { api } from './api.js';
import { askToRetryNotice, askToTestReceiver } from './ask.js';
import { when } from './format.js';
import { can, failure, frame, line, show, title, waiting } from './frame.js';
import { listen } from './live.js';
import { olderButton, STEP } from './show-more.js';
import { t } from './texts.js';

/** @typedef {import('./api.js').Notice} Notice */
/** @typedef {import('./api.js').Receiver} Receiver */

/** @type {Notice[] | null} */
let notices = null;
let wanted = STEP;
let older = false;
/** @type {Receiver[]} */
let receivers = [];
let failed = '';
let only = new URLSearchParams(location.search).get('show') ?? 'all';
/** What was opened, with its text. @type {Map<string, Notice | string>} */
const whole = new Map();

async function load() {
  try {
    const [list, who] = await Promise.all([api.notices(wanted), api.receivers()]);
    [notices, older, receivers] = [list.rows, list.more, who];
    failed = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
  for (const id of whole.keys()) read(id);
}

/** @param {string} id */
async function read(id) {
  try {
    whole.set(id, await api.notice(id));
  } catch (e) {
    whole.set(id, t.failed(/** @type {Error} */ (e).message));
  }
  draw();
}

/** @param {Notice} n */
function shown(n) {
  if (only === 'digests') return n.kind === 'digest';
  if (only === 'open') return n.state === 'waiting' || n.state === 'sending' || n.state === 'failed';
  return true;
}

/** @param {Receiver} r */
const receiver = (r) => html`
  <li class="row receiver">
    <div class="left"><b>${r.name}</b></div>
    <div class="which">${t.notices.channels[r.channel]}</div>
    <div class="wrong"><p>${r.target}</p>${r.closed ? html`<p class="nobody">${t.notices.closed}: ${r.closed}</p>` : nothing}</div>
    <div class="act"><span class="label">${t.notices.hours}</span> ${r.hours ?? t.notices.anyTime}</div>
    <div class="who">${can('notify') ? html`<button type="button" aria-label="${t.notices.test}: ${r.name}" @click=${() => askToTestReceiver(r, load)}>${t.notices.test}</button>` : nothing}</div>
  </li>`;

/** @param {Notice} n */
function item(n) {
  const open = whole.get(n.id);
  return html`
    <li class="row" id=${n.id} data-notice=${n.id} data-kind=${n.kind}>
      <div class="left"><span class="state">${n.state === 'sent' && n.channel === 'outbox-only' ? t.notices.kept : t.notices.states[n.state]}</span></div>
      <div class="which"><b>${n.receiver}</b> <span class="place">${t.notices.channels[n.channel]}</span></div>
      <div class="wrong">
        <b class="what">${n.subject ?? t.notices.notYet}</b> <span class="tag">${t.notices.kinds[n.kind]}</span>
        ${n.step > 1 ? html`<p class="hint">${t.notices.escalated(n.step)}</p>` : nothing}
        ${n.detail ? html`<p class="hint">${n.detail}${n.attempts > 1 ? `, ${t.notices.attempts(n.attempts)}` : ''}</p>` : nothing}
        <details class="table" ?open=${Boolean(open)} @toggle=${(/** @type {any} */ e) => toggle(n.id, e.target.open)}>
          <summary>${t.notices.text}</summary>${open ? text(open) : nothing}
        </details></div>
      <div class="act"><span class="label">${t.notices.written}</span> ${when(n.createdAt)}
        ${n.nextAt ? html`<p class="hint">${t.notices.next} ${when(n.nextAt)}</p>` : nothing}</div>
      <div class="who">${n.state === 'failed' && can('notify') ? html`<button type="button" aria-label="${t.notices.retry}: ${n.subject}" @click=${() => askToRetryNotice(n, load)}>${t.notices.retry}</button>` : nothing}</div>
    </li>`;
}

/** @param {Notice | string} n */
function text(n) {
  if (typeof n === 'string') return html`<p class="hint">${n}</p>`;
  return html`
    <pre class="mail" tabindex="0">${n.text ?? t.notices.notYet}</pre>
    ${n.caseId ? html`<p><a href="/cases#${n.caseId}">${t.notices.toCase}</a></p>` : nothing}
    <ul class="history">${(n.log ?? []).map((entry) => html`<li>${when(entry.at)} ${entry.who}: ${entry.outcome}${entry.detail ? `, ${entry.detail}` : ''}</li>`)}</ul>`;
}

/** @param {string} id @param {boolean} open */
function toggle(id, open) {
  if (open && !whole.has(id)) {
    whole.set(id, t.loading);
    draw();
    read(id);
  } else if (!open && whole.delete(id)) {
    draw();
  }
}

/** What nobody was told, before all that went well; what is older and not loaded is not counted. @param {Notice[]} all */
function notTold(all) {
  const failed = all.filter((n) => n.state === 'failed').length;
  return failed ? html`<p class="notice" data-failed=${failed}><b class="warmly">${older ? t.notices.failedOfShown(failed) : t.notices.failed(failed)}</b>
    ${only === 'open' ? nothing : html`<button type="button" @click=${() => choose('open')}>${t.notices.showFailed}</button>`}</p>` : nothing;
}

/** @param {string} which */
function choose(which) {
  only = which;
  history.replaceState(null, '', only === 'all' ? location.pathname : `?show=${only}`);
  draw();
}

function draw() {
  const all = notices;
  if (!all) return show(waiting(t.notices.title, failed, load));
  const list = all.filter(shown);
  show(html`
    <div class="head"><h1>${t.notices.title}</h1><p class="summary">${t.notices.intro}</p></div>
    ${failed ? failure(failed, load) : nothing}
    ${notTold(all)}
    ${receivers.some((r) => r.channel === 'outbox-only') ? html`<p class="well">${t.notices.outboxOnly}</p>` : nothing}
    <p class="filter"><label>${t.notices.show}<select name="show" .value=${only} @change=${(/** @type {any} */ e) => choose(e.target.value)}>
      ${Object.entries(t.notices.shows).map(([value, name]) => html`<option value=${value} ?selected=${value === only}>${name}</option>`)}</select></label></p>
    ${list.length === 0 ? html`<p class="well">${t.notices.none}</p>` : html`<ul class="rows">${repeat(list, (n) => n.id, item)}</ul>`}
    ${olderButton(older, () => { wanted = all.length + STEP; load(); })}
    <section class="group"><h2>${t.notices.receivers}</h2>
      ${receivers.length === 0 ? html`<p class="well">${t.notices.nobody}</p>` : html`<ul class="rows">${receivers.map(receiver)}</ul>`}</section>`);
}

let later = 0;
/** A burst of changes is one look. */
function soon() {
  clearTimeout(later);
  later = setTimeout(load, 1_000);
}

frame();
title(t.notices.title);
draw();
load();
listen({ kinds: 'alert', changed: soon, reload: load, line });
setInterval(load, 15_000);
addEventListener('me-known', draw);
