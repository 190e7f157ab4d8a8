// @ts-check
import { html, nothing, render } from './lib/lit-html/lit-html.js';
import { api, Refused } from './api.js';
import { t } from './texts.js';
import { conditions, word } from './words.js';

/** @typedef {import('./api.js').Alert} Alert */

const NAME = 'rimecast.name';
const host = document.body.appendChild(document.createElement('div'));

function rememberedName() {
  try { return localStorage.getItem(NAME) ?? ''; } catch { return ''; }
}

/** @param {string} name */
function rememberName(name) {
  try { localStorage.setItem(NAME, name); } catch { /* private window: asked again next time */ }
}

/**
 * Asks for a note and sends it. Somebody else may be faster: then the person is told by whom, and nothing is overwritten.
 * @param {import('./api.js').AlertSummary} alert
 * @param {(current: Alert) => void} changed called with how the alert stands afterwards, whoever changed it
 */
export function askToAcknowledge(alert, changed) {
  let sending = false;
  let message = '';
  let over = false;

  const dialog = () => /** @type {HTMLDialogElement} */ (host.querySelector('dialog'));

  /** @param {SubmitEvent} e */
  async function send(e) {
    e.preventDefault();
    if (sending || over) return;
    const data = new FormData(/** @type {HTMLFormElement} */ (e.target));
    const by = String(data.get('by')).trim();
    rememberName(by);
    sending = true;
    draw();
    try {
      changed(await api.acknowledge(alert.id, { version: alert.version, note: String(data.get('note')).trim(), by }));
      dialog().close();
      return;
    } catch (e) {
      const refused = /** @type {Refused} */ (e);
      const current = /** @type {Alert | undefined} */ (refused.problem?.current);
      if (refused.status === 409 && current) {
        over = true;
        message = current.acknowledgedBy ? t.ack.changed(current.acknowledgedBy) : t.ack.changedUnknown;
        changed(current);
      } else {
        message = t.ack.failed(refused.message);
      }
    }
    sending = false;
    draw();
  }

  function draw() {
    render(html`
      <dialog aria-labelledby="ack-title" @close=${() => render(nothing, host)}>
        <form class="ack" @submit=${send}>
          <h2 id="ack-title">${t.ack.title}</h2>
          <p><b>${alert.machine ?? alert.gateway ?? alert.siteName}</b>: ${word(conditions, alert.condition)}</p>
          <p role="alert" class="told">${message}</p>
          ${over ? nothing : html`
            <p class="hint">${t.ack.intro}</p>
            <label>${t.ack.note}<textarea name="note" rows="3" maxlength="2000"></textarea></label>
            <label>${t.ack.name}<input name="by" maxlength="60" required autocomplete="name" .value=${rememberedName()}></label>`}
          <p class="buttons">
            ${over ? nothing : html`<button class="primary" ?disabled=${sending}>${sending ? t.ack.sending : t.ack.send}</button>`}
            <button type="button" @click=${() => dialog().close()}>${over ? 'OK' : t.ack.cancel}</button></p>
        </form>
      </dialog>`, host);
  }

  draw();
  dialog().showModal();
}
