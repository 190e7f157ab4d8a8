// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api, Refused } from './api.js';
import { frame, show, title } from './frame.js';
import { formEnd, formState, goOn } from './people-parts.js';
import { codeField } from './second-factor.js';
import { t } from './texts.js';

/** @type {{id: string, name: string, role: import('./api.js').Role}[]} */
let demos = [];
let failed = '';
/** Name and password are right, and a code is asked for. */
let needsCode = false;

const form = formState(async (data) => {
  const code = String(data.get('code') ?? '').trim();
  try {
    await api.signIn({ name: String(data.get('name')).trim(), password: String(data.get('password')), ...(code ? { code } : {}) });
  } catch (e) {
    if (!(e instanceof Refused) || !String(e.problem.type).endsWith(':code-needed')) throw e;
    needsCode = true;
    draw();
    return /** @type {HTMLInputElement | null} */ (document.querySelector('input[name="code"]'))?.focus();
  }
  goOn();
}, draw);

/** Another name or password after all. */
function back() {
  needsCode = false;
  form.message = '';
  draw();
}

/** @param {string} id */
async function enter(id) {
  try {
    await api.enterDemo(id);
    goOn();
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
    draw();
  }
}

const demoPart = () => html`
  <section class="panel narrow" aria-labelledby="demo"><h2 id="demo">${t.signIn.demoTitle}</h2>
    <p class="hint">${t.signIn.demoIntro}</p><p role="alert" class="told">${failed}</p>
    <ul class="enter">${demos.map((d) => html`<li><button type="button" @click=${() => enter(d.id)}>${t.signIn.demoEnter(d.name)}</button></li>`)}</ul></section>`;

function draw() {
  show(html`
    <h1>${t.signIn.title}</h1>
    ${demos.length ? demoPart() : nothing}
    <form class="panel narrow ack" @submit=${form.submit}>
      <label ?hidden=${needsCode}>${t.people.name}<input name="name" autocomplete="username" maxlength="60" required ?autofocus=${demos.length === 0}></label>
      <label ?hidden=${needsCode}>${t.people.password}<input name="password" type="password" autocomplete="current-password" maxlength="2000" required></label>
      ${needsCode ? codeField(true, true) : nothing}
      ${formEnd(form, t.signIn.send)}
      ${needsCode ? html`<p class="hint">${t.factor.lost}</p><p><button type="button" @click=${back}>${t.factor.back}</button></p>`
    : html`<p class="hint">${t.signIn.forgotten}</p>`}
    </form>`);
}

frame();
title(t.signIn.title);
api.demoAccounts().then((all) => { demos = all; }, () => {}).then(draw);
