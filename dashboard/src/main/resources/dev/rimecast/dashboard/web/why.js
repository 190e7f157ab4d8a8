// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { measureLine } from './alert-parts.js';
import { api, Refused } from './api.js';
import { number, quantity, when } from './format.js';
import { failure, frame, show, title, waiting } from './frame.js';
import { t } from './texts.js';
import { whyTexts as words } from './texts/why.js';
import { prose } from './units.js';
import { conditions, quantities, word } from './words.js';

/** @typedef {import('./api.js').Ground} Ground */
/** @typedef {import('./api.js').Look} Look */

const id = decodeURIComponent(location.pathname.split('/')[2] ?? '');
/** @type {import('./api.js').Why | null} */
let why = null;
let failed = '';

async function load() {
  try {
    why = await api.why(id);
    failed = '';
    title(`${words.title} ${word(conditions, why.condition)}, ${why.machine ?? why.gateway ?? why.siteName}`);
  } catch (e) {
    failed = e instanceof Refused && e.status === 404 ? t.alert.missing : /** @type {Error} */ (e).message;
  }
  draw();
}

/** As many digits as it has. @param {number} value */
const plain = (value) => number(value, Number.isInteger(value) ? 0 : Number.isInteger(Math.round(value * 1000) / 100) ? 1 : 2);

/** @param {number} value @param {string} unit */
function amount(value, unit) {
  switch (unit) {
    case '/': return words.share(plain(Math.round(value * 1000) / 10));
    case '': return plain(value);
    case 'min': case 'h': case 'days': return `${plain(value)} ${words.units[unit]}`;
    default: return quantity(value, unit);
  }
}

/** @param {string} entry */
function label(entry) {
  const [section, what, number_] = entry.split('.');
  return section === 'features' && number_ === 'material' ? words.material(word(quantities, what.replaceAll('_', '-'))) : word(words.entries, entry);
}

/** @param {Ground} g */
const ground = (g) => html`
  <li data-entry=${g.entry}><b>${label(g.entry)}: ${amount(g.value, g.unit)}</b>
    <span class="whose">${words.sources[g.source]}${g.standard !== undefined && g.standard !== g.value ? html`; ${words.standard(amount(g.standard, g.unit))}` : nothing}</span>
    <p class="hint"><code>${g.entry}</code>${g.about ? html` ${prose(g.about)}` : nothing}</p></li>`;

/** @param {string} heading @param {Look} look */
const lookParts = (heading, look) => html`
  <section class="panel"><h2>${heading}: ${when(look.at)}</h2>
    <p>${prose(look.summary)} <span class="tag">${t.stages[look.stage]}</span></p>
    ${measureLine(look)}
    <h3>${words.decidedBy}</h3>
    ${look.decidedBy.length === 0 ? html`<p>${words.noNumbers}</p>` : html`<ul class="grounds">${look.decidedBy.map(ground)}</ul>`}</section>`;

function draw() {
  if (!why) return show(waiting(words.title, failed, load));
  const w = why;
  show(html`
    <article class="one">
      <div class="head"><p><a href="/alerts/${w.alert}">${words.back}</a></p><h1>${words.title}</h1>
        <p class="where"><b>${word(conditions, w.condition)}</b>, ${w.machine ? html`<a class="id" href="/machines/${w.machine}">${w.machine}</a>` : html`<b class="id">${w.gateway ?? w.site}</b>`} ${w.siteName}</p>
        <p class="lead">${word(words.conditions, w.condition)}</p></div>
      ${failed ? failure(failed, load) : nothing}
      ${lookParts(words.when, w.raised)}
      ${w.now ? lookParts(words.now, w.now) : nothing}
      <p class="hint">${words.versions(w.policyVersion, w.detectorVersion)}</p>
    </article>`);
}

frame();
title(words.title);
draw();
load();
addEventListener('units-changed', draw);
