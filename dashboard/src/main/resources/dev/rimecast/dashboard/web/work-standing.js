// @ts-check
/** What a page of work says of itself: what waits on this phone, what was sent, and whether there is a connection. */
import { html, nothing } from './lib/lit-html/lit-html.js';
import { dateTimeText, when } from './format.js';
import { t } from './texts.js';
import { deliver, dropPhoto, occupied, pageOf, photosOf, reopen, retryPhoto, sent, throwAway, waiting, waitingPhotos } from './work-outbox.js';

/** @typedef {{machine: string, kind?: 'commissioning', account?: string, load: () => unknown}} Here */

/** @param {{kind?: 'commissioning', machine: string, time: string}} each */
const named = (each) => html`<b>${each.kind ? t.commissioning.title(each.machine) : each.machine}, ${dateTimeText(each.time)}:</b>`;

/** Which one could not be opened again. */
let notOpened = '';

/** @param {import('./work-outbox.js').Waiting} w */
function open(w) {
  if (reopen(w)) return location.assign(pageOf(w));
  notOpened = w.id;
  dispatchEvent(new CustomEvent('work-kept'));
}

/** @param {import('./work-outbox.js').Waiting} w @param {Here} here */
const waits = (w, { account, load }) => html`
  <li data-waiting=${w.id}>${named(w)} ${w.problem ? t.work.notTaken(w.problem) : t.work.waits(photosOf(w).length)}
    ${!w.problem && account !== undefined && account !== w.account ? t.work.ofAnother(w.accountName) : nothing}
    ${w.id === notOpened && occupied(w) ? html`<b data-occupied>${t.work.occupied}</b>` : nothing}
    <span class="buttons">${w.problem ? html`
      <button type="button" @click=${() => open(w)}>${t.work.reopen}</button>
      <button type="button" @click=${() => throwAway(w)}>${t.work.drop}</button>` : html`
      <button type="button" @click=${() => { deliver(); load(); }}>${t.work.sendNow}</button>`}</span></li>`;

/** @param {import('./work-outbox.js').WaitingPhoto[]} photos of one report @param {Here} here */
const photosWait = (photos, { account, load }) => html`
  <li data-photos-waiting=${photos.length}>${named(photos[0])} ${t.work.photosWait(photos.length)}
    ${account !== undefined && account !== photos[0].account ? t.work.ofAnother(photos[0].accountName) : nothing}
    <span class="buttons"><button type="button" @click=${() => { deliver(); load(); }}>${t.work.sendNow}</button></span></li>`;

/** @param {import('./work-outbox.js').WaitingPhoto} photo */
const photoRefused = (photo) => html`
  <li data-photo-refused=${photo.id}>${named(photo)} ${photo.lost ? t.work.photoGone : t.work.photoNotTaken(photo.problem ?? '')}
    <span class="buttons"><button type="button" @click=${() => retryPhoto(photo.id)}>${t.work.tryAgain}</button>
      <button type="button" @click=${() => dropPhoto(photo.id)}>${t.work.drop}</button></span></li>`;

/** @param {Here} here account: who is signed in, where that is known */
export function outbox(here) {
  const list = waiting();
  const photos = waitingPhotos();
  const refused = photos.filter((p) => p.problem);
  const reports = [...new Set(photos.map((p) => p.report))].map((id) => photos.filter((p) => p.report === id && !p.problem)).filter((each) => each.length);
  const done = sent().filter((s) => s.machine === here.machine && s.kind === here.kind).slice(0, 3);
  return html`<div role="status" class="outbox">
    ${list.length + photos.length ? html`<ul class="well waiting">${list.map((w) => waits(w, here))}
      ${reports.map((each) => photosWait(each, here))}${refused.map(photoRefused)}</ul>` : nothing}
    ${done.length ? html`<ul class="well">${done.map((s) => html`<li data-sent=${s.id}>${named(s)} ${t.work.sent}</li>`)}</ul>` : nothing}
  </div>`;
}

/**
 * @param {{unknown: boolean, fresh: boolean, failed: string, at?: number, offlineReady: boolean | null}} page unknown: the server
 *   says that there is no such machine; at: when what is shown was known
 */
export function standing({ unknown, fresh, failed, at, offlineReady }) {
  if (unknown) return html`<p class="notice" role="alert">${t.failed(failed)}</p>`;
  if (!fresh && at !== undefined && failed) return html`<p class="notice" data-offline>${t.work.offline(failed)} ${when(new Date(at).toISOString())}</p>`;
  if (!fresh && failed) return html`<p class="notice" data-offline>${t.work.nothingKnown(failed)}</p>`;
  if (!fresh || offlineReady === null) return nothing;
  return html`<p class="hint" data-offline-ready=${offlineReady}>${offlineReady ? t.work.ready : t.work.notReady}</p>`;
}
