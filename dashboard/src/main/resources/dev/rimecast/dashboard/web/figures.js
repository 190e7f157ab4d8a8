// @ts-check
/** How well work does, each figure with what it counts. */
import { html } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { fullDate, number, when } from './format.js';
import { failure, frame, show, title, waiting } from './frame.js';
import { notHeldPart } from './not-held.js';
import { t } from './texts.js';

/** @type {import('./api.js').Figures | null} */
let figures = null;
/** @type {import('./api.js').NotHeld[]} */
let notHeld = [];
let failed = '';

async function load() {
  try {
    [figures, notHeld] = await Promise.all([api.figures(), api.notHeld().catch(() => [])]);
    failed = '';
  } catch (e) {
    failed = /** @type {Error} */ (e).message;
  }
  draw();
}

/** Hours speak for themselves; of things the share does. @param {import('./api.js').Figures['figures'][0]} each */
const counted = (each) => (each.unit === 'h'
  ? html`<p><span class="big">${number(each.count, 0)} h</span> ${t.figures.hours(number(each.of, 0), number((each.count / each.of) * 100, 2))}</p>`
  : html`<p><span class="big">${Math.round((each.count / each.of) * 100)} %</span> ${t.figures.of(each.count, each.of)}</p>`);

function draw() {
  if (!figures) return show(waiting(t.figures.title, failed, load));
  const f = figures;
  show(html`
    <div class="head"><h1>${t.figures.title}</h1><p class="summary">${t.figures.intro} ${t.figures.span} ${when(f.from, fullDate)} – ${when(f.to, fullDate)}.</p></div>
    ${failed ? failure(failed, load) : ''}
    <ul class="counted">${f.figures.map((each) => html`<li class="panel" data-figure=${each.figure}>
      <h2>${t.figures.names[each.figure] ?? each.figure}</h2>
      ${each.of ? counted(each) : html`<p class="none">${t.figures.none}</p>`}
      <p class="hint">${each.definition}</p></li>`)}</ul>
    ${notHeldPart(notHeld)}`);
}

frame();
title(t.figures.title);
draw();
load();
