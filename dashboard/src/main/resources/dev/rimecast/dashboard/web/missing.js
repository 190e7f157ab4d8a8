// @ts-check
import { html } from './lib/lit-html/lit-html.js';
import { frame, show, title } from './frame.js';
import { t } from './texts.js';

frame();
title(t.missing.title);
show(html`<h1>${t.missing.title}</h1><p>${t.missing.text}</p><p><a href="/">${t.missing.back}</a></p>`);
