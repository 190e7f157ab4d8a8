// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { rough, when } from './format.js';
import { plotsAround } from './threshold-sides.js';
import { amount, nameOf } from './threshold-words.js';
import { thresholdTexts as words } from './texts/thresholds.js';
import { prose } from './units.js';
import { causes, conditions, word } from './words.js';

/** @typedef {import('./thresholds-api.js').Differing} Differing */
/** @typedef {import('./thresholds-api.js').Change} Change */
/** @typedef {import('./thresholds-api.js').PolicyNumber} PolicyNumber */

/** The machine's plots around the alert. @param {Differing} d */
const plotsOf = (d) => plotsAround(d.machine ?? '', Math.min(...[d.current, d.candidate].flatMap((s) => (s ? [Date.parse(s.raisedAt)] : []))));

/** @param {import('./thresholds-api.js').Stood | undefined} s */
const stood = (s) => (s ? html`${when(s.raisedAt)}<br><span class="hint">${s.clearedAt ? html`${words.until} ${when(s.clearedAt)}` : words.stands}</span>` : html`<span class="hint">${words.notRaised}</span>`);

/** How far the two are apart. @param {Differing} d */
function apart(d) {
  if (!d.current || !d.candidate) return nothing;
  if (d.kind === 'earlier' || d.kind === 'later') return words.earlierBy(rough(Date.parse(d.current.raisedAt) - Date.parse(d.candidate.raisedAt)));
  return d.current.clearedAt && d.candidate.clearedAt ? words.earlierBy(rough(Date.parse(d.current.clearedAt) - Date.parse(d.candidate.clearedAt))) : nothing;
}

/** @param {Differing} d @param {boolean} judged */
const row = (d, judged) => html`
  <tr><th scope="row"><b>${words.diffKinds[d.kind] ?? d.kind}</b> ${apart(d)}</th>
    <td data-column=${words.diffColumns.where}>${d.machine ? html`<a href="/machines/${d.machine}">${d.machine}</a><br><a class="hint" href=${plotsOf(d)}>${words.plots}</a>` : html`${d.gateway ?? d.site}`}</td>
    <td data-column=${words.diffColumns.what}><b>${word(conditions, d.condition)}</b>${d.cause ? html`<br>${word(causes, d.cause)}` : nothing}<br><span class="hint">${prose(d.summary)}</span></td>
    <td data-column=${words.diffColumns.current}>${stood(d.current)}</td>
    <td data-column=${words.diffColumns.candidate}>${stood(d.candidate)}</td>
    ${judged ? html`<td data-column=${words.diffColumns.judged}>${d.judged ? words.judged[d.judged] : '–'}</td>` : nothing}</tr>`;

const MANY = 5;

/** Where they are, the most first: one line for each machine and condition. @param {Differing[]} list */
function whereParts(list) {
  if (list.length <= MANY) return nothing;
  /** @type {Map<string, {of: Differing, kinds: Map<string, number>, all: number}>} */
  const places = new Map();
  for (const d of list) {
    const key = `${d.machine ?? d.gateway ?? d.site} ${d.condition}`;
    const place = places.get(key) ?? { of: d, kinds: new Map(), all: 0 };
    place.kinds.set(d.kind, (place.kinds.get(d.kind) ?? 0) + 1);
    place.all++;
    places.set(key, place);
  }
  return html`<ul class="changes" aria-label=${words.byMachine}>${[...places.values()].sort((a, b) => b.all - a.all).map(({ of, kinds }) => html`
    <li>${of.machine ? html`<a href="/machines/${of.machine}">${of.machine}</a>` : of.gateway ?? of.site}, ${word(conditions, of.condition)}:
      ${[...kinds].map(([kind, n]) => `${n} ${words.diffKinds[kind] ?? kind}`).join(', ')}</li>`)}</ul>`;
}

/** @param {Differing[]} list @param {number} count of all @param {boolean} judged */
export const differenceParts = (list, count, judged) => html`
  <h3>${words.differences(count)}</h3>
  ${list.length < count ? html`<p class="hint">${words.shown(list.length)}</p>` : nothing}
  ${whereParts(list)}
  ${list.length === 0 ? nothing : html`<div class="sheet differences" tabindex="0" role="region" aria-label=${words.differences(count)}><table><thead><tr>
      <th scope="col">${words.diffColumns.kind}</th><th scope="col">${words.diffColumns.where}</th><th scope="col">${words.diffColumns.what}</th>
      <th scope="col">${words.diffColumns.current}</th><th scope="col">${words.diffColumns.candidate}</th>${judged ? html`<th scope="col">${words.diffColumns.judged}</th>` : nothing}</tr></thead>
    <tbody>${list.map((d) => row(d, judged))}</tbody></table></div>`}`;

/** What was changed, number by number. @param {Change[]} changes @param {PolicyNumber[]} numbers */
export const changeList = (changes, numbers) => (changes.length === 0 ? nothing : html`
  <ul class="changes">${changes.map((c) => {
    const n = numbers.find((each) => each.path === c.path);
    return html`<li>${nameOf(c.path)}${c.group ? ` (${c.group})` : ''}: ${amount(c.before, n)} ${words.becomes} <b>${amount(c.after, n)}</b></li>`;
  })}</ul>`);
