// @ts-check
import { html } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { frame, show, title } from './frame.js';
import { formEnd, formState, newPasswordFields } from './people-parts.js';
import { t } from './texts.js';

/** Behind the hash sign, which is sent to no server and stands in no log. */
const link = location.hash.slice(1);
history.replaceState(null, '', location.pathname);

const form = formState(async (data) => {
  await api.setUp({ link, name: String(data.get('name')).trim(), password: String(data.get('next')) });
  location.assign('/');
}, draw);

function draw() {
  show(html`
    <h1>${t.setUp.title}</h1>
    ${link ? html`<p class="lead">${t.setUp.intro}</p>
    <form class="panel narrow ack" @submit=${form.submit}>
      <label>${t.people.name}<input name="name" autocomplete="username" minlength="2" maxlength="60" required autofocus></label>
      ${newPasswordFields()}
      ${formEnd(form, t.setUp.send)}
    </form>` : html`<p class="notice" role="alert">${t.setUp.noLink}</p>`}`);
}

frame();
title(t.setUp.title);
draw();
