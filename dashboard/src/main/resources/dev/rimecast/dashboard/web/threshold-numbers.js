// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { thresholdTexts as words } from './texts/thresholds.js';
import { aboutOf, amount, factor, nameOf, plain, shown, unitOf } from './threshold-words.js';

/**
 * @typedef {import('./thresholds-api.js').PolicyNumber} PolicyNumber
 * @typedef {{draft: Map<string, number>, wrong: Map<string, string>, open: Set<string>, find: string, onlyOwn: boolean, mayChange: boolean,
 *   set: (n: PolicyNumber, text: string) => void, slide: (n: PolicyNumber, value: number) => void, reset: (n: PolicyNumber) => void,
 *   effect: (path: string, changed: boolean) => unknown, toProduct: (n: PolicyNumber) => void, toggle: (group: string, open: boolean) => void, seek: (text: string, onlyOwn: boolean) => void}} Doing
 */

const STEPS = 200;

/** Ends of its slider: what it may be, or five times its standard. @param {PolicyNumber} n @returns {[number, number] | null} */
function ends(n) {
  const around = Math.max(Math.abs(n.standard), Math.abs(n.value));
  if (n.least === undefined && n.standard <= 0) return null;
  const low = n.least ?? around / 5;
  const high = n.most ?? around * 5;
  return high > low ? [low, high] : null;
}

/** Far ranges go by ratio, so that small values have room. @param {[number, number]} e */
const byRatio = ([low, high]) => low > 0 && high / low > 30;

/** @param {PolicyNumber} n @param {number} value */
function position(n, value) {
  const e = /** @type {[number, number]} */ (ends(n));
  const v = Math.min(e[1], Math.max(e[0], value));
  if (byRatio(e)) return Math.round((Math.log(v / e[0]) / Math.log(e[1] / e[0])) * STEPS);
  const curve = isSkewed(n, e) ? 1 / 3 : 1;
  return Math.round(((v - e[0]) / (e[1] - e[0])) ** curve * STEPS);
}

/** From zero to far beyond what is usual. @param {PolicyNumber} n @param {[number, number]} e */
const isSkewed = (n, e) => e[0] >= 0 && e[1] > 12 * Math.max(n.standard, 1e-9);

/** What a position of its slider means, to two or three digits. @param {PolicyNumber} n @param {number} at */
export function slid(n, at) {
  const e = /** @type {[number, number]} */ (ends(n));
  const share = at / STEPS;
  const value = byRatio(e) ? e[0] * (e[1] / e[0]) ** share : e[0] + (e[1] - e[0]) * share ** (isSkewed(n, e) ? 3 : 1);
  if (value === 0) return 0;
  const size = 10 ** (Math.floor(Math.log10(Math.abs(value))) - 1);
  return Math.min(e[1], Math.max(e[0], Math.round(Math.round(value / size) * size * 1e9) / 1e9));
}

/** What a number may be, in words. @param {PolicyNumber} n */
export function range(n) {
  const text = (/** @type {number} */ v) => plain(shown(v, n));
  if (n.least !== undefined && n.most !== undefined) return words.from(text(n.least), text(n.most));
  return n.least !== undefined ? words.atLeast(text(n.least)) : '';
}

/** @param {PolicyNumber} n @param {Doing} doing */
function item(n, doing) {
  const name = nameOf(n.path);
  const value = doing.draft.get(n.path) ?? n.value;
  const wrong = doing.wrong.get(n.path);
  const changed = doing.draft.has(n.path);
  const id = `n-${n.path.replaceAll('.', '-')}`;
  return html`
    <li class=${changed ? 'number changed' : 'number'} data-path=${n.path}>
      <div>${doing.mayChange ? html`<label class="name" for=${id}>${name}</label>` : html`<b class="name">${name}</b>`}
        <p class="hint" id="${id}-about">${aboutOf(n)} ${range(n) ? html`<span class="range">(${range(n)})</span>` : nothing}</p>
        ${n.ofGroups.length ? html`<p class="mind">${words.ofGroups(n.ofGroups.map((g) => `${g.group} ${amount(g.value, n)}`).join(', '))}</p>` : nothing}</div>
      <div class="setting">
        ${doing.mayChange ? html`
          ${ends(n) ? html`<input type="range" min="0" max=${STEPS} aria-label=${words.slider(name)} aria-valuetext=${amount(value, n)} .value=${String(position(n, value))}
            @input=${(/** @type {any} */ e) => doing.slide(n, slid(n, Number(e.target.value)))}>` : html`<span></span>`}
          <span class="field"><input id=${id} type="number" step="any" inputmode="decimal" aria-describedby="${id}-about" aria-invalid=${wrong ? 'true' : nothing}
            .value=${String(shown(value, n))} @change=${(/** @type {any} */ e) => doing.set(n, e.target.value)}><span class="unit">${unitOf(n)}</span></span>
          ${wrong ? html`<p class="told" role="alert">${wrong}</p>` : nothing}` : html`<b>${amount(n.value, n)}</b>`}
        <p class="beside-number">${changed ? html`<span>${words.inForce(amount(n.value, n))}</span>` : nothing}
          ${n.standard !== n.value || changed ? html`<span>${words.product(amount(n.standard, n))}</span>` : nothing}
          ${doing.mayChange && changed ? html`<button type="button" class="plain-button" aria-label="${words.reset}: ${name}" @click=${() => doing.reset(n)}>${words.reset}</button>` : nothing}
          ${doing.mayChange && value !== n.standard ? html`<button type="button" class="plain-button" aria-label="${words.toProduct}: ${name}" @click=${() => doing.toProduct(n)}>${words.toProduct}</button>` : nothing}</p>
      </div>${doing.effect(n.path, changed)}</li>`;
}

/** @param {PolicyNumber[]} numbers @param {Doing} doing */
function wanted(numbers, doing) {
  const find = doing.find.trim().toLowerCase();
  return numbers.filter((n) => (!doing.onlyOwn || n.value !== n.standard || doing.draft.has(n.path))
    && (!find || `${nameOf(n.path)} ${n.path} ${n.text}`.toLowerCase().includes(find)));
}

/** Every number, by group. @param {PolicyNumber[]} all @param {Doing} doing */
export function numberParts(all, doing) {
  const seen = wanted(all, doing);
  const narrowed = doing.find.trim() !== '' || doing.onlyOwn;
  const groups = Object.keys(words.groups);
  return html`
    <section id="numbers"><h2>${words.numbers}</h2>
      ${doing.draft.size ? html`<p class="to-changes"><a href="#changes">${words.toChanges(doing.draft.size)}</a></p>` : nothing}
      <form class="filter" role="search" @submit=${(/** @type {Event} */ e) => e.preventDefault()}>
        <label>${words.find}<input type="search" name="find" .value=${doing.find} @input=${(/** @type {any} */ e) => doing.seek(e.target.value, doing.onlyOwn)}></label>
        <label class="check"><input type="checkbox" .checked=${doing.onlyOwn} @change=${(/** @type {any} */ e) => doing.seek(doing.find, e.target.checked)}> ${words.onlyOwn}</label></form>
      ${seen.length === 0 ? html`<p class="well">${words.none}</p>` : nothing}
      ${groups.map((group) => {
        const [name, about] = words.groups[group];
        const own = seen.filter((n) => n.path.startsWith(`${group}.`));
        const changed = own.filter((n) => doing.draft.has(n.path)).length;
        const other = own.filter((n) => n.value !== n.standard).length;
        if (own.length === 0) return nothing;
        return html`<details class="panel numbers-of" data-group=${group} ?open=${narrowed || doing.open.has(group)} @toggle=${(/** @type {any} */ e) => { if (!narrowed) doing.toggle(group, e.target.open); }}>
          <summary><h3>${name}</h3> <span class="hint">${words.countIn(own.length)}</span>
            ${other ? html`<span class="tag">${words.ownIn(other)}</span>` : nothing}${changed ? html` <span class="tag">${words.changedIn(changed)}</span>` : nothing}</summary>
          <p>${about}</p>
          ${narrowed || doing.open.has(group) ? html`<ul class="numbers-list">${own.map((n) => item(n, doing))}</ul>` : nothing}</details>`;
      })}
    </section>`;
}

/** What a text in a field means; NaN where it is no number. @param {PolicyNumber} n @param {string} text */
export const read = (n, text) => (text.trim() === '' ? NaN : Math.round((Number(text) / factor(n)) * 1e12) / 1e12);

/** What is wrong with a value, empty where nothing is. @param {PolicyNumber} n @param {number} value */
export function wrongWith(n, value) {
  if (Number.isNaN(value)) return words.wrong(range(n) || '0');
  return (n.least !== undefined && value < n.least) || (n.most !== undefined && value > n.most) ? words.wrong(range(n)) : '';
}
