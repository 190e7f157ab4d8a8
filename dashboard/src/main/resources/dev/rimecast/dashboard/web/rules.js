// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { when } from './format.js';
import { failure, frame, show, title, waiting } from './frame.js';
import { t } from './texts.js';

/** @typedef {import('./api.js').RuleState} RuleState */

/** @type {RuleState[] | null} */
let books = null;
let failed = '';

async function load() {
  try {
    books = await api.rules();
    failed = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

/** Which text decides, and whose it is. @param {RuleState} b */
export const stateParts = (b) => html`
  <p class="${b.problems.length ? 'told' : 'hint'}">${b.problems.length ? t.rules.state.broken(b.version) : b.standard ? t.rules.state.standard : t.rules.state.own(b.version)}</p>
  ${b.savedAt ? html`<p class="hint">${t.rules.saved} ${when(b.savedAt)} ${t.rules.by} ${b.savedBy}: <q>${b.reason}</q></p>` : nothing}`;

/** @param {RuleState} b */
function item(b) {
  const [name, about] = t.rules.books[b.book];
  return html`
    <li class="panel book" data-book=${b.book}>
      <h2><a href="/rules/${b.book}">${name}</a></h2>
      <p>${about}</p>
      ${stateParts(b)}
    </li>`;
}

function draw() {
  if (!books) return show(waiting(t.rules.title, failed, load));
  show(html`
    <div class="head"><h1>${t.rules.title}</h1><p class="summary">${t.rules.intro}</p></div>
    ${failed ? failure(failed, load) : nothing}
    <ul class="books">${books.map(item)}</ul>`);
}

if (document.body.dataset.page === 'rules') {
  frame();
  title(t.rules.title);
  draw();
  load();
}
