// @ts-check
import { html, nothing, render } from './lib/lit-html/lit-html.js';
import { api, me, Refused } from './api.js';
import { now } from './clock.js';
import { t } from './texts.js';
import { conditions, word } from './words.js';

/** @typedef {import('./api.js').Alert} Alert */
/** @typedef {import('./api.js').AlertSummary} AlertSummary */
/** @typedef {{title: string, intro: string, send: string}} Words */

/** It is done as far as it can be, and there is something to say about it. */
class Told extends Error {}

/** What was pressed may be gone by now: who has no mouse goes on from the content, not from the head of the page. */
function keepPlace() {
  if (document.activeElement === document.body) document.getElementById('main')?.focus({ preventScroll: true });
}

const host = document.body.appendChild(document.createElement('div'));

/**
 * Asks for what an action needs and sends it. Somebody else may be faster: then the person is told by whom, and nothing
 * is overwritten.
 * @param {Words} words
 * @param {unknown} subject what it is about
 * @param {unknown} fields what is asked for, or a function that draws it and is given what draws it again
 * @param {(data: Record<string, string>, form: FormData) => Promise<any>} send
 * @param {(current: any) => void | Promise<void>} changed called with how it stands afterwards, whoever changed it
 */
export function ask(words, subject, fields, send, changed) {
  let sending = false;
  let message = '';
  let over = false;
  /** What comes late must not draw this in place of another dialog. */
  let closed = false;

  const dialog = () => /** @type {HTMLDialogElement} */ (host.querySelector('dialog'));

  /** @param {SubmitEvent} e */
  async function submit(e) {
    e.preventDefault();
    if (sending || over) return;
    /** @type {Record<string, string>} */
    const data = {};
    const form = new FormData(/** @type {HTMLFormElement} */ (e.target));
    form.forEach((value, name) => { data[name] = String(value).trim(); });
    sending = true;
    draw();
    try {
      const drawn = changed(await send(data, form));
      if (mine.open) mine.close();
      // what it came from may be gone once the page is drawn anew, which takes its time on a weak line
      Promise.resolve(drawn).then(keepPlace, keepPlace);
      return;
    } catch (e) {
      const refused = /** @type {Refused} */ (e);
      const current = /** @type {Alert | undefined} */ (refused.problem?.current);
      if (e instanceof Told) {
        over = true;
        message = e.message;
      } else if (refused.status === 409 && current) {
        over = true;
        message = current.acknowledgedBy ? t.ask.changed(current.acknowledgedBy) : t.ask.changedUnknown;
        changed(current);
      } else {
        message = t.ask.failed(refused.message);
      }
    }
    sending = false;
    draw();
  }

  function close() {
    closed = true;
    render(nothing, host);
  }

  function draw() {
    if (closed) return;
    render(html`
      <dialog aria-labelledby="ask-title" @close=${close}>
        <form class="ack" @submit=${submit}>
          <h2 id="ask-title">${words.title}</h2>
          <p>${subject}</p>
          <p role="alert" class="told">${message}</p>
          ${over ? nothing : html`
            <p class="hint">${words.intro}</p>
            ${typeof fields === 'function' ? fields(draw) : fields}`}
          <p class="buttons">
            ${over ? nothing : html`<button class="primary" ?disabled=${sending}>${sending ? t.ask.sending : words.send}</button>`}
            <button type="button" @click=${() => dialog().close()}>${over ? t.ask.heard : t.ask.cancel}</button></p>
        </form>
      </dialog>`, host);
  }

  draw();
  const mine = dialog();
  mine.showModal();
}

/** @param {AlertSummary} alert */
const about = (alert) => html`<b>${alert.machine ?? alert.gateway ?? alert.siteName}</b>: ${word(conditions, alert.condition)}`;
const note = html`<label>${t.ask.note}<textarea name="note" rows="3" maxlength="2000"></textarea></label>`;
const reason = html`<label>${t.ask.reason}<textarea name="reason" rows="3" maxlength="2000" required></textarea></label>`;
const permitted = html`<label>${t.ask.permitted}<input name="permittedBy" maxlength="60" required></label>`;

/** @typedef {(current: Alert) => void} Changed */

/** @param {AlertSummary} alert @param {Changed} changed */
export const askToAcknowledge = (alert, changed) => ask(t.ask.acknowledge, about(alert), note,
  (data) => api.act(alert.id, 'acknowledge', { ...data, version: alert.version }), changed);

/**
 * Several with one note, each by itself: where somebody was faster, the others are marked all the same, and it is said who.
 * @param {AlertSummary[]} alerts @param {(seen: string[]) => void} changed called with those that are done with, before it is said what is not
 */
export const askToAcknowledgeAll = (alerts, changed) => ask({ ...t.ask.acknowledgeAll, title: t.ask.acknowledgeAll.title(alerts.length) },
  html`${alerts.slice(0, 5).map((alert) => html`${about(alert)}<br>`)}${alerts.length > 5 ? t.ask.acknowledgeAll.others(alerts.length - 5) : nothing}`, note,
  async (data) => {
    /** @type {string[]} */
    const seen = [], done = [], faster = [], failed = [];
    for (const alert of alerts) {
      const name = `${alert.machine ?? alert.gateway ?? alert.siteName}, ${word(conditions, alert.condition)}`;
      try {
        await api.act(alert.id, 'acknowledge', { ...data, version: alert.version });
        seen.push(alert.id);
      } catch (e) {
        const refused = /** @type {Refused} */ (e);
        const current = /** @type {Alert | undefined} */ (refused.problem?.current);
        if (refused.status === 409 && current) faster.push(current.acknowledgedBy ? t.ask.acknowledgeAll.by(name, current.acknowledgedBy) : name);
        else failed.push(`${name}: ${refused.message}`);
        if (refused.status === 409) done.push(alert.id);
      }
    }
    changed([...seen, ...done]);
    if (faster.length + failed.length > 0) throw new Told(t.ask.acknowledgeAll.told(seen.length, faster, failed));
  }, () => {});

/**
 * To whom: the account itself first, since that is the most frequent.
 * @param {AlertSummary} alert @param {string | undefined} assignee who has it now @param {Changed} changed
 */
export async function askToAssign(alert, assignee, changed) {
  const [names, self] = await Promise.all([api.assignees(alert.id), me()]);
  const own = self.account.name;
  const others = names.filter((name) => name !== own && name !== assignee);
  ask(t.ask.assign, about(alert), html`
    <label>${t.ask.to}<select name="to">
      ${names.includes(own) && own !== assignee ? html`<option value=${own}>${t.ask.me(own)}</option>` : nothing}
      ${others.map((name) => html`<option value=${name}>${name}</option>`)}
      ${assignee ? html`<option value="">${t.ask.toNobody}</option>` : nothing}</select></label>${note}`,
  (data) => api.act(alert.id, 'assign', { ...data, version: alert.version }), changed);
}

/** What another case is called in a choice. @param {import('./api.js').Case} c */
const nameOf = (c) => `${c.subject?.replace(/^(gateway|site):/, '') ?? c.siteName}: ${c.title ?? (c.alerts[0] ? word(conditions, c.alerts[0].condition) : t.cases.onlyCall)}`;

/** Into another open case of its site. @param {AlertSummary} alert @param {Changed} changed */
export async function askToJoin(alert, changed) {
  const others = (await api.casesAt(alert.site)).filter((c) => c.id !== alert.caseId);
  if (others.length === 0) throw new Error(t.ask.noOtherCase);
  ask(t.ask.join, about(alert), html`
    <label>${t.ask.intoCase}<select name="case">${others.map((c) => html`<option value=${c.id}>${nameOf(c)}</option>`)}</select></label>${reason}`,
  (data) => api.act(alert.id, 'join', { ...data, version: alert.version }), changed);
}

/** Out of its case, into one of its own. @param {AlertSummary} alert @param {Changed} changed */
export const askToPart = (alert, changed) => ask(t.ask.part, about(alert), reason,
  (data) => api.act(alert.id, 'part', { ...data, version: alert.version }), changed);

/** @param {AlertSummary} alert @param {Changed} changed */
export const askForNote = (alert, changed) => ask(t.ask.comment, about(alert),
  html`<label>${t.ask.text}<textarea name="text" rows="4" maxlength="2000" required></textarea></label>`,
  (data) => api.act(alert.id, 'notes', data), changed);

/** @param {AlertSummary} alert @param {Changed} changed */
export const askToReset = (alert, changed) => ask(t.ask.reset, about(alert), note,
  (data) => api.act(alert.id, 'reset', { ...data, version: alert.version }), changed);

/** @param {AlertSummary} alert @param {Changed} changed */
export const askToShelve = (alert, changed) => ask(t.ask.shelve, about(alert), html`${reason}
  <label>${t.ask.until}<select name="hours">${Object.entries(t.ask.hours).map(([hours, name]) => html`<option value=${hours}>${name}</option>`)}</select></label>`,
  ({ hours, ...data }) => api.act(alert.id, 'shelve',
    { ...data, until: new Date(now() + Number(hours) * 3_600_000).toISOString(), version: alert.version }), changed);

/** @param {AlertSummary} alert @param {Changed} changed */
export const askOutOfService = (alert, changed) => ask(t.ask.outOfService, about(alert), html`${reason}${permitted}`,
  (data) => api.act(alert.id, 'out-of-service', { ...data, version: alert.version }), changed);

/** @param {string} machine @param {() => void} changed */
export const askMachineOutOfService = (machine, changed) => ask(t.ask.machineOutOfService, html`<b>${machine}</b>`, html`${reason}${permitted}`,
  (data) => api.takeOutOfService(machine, data), changed);

/** @param {import('./api.js').Case} case_ @param {() => void} changed */
export const askToCloseCase = (case_, changed) => ask(t.ask.closeCase, html`<b>${case_.subject ?? case_.siteName}</b>`, reason,
  (data) => api.closeCase(case_.id, data), changed);

/** @param {import('./api.js').Hold} hold @param {() => void} changed */
export const askToEndHold = (hold, changed) => ask(hold.kind === 'shelved' ? t.ask.unshelve : t.ask.returnToService,
  html`<b>${hold.subject}</b>${hold.condition ? html`: ${word(conditions, hold.condition)}` : nothing}`, reason,
  (data) => api.endHold(hold.id, data), changed);

/** @param {import('./api.js').Notice} notice @param {() => void} changed */
export const askToRetryNotice = (notice, changed) => ask(t.ask.retryNotice, html`<b>${notice.receiver}</b>: ${notice.subject}`, nothing,
  (data) => api.retryNotice(notice.id, data), changed);

/** @param {import('./api.js').Receiver} receiver @param {() => void} changed */
export const askToTestReceiver = (receiver, changed) => ask(t.ask.testReceiver, html`<b>${receiver.name}</b>`, nothing,
  (data) => api.testReceiver(receiver.name, data), changed);
