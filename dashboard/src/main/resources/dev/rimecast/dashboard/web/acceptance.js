// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { quantity, when } from './format.js';
import { t } from './texts.js';
import { conditions, quantities, word } from './words.js';

/** @typedef {import('./api.js').Acceptance} Acceptance */

/** @param {string} verdict */
const mark = (verdict) => html`<span class="judged ${verdict}">${t.acceptance.marks[verdict]}</span>`;

/** @param {{low: number, high: number}} band @param {string} unit */
const band = (band, unit) => t.acceptance.from(quantity(band.low, unit), quantity(band.high, unit));

/** @param {Acceptance['figures'][0]} f */
const row = (f) => html`<tr><th scope="row">${word(quantities, f.feature)}</th><td data-column=${t.acceptance.measured}>${quantity(f.measured, f.unit)}</td>
  <td data-column=${t.acceptance.kind}>${band(f, f.unit)}</td><td data-column=${t.acceptance.kin}>${f.kin ? html`${band(f.kin, f.unit)} <span class="hint">${t.acceptance.others(f.kin.others)}</span>` : t.acceptance.noOthers}</td>
  <td data-column=${t.acceptance.result}>${mark(f.verdict)}</td></tr>`;

/** @param {Acceptance} a */
const rating = (a) => (a.rating ? html`<tr><th scope="row">${t.acceptance.output}</th><td data-column=${t.acceptance.measured}>${quantity(a.rating.madeKgPerDay, 'kg')}</td>
  <td>${t.acceptance.allowed(quantity(a.rating.allowedKgPerDay, 'kg'), quantity(a.rating.ratedKgPerDay, 'kg'))}</td><td class="wide">–</td><td data-column=${t.acceptance.result}>${mark(a.rating.verdict)}</td></tr>` : nothing);

/** @param {Acceptance} a */
const place = (a) => [
  a.ambientC === undefined ? '' : t.acceptance.air(quantity(a.ambientC, 'Cel')),
  a.waterC === undefined ? '' : t.acceptance.water(quantity(a.waterC, 'Cel')),
].filter(Boolean).join(', ');

/** What keeps the verdict open, or speaks against the machine, in words. @param {Acceptance} a */
function why(a) {
  if (a.verdict === 'accepted') return t.acceptance.good;
  if (a.cycles === 0) return t.acceptance.noCycle;
  const bad = [
    ...a.figures.filter((f) => f.verdict === 'not-accepted').map((f) => t.acceptance.beside(word(quantities, f.feature))),
    ...(a.rating?.verdict === 'not-accepted' ? [t.acceptance.tooLittle] : []),
    ...(a.probes === 'swapped' ? [t.acceptance.probes.swapped] : []),
    ...a.wrong.map((c) => t.acceptance.isOpen(word(conditions, c))),
  ];
  if (bad.length) return bad.join(' ');
  if (a.probes === 'not-yet-known') return t.acceptance.probes['not-yet-known'];
  if (!a.figures.length) return a.last ? t.acceptance.notJudged : t.acceptance.warm;
  return a.last ? t.acceptance.rough : t.acceptance.more;
}

/** @param {Acceptance} a @param {number} i */
const one = (a, i) => html`
  <section class="panel acceptance" aria-labelledby="acceptance-${i}" data-verdict=${a.verdict}>
    <h2 id="acceptance-${i}">${t.acceptance.title}: ${t.acceptance.verdicts[a.verdict]}</h2>
    <p>${t.acceptance.reasons[a.reason]} ${when(a.began)}. ${t.acceptance.cycles(a.cycles)}${place(a) ? `, ${place(a)}` : ''}.${a.last || !a.cycles ? '' : ` ${t.acceptance.goesOn}`}</p>
    <p class="lead">${why(a)}</p>
    ${a.figures.length || a.rating ? html`<div class="scroll" tabindex="0" role="region" aria-label=${t.acceptance.table}><table class="proved">
      <thead><tr><th scope="col">${t.acceptance.what}</th><th scope="col">${t.acceptance.measured}</th><th scope="col">${t.acceptance.kind}</th><th scope="col">${t.acceptance.kin}</th><th scope="col">${t.acceptance.result}</th></tr></thead>
      <tbody>${a.figures.map(row)}${rating(a)}</tbody></table></div>` : nothing}
    ${a.cycles && a.probes === 'told-apart' ? html`<p>${t.acceptance.probes['told-apart']}</p>` : nothing}
    <p class="hint">${t.acceptance.hint}</p></section>`;

/** The newest is open; those before are of other places or machines. @param {Acceptance[]} acceptances newest first */
export const acceptanceParts = (acceptances) => (acceptances.length ? html`${one(acceptances[0], 0)}
  ${acceptances.length > 1 ? html`<details class="fold"><summary>${t.acceptance.earlier(acceptances.length - 1)}</summary>${acceptances.slice(1).map((a, i) => one(a, i + 1))}</details>` : nothing}` : nothing);
