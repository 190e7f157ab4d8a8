// @ts-check
/** The form of a work report: three questions with big targets, each drawn from the draft. */
import { html, nothing } from './lib/lit-html/lit-html.js';
import { now } from './clock.js';
import { dayText, percent, when } from './format.js';
import { newId } from './new-id.js';
import { t } from './texts.js';
import { causes, origins, word } from './words.js';
import { designation, gas } from './work-outbox.js';
import { photosPart } from './work-photos.js';

/** @typedef {import('./work-outbox.js').Draft} Draft */
/** @typedef {import('./work-outbox.js').Done} Done */
/** @typedef {import('./api.js').Machine} Machine */

const OTHER_CAUSES_FROM = 3;
const sensors = Object.keys(t.work.sensors);
/** What may be done more than once in one visit. */
const several = ['part-replaced', 'sensor-replaced'];

/** The causes of what is open, most probable first. @param {Machine} machine */
function probable(machine) {
  const seen = new Map();
  machine.openAlerts.flatMap((a) => a.alert.causes).forEach((c) => {
    if (c.probability > (seen.get(c.cause)?.probability ?? 0)) seen.set(c.cause, c);
  });
  return [...seen.values()].sort((a, b) => b.probability - a.probability).slice(0, OTHER_CAUSES_FROM);
}

/**
 * Begins with what is thought to be wrong, where that can be told.
 * @param {import('./work-outbox.js').Sheet | null} sheet @returns {Draft}
 */
export function emptyDraft(sheet) {
  const told = sheet?.machine.openAlerts.find((a) => a.alert.confidence !== 'cannot-tell' && a.alert.causes.length > 0);
  return {
    id: newId(), found: told?.alert.causes[0].cause ?? '', foundText: '', origin: '', done: [], charge: '', job: '', note: '', photos: [],
    by: sheet?.me.account.name ?? '', certificate: '', caseId: sheet?.machine.openAlerts.find((a) => a.alert.caseId)?.alert.caseId,
  };
}

/** What keeps it from being finished, in words; empty where nothing does. @param {Draft} draft */
export function missing(draft) {
  if (!draft.found) return t.work.missingFound;
  if (draft.found === 'something-else' && !draft.foundText.trim()) return t.work.missingText;
  if (draft.done.length === 0) return t.work.missingDone;
  const bare = draft.done.find((d) => needsDetail(d.what) && !d.detail.trim());
  if (bare) return t.work.missingDetail(t.work.deeds[bare.what]);
  const unnamed = draft.done.find((d) => gas.includes(d.what) && !/^R[0-9]{1,4}[A-Za-z]{0,2}(\([EZ]\))?$/.test(designation(d.detail)));
  if (unnamed) return t.work.missingRefrigerant;
  const unweighed = draft.done.find((d) => gas.includes(d.what) && !/^[1-9][0-9]{0,4}$/.test(d.grams.trim()));
  return unweighed ? t.work.missingGrams(t.work.deeds[unweighed.what]) : '';
}

/** @param {string} what */
const needsDetail = (what) => several.includes(what) || gas.includes(what);

/** @param {Machine} machine @param {Draft} draft @param {() => void} changed */
function foundPart(machine, draft, changed) {
  const first = probable(machine);
  const others = Object.keys(causes).filter((code) => !first.some((c) => c.cause === code));
  const other = others.includes(draft.found);
  const choose = (/** @type {string} */ code) => { draft.found = code; draft.origin = ''; changed(); };
  const radio = (/** @type {string} */ code, /** @type {unknown} */ text) => html`
    <label class="check big"><input type="radio" name="found" value=${code} .checked=${draft.found === code} @change=${() => choose(code)}> <span>${text}</span></label>`;
  return html`<fieldset class="panel"><legend><h2>${t.work.found}</h2></legend>
    ${first.map((c) => radio(c.cause, html`${word(causes, c.cause)} <span class="odds">(${t.about(percent(c.probability))})</span>`))}
    ${radio('nothing-found', t.work.nothing)}
    ${radio('something-else', t.work.somethingElse)}
    ${draft.found === 'something-else' ? html`<label>${t.work.what}<input name="foundText" maxlength="200" autocomplete="off" .value=${draft.foundText} @input=${set(draft, 'foundText', changed)}></label>` : nothing}
    <label>${t.work.another_cause}<select name="other" @change=${(/** @type {any} */ e) => choose(e.target.value)}>
      <option value="" ?selected=${!other}>–</option>${others.map((code) => html`<option value=${code} ?selected=${draft.found === code}>${word(causes, code)}</option>`)}</select></label>
    ${draft.found && draft.found !== 'nothing-found' ? html`<label>${t.work.origin}<select name="origin" @change=${set(draft, 'origin', changed)}>
      <option value="">${t.work.usualOrigin}</option>${Object.entries(origins).map(([code, text]) => html`<option value=${code} ?selected=${draft.origin === code}>${text}</option>`)}</select></label>` : nothing}
  </fieldset>`;
}

/** @param {Record<string, any>} into @param {string} key @param {() => void} changed */
const set = (into, key, changed) => (/** @type {any} */ e) => { into[key] = e.target.value; changed(); };

/** @param {Machine} machine @param {Done} d @param {number} i @param {() => void} changed */
function detail(machine, d, i, changed) {
  if (d.what === 'sensor-replaced') {
    return html`<label>${t.work.which}<select name="detail-${i}" @change=${set(d, 'detail', changed)}><option value="">${t.events.choose}</option>
      ${sensors.map((code) => html`<option value=${code} ?selected=${d.detail === code}>${t.work.sensors[code]}</option>`)}</select></label>`;
  }
  const label = gas.includes(d.what) ? t.work.refrigerant : d.what === 'part-replaced' ? t.work.part : t.work.words;
  const parts = d.what === 'part-replaced' ? [...new Set(machine.openAlerts.flatMap((a) => a.advice.parts))] : [];
  return html`<label>${label}<input name="detail-${i}" maxlength="200" autocomplete="off" list=${parts.length ? `parts-${i}` : nothing} .value=${d.detail} @input=${set(d, 'detail', changed)}></label>
    ${parts.length ? html`<datalist id="parts-${i}">${parts.map((p) => html`<option value=${p}></option>`)}</datalist>` : nothing}
    ${gas.includes(d.what) ? html`<label>${t.work.grams}<input name="grams-${i}" inputmode="numeric" maxlength="5" autocomplete="off" .value=${d.grams} @input=${set(d, 'grams', changed)}></label>` : nothing}`;
}

/** @param {Machine} machine @param {Draft} draft @param {() => void} changed */
function donePart(machine, draft, changed) {
  const add = (/** @type {string} */ what) => ({ what, detail: gas.includes(what) ? machine.refrigerant ?? '' : '', grams: '' });
  const toggle = (/** @type {string} */ what) => {
    if (draft.done.some((d) => d.what === what)) draft.done = draft.done.filter((d) => d.what !== what);
    else if (what === 'nothing') draft.done = [add(what)];
    else draft.done = [...draft.done.filter((d) => d.what !== 'nothing'), add(what)];
    changed();
  };
  const open = (/** @type {string} */ what) => needsDetail(what) || what === 'adjusted' || what === 'site-instructed';
  const entry = (/** @type {string} */ what) => {
    const own = draft.done.filter((d) => d.what === what);
    const first = draft.done.find((d) => gas.includes(d.what))?.what === what;
    return html`<label class="check big"><input type="checkbox" name="done" value=${what} .checked=${own.length > 0} @change=${() => toggle(what)}> <span>${t.work.deeds[what]}</span></label>
      ${open(what) && own.length ? html`<div class="inner">${first ? html`<div class="cautions" data-certified><p>${t.work.certified}</p></div>` : nothing}${own.map((d) => detail(machine, d, draft.done.indexOf(d), changed))}
        ${several.includes(what) ? html`<button type="button" @click=${() => { draft.done = [...draft.done, add(what)]; changed(); }}>${t.work.oneMore}</button>` : nothing}</div>` : nothing}`;
  };
  return html`<fieldset class="panel"><legend><h2>${t.work.done}</h2></legend>
    ${Object.keys(t.work.deeds).map(entry)}
    ${draft.done.some((d) => gas.includes(d.what)) ? html`<label>${t.work.certificate}<input name="certificate" maxlength="200" autocomplete="off" .value=${draft.certificate} @input=${set(draft, 'certificate', changed)}></label>` : nothing}
  </fieldset>`;
}

/** @param {Machine} machine @param {Draft} draft @param {() => void} changed */
function billPart(machine, draft, changed) {
  const radio = (/** @type {string} */ code, /** @type {string} */ text) => html`
    <label class="check big"><input type="radio" name="charge" value=${code} .checked=${draft.charge === code} @change=${set(draft, 'charge', changed)}> <span>${text}</span></label>`;
  const until = machine.warrantyUntil;
  return html`<fieldset class="panel"><legend><h2>${t.work.rest}</h2></legend>
    ${until ? html`<p class="hint">${Date.parse(until) > now() ? t.work.underWarranty : t.work.warrantyOver} ${when(until, dayText)}</p>` : nothing}
    ${radio('', t.work.notSettled)} ${radio('chargeable', t.work.chargeable)} ${radio('warranty', t.work.warranty)}
    <label>${t.work.job}<input name="job" maxlength="200" autocomplete="off" .value=${draft.job} @input=${set(draft, 'job', changed)}></label>
    <label>${t.work.by}<input name="by" maxlength="200" autocomplete="name" .value=${draft.by} @input=${set(draft, 'by', changed)}></label>
    <label>${t.work.note}<textarea name="note" rows="3" maxlength="2000" .value=${draft.note} @input=${set(draft, 'note', changed)}></textarea></label>
  </fieldset>`;
}

/** @param {Machine} machine @param {Draft} draft @param {() => void} changed @param {(e: SubmitEvent) => void} submit */
export const workForm = (machine, draft, changed, submit) => html`
  <form class="ack" @submit=${submit}>
    ${foundPart(machine, draft, changed)}
    ${donePart(machine, draft, changed)}
    ${billPart(machine, draft, changed)}
    ${photosPart(draft, changed)}
    <button class="primary big">${t.work.finish}</button>
  </form>`;
