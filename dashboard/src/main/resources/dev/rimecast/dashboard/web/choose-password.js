// @ts-check
import { html } from './lib/lit-html/lit-html.js';
import { api, Refused } from './api.js';
import { frame, show, title } from './frame.js';
import { formEnd, formState, newPasswordFields } from './people-parts.js';
import { t } from './texts.js';

/** Behind the hash sign, which is sent to no server and stands in no log. */
const link = location.hash.slice(1);
history.replaceState(null, '', location.pathname);

const form = formState(async (data) => {
  try {
    await api.choosePassword({ link, password: String(data.get('next')) });
  } catch (e) {
    // The password is chosen; coming in takes the code of the second factor, too.
    if (!(e instanceof Refused) || !String(e.problem.type).endsWith(':code-needed')) throw e;
    return location.assign('/sign-in');
  }
  location.assign('/');
}, draw);

function draw() {
  show(html`
    <h1>${t.choose.title}</h1>
    ${link ? html`<p class="lead">${t.choose.intro}</p>
    <form class="panel narrow ack" @submit=${form.submit}>
      ${newPasswordFields('first')}
      ${formEnd(form, t.choose.send)}
    </form>` : html`<p class="notice" role="alert">${t.choose.noLink}</p>`}`);
}

frame();
title(t.choose.title);
draw();
