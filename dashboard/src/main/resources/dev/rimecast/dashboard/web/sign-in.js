// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { frame, show, title } from './frame.js';
import { formEnd, formState, goOn } from './people-parts.js';
import { t } from './texts.js';

/** @type {{id: string, name: string, role: import('./api.js').Role}[]} */
let demos = [];
let failed = '';

const form = formState(async (data) => {
  await api.signIn({ name: String(data.get('name')).trim(), password: String(data.get('password')) });
  goOn();
}, draw);

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
      <label>${t.people.name}<input name="name" autocomplete="username" maxlength="60" required ?autofocus=${demos.length === 0}></label>
      <label>${t.people.password}<input name="password" type="password" autocomplete="current-password" maxlength="2000" required></label>
      ${formEnd(form, t.signIn.send)}
      <p class="hint">${t.signIn.forgotten}</p>
    </form>`);
}

frame();
title(t.signIn.title);
api.demoAccounts().then((all) => { demos = all; }, () => {}).then(draw);
