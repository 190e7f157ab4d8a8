// @ts-check
/** How well work does, each figure with what it counts. */
import { html } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { dayText, when } from './format.js';
import { failure, frame, show, title, waiting } from './frame.js';
import { t } from './texts.js';

/** @type {import('./api.js').Figures | null} */
let figures = null;
let failed = '';

async function load() {
  try {
    figures = await api.figures();
    failed = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

function draw() {
  if (!figures) return show(waiting(t.figures.title, failed, load));
  const f = figures;
  show(html`
    <div class="head"><h1>${t.figures.title}</h1><p class="summary">${t.figures.intro} ${when(f.from, dayText)} – ${when(f.to, dayText)}</p></div>
    ${failed ? failure(failed, load) : ''}
    <div class="scroll panel" tabindex="0" role="region" aria-label=${t.figures.title}><table class="care"><thead><tr>
      <th scope="col">${t.figures.figure}</th><th scope="col">${t.figures.value}</th><th scope="col">${t.figures.definition}</th></tr></thead>
      <tbody>${f.figures.map((each) => html`<tr data-figure=${each.figure}><th scope="row">${t.figures.names[each.figure] ?? each.figure}</th>
        <td>${each.of ? html`<b>${Math.round((each.count / each.of) * 100)} %</b> ${t.figures.of(each.count, each.of)}` : t.figures.none}</td><td>${each.definition}</td></tr>`)}</tbody></table></div>`);
}

frame();
title(t.figures.title);
draw();
load();
