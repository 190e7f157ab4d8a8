// @ts-check
import { html, nothing, render } from './lib/lit-html/lit-html.js';
import { api, Refused } from './api.js';
import { utcText, when } from './format.js';
import { show, title } from './frame.js';
import { t } from './texts.js';
import { kilograms } from './weighed.js';

/** @typedef {import('./api.js').SiteCheck} SiteCheck */

const LOOKS_EVERY_MS = 20_000;

/** Behind the hash sign, which is sent to no server and stands in no log. It stays there, so that the page can be loaded again. */
const link = location.hash.slice(1);

/** @type {SiteCheck | null} */
let check = null;
let problem = '';
let notSent = '';
let sending = false;
/** Whether the last look was answered by nobody. */
let lost = false;

async function look() {
  if (!link) problem = t.siteCheck.unknown;
  if (problem) return draw();
  try {
    check = await api.siteCheck({ link });
    problem = '';
    lost = false;
  } catch (e) {
    failed(/** @type {Refused} */ (e));
  }
  draw();
}

/** @param {Refused} refused */
function failed(refused) {
  if (refused.status === 404) problem = t.siteCheck.unknown;
  else if (refused.status === 410) problem = t.siteCheck.ended;
  else if (check) lost = true;
  else problem = t.failed(refused.message);
}

/** @param {string} answer */
async function send(answer) {
  if (!check?.check || sending) return;
  sending = true;
  notSent = '';
  draw();
  try {
    check = await api.answerSiteCheck({ link, check: check.check.id, answer });
  } catch (e) {
    const refused = /** @type {Refused} */ (e);
    if (refused.status === 409 && refused.problem.current) check = /** @type {SiteCheck} */ (refused.problem.current);
    else if (refused.status === 404 || refused.status === 410) failed(refused);
    else notSent = t.siteCheck.notSent(refused.message);
  }
  sending = false;
  draw();
  /** @type {HTMLElement | null} */ (document.querySelector('.site-check h2'))?.focus();
}

/** What was noted of a weighed harvest, or why it was not. */
let weighed = '';

/** @param {SubmitEvent} e */
async function weigh(e) {
  e.preventDefault();
  const form = /** @type {HTMLFormElement} */ (e.target);
  if (sending) return;
  const kg = kilograms(String(new FormData(form).get('kilograms')));
  sending = true;
  draw();
  try {
    check = await api.weighOnSite({ link, kilograms: kg });
    weighed = t.siteCheck.weighed(kg);
    form.reset();
  } catch (e) {
    const refused = /** @type {Refused} */ (e);
    if (refused.status === 404 || refused.status === 410) failed(refused);
    else weighed = t.siteCheck.notSent(refused.message);
  }
  sending = false;
  draw();
}

const weighing = () => html`
  <details class="table weigh"><summary>${t.siteCheck.weigh}</summary>
    <p>${t.siteCheck.howToWeigh}</p>
    <form class="filter" @submit=${weigh}><label>${t.weighed.kilograms}<input name="kilograms" type="number" inputmode="decimal" min="0.01" max="50" step="any" required autocomplete="off"></label>
      <button ?disabled=${sending}>${t.weighed.send}</button></form></details>
  <div role="status">${weighed ? html`<p class="told">${weighed}</p>` : nothing}</div>`;

/** @param {string} text */
const sentence = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** @param {SiteCheck} c */
function asked(c) {
  const now = c.check;
  if (!now) return nothing;
  return html`
    <section class="panel" data-check=${now.id} aria-labelledby="check-title">
      <h2 id="check-title" tabindex="-1">${t.siteCheck.number(c.number, c.most)}</h2>
      <p class="ask">${now.ask}</p>
      <div class="choices">${now.choices.map((choice) => html`
        <button type="button" data-answer=${choice.answer} ?disabled=${sending} @click=${() => send(choice.answer)}>${sentence(choice.text)}</button>`)}
        <button type="button" class="no-ice" data-answer="still-no-ice" ?disabled=${sending} @click=${() => send('still-no-ice')}>${t.siteCheck.stillNoIce}</button></div>
      <div role="alert">${notSent ? html`<p class="told">${notSent}</p>` : nothing}</div>
    </section>`;
}

/** @param {SiteCheck} c */
function state(c) {
  if (c.state === 'over' && c.receipt) {
    const by = c.receipt.by;
    return html`<section class="well" data-state="over"><h2 tabindex="-1">${t.siteCheck.over}</h2>
      <p title=${utcText(by.at)}>${by.about}: ${t.siteCheck.receipt(by.text, new Date(by.at).toLocaleString(undefined, { weekday: 'short', hour: 'numeric', minute: '2-digit' }), c.receipt.cycles, c.receipt.visited)}</p></section>`;
  }
  if (c.state === 'settled') return html`<p class="well" data-state="settled">${t.siteCheck.settled}</p>`;
  if (c.state === 'watching') {
    return html`<section class="well" data-state="watching"><h2 tabindex="-1">${t.siteCheck.thanks}</h2><p>${t.siteCheck.watching}</p>
      ${c.answers.some((a) => a.putsRight) ? html`<p>${t.siteCheck.cycles(c.cycles, c.goodCycles)}</p>` : nothing}</section>`;
  }
  return asked(c);
}

function draw() {
  if (problem) return show(html`<h1>${t.siteCheck.title}</h1><p class="notice" role="alert">${problem}</p>`);
  if (!check) return show(html`<h1>${t.siteCheck.title}</h1><p class="quietly" role="status">${t.loading}</p>`);
  const c = check;
  show(html`
    <div class="site-check">
      <h1>${t.siteCheck.title}</h1>
      <p class="lead">${t.siteCheck.intro(c.machine, c.siteName)}</p>
      <div role="status">${lost ? html`<p class="notice">${t.siteCheck.lost}</p>` : nothing}</div>
      ${state(c)}
      ${c.answers.length ? html`<section><h2>${t.siteCheck.answered}</h2><ul class="given">${c.answers.map((a) => html`
        <li data-answered=${a.check}><b>${a.about}:</b> ${a.text} <span class="hint">${when(a.at)}</span></li>`)}</ul></section>` : nothing}
      ${c.state === 'settled' ? nothing : weighing()}
      <p class="hint" title=${utcText(c.endsAt)}>${t.siteCheck.ends(new Date(c.endsAt).toLocaleString(undefined, { weekday: 'long', hour: 'numeric', minute: '2-digit' }))} ${t.siteCheck.private}</p>
    </div>`);
}

render(html`<header class="bar"><span class="brand">${t.product}</span></header>`, /** @type {HTMLElement} */ (document.getElementById('top')));
title(t.siteCheck.title);
draw();
look();
setInterval(() => { if (!document.hidden && !problem && !sending && check?.state !== 'settled') look(); }, LOOKS_EVERY_MS);
document.addEventListener('visibilitychange', () => { if (!document.hidden && !problem) look(); });
