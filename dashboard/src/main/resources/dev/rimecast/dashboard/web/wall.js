// @ts-check
/** The fleet on a wall, by a link: no account, nothing to press, large enough to be read from across the room. */
import { html, nothing, render } from './lib/lit-html/lit-html.js';
import { causeLine, iceLine } from './alert-parts.js';
import { api, Refused } from './api.js';
import { now } from './clock.js';
import { grouped, groupNames, markOf } from './fleet-groups.js';
import { actText, leftText } from './fleet-rows.js';
import { clockText, dateTimeText, when } from './format.js';
import { show, title } from './frame.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { conditions, word } from './words.js';

/** @typedef {import('./api.js').FleetRow} FleetRow */

const LOOKS_EVERY_MS = 15_000;
/** Narrower than that it is no wall, and whoever looks at it can scroll. */
const WALL_PX = 960;

/** Behind the hash sign, which is sent to no server and stands in no log. */
const secret = location.hash.slice(1);
/** @type {FleetRow[] | null} */
let rows = null;
let problem = secret ? '' : t.wall.noLink;
/** Since when nobody answers. @type {number | null} */
let lostAt = null;
let answeredAt = Date.now();
/** How many rows fit. */
let most = Infinity;

async function look() {
  try {
    rows = (await api.wall(secret)).machines;
    [lostAt, answeredAt] = [null, Date.now()];
  } catch (e) {
    const refused = /** @type {Refused} */ (e);
    if (refused.status === 401 || refused.status === 403) [problem, rows] = [t.wall.ended, null];
    else lostAt ??= answeredAt;
  }
  draw();
}

/** @param {FleetRow} row */
function item(row) {
  const alert = /** @type {import('./api.js').AlertSummary} */ (row.leading);
  return html`
    <li class="row stage-${markOf(alert)}" data-machine=${row.machine}>
      <div class="left"><b class="amount">${leftText(alert, row.actBy)}</b></div>
      <div class="which"><b class="id">${row.machine}</b> <span class="place">${row.siteName}${row.room ? `, ${row.room}` : ''}</span></div>
      <div class="wrong"><b class="what">${word(conditions, alert.condition)}</b>
        <p class="summary">${prose(alert.summary)}</p>
        <p class="likely">${causeLine(alert)} <span class="since">${t.since} ${when(alert.raisedAt)}</span></p>
        ${alert.iceSays === 'short' ? iceLine(alert) : nothing}</div>
      <div class="act"><span class="label">${t.fleet.columns.act}</span> ${actText(alert, row.actBy)}</div>
      <div class="who"><span class="label">${t.fleet.columns.who}</span> ${alert.hasIt ?? t.fleet.nobody}</div>
    </li>`;
}

/** @param {FleetRow[]} all */
function content(all) {
  const groups = grouped(all, now());
  const quiet = groups.get('quiet')?.length ?? 0;
  let left = most;
  const sections = groupNames.filter((name) => name !== 'quiet').map((name) => {
    const members = groups.get(name) ?? [];
    const shown = members.slice(0, Math.max(0, left));
    left -= members.length;
    if (!shown.length) return nothing;
    return html`<section class="group ${name}"><h2>${t.fleet.groups[/** @type {'now'} */ (name)][0]} <span class="count">${members.length}</span></h2>
      <ul class="rows">${shown.map(item)}</ul></section>`;
  });
  return html`
    <div class="wall"><div class="head"><h1>${t.wall.title}</h1>
      <p class="summary">${t.fleet.summary(all.length, (groups.get('now')?.length ?? 0) + (groups.get('day')?.length ?? 0), all.length - quiet)} ${t.wall.asOf} ${dateTimeText(now())}.</p></div>
      <div role="status">${lostAt === null ? nothing : html`<p class="strip stale">${t.wall.lost(clockText(lostAt))}</p>`}</div>
      ${sections}
      ${left < 0 ? html`<p class="more">${t.wall.more(-left)}</p>` : nothing}
      <p class="well">${t.wall.quiet(quiet)}</p></div>`;
}

function draw() {
  if (problem) return show(html`<h1>${t.wall.title}</h1><p class="notice" role="alert">${problem}</p>`);
  if (!rows) return show(html`<h1>${t.wall.title}</h1><p class="quietly" role="status">${lostAt === null ? t.loading : t.wall.lost(clockText(lostAt))}</p>`);
  const all = rows;
  most = Infinity;
  show(content(all));
  if (innerWidth < WALL_PX || document.documentElement.scrollHeight <= innerHeight) return;
  // what does not fit is counted: nobody scrolls a wall
  const items = [...document.querySelectorAll('.wall .row')];
  const room = innerHeight - 140;
  most = Math.max(1, items.filter((e) => e.getBoundingClientRect().bottom <= room).length);
  show(content(all));
}

render(html`<header class="bar"><span class="brand">${t.product}</span></header>`, /** @type {HTMLElement} */ (document.getElementById('top')));
title(t.wall.title);
draw();
if (secret) look();
setInterval(() => { if (!problem) look(); }, LOOKS_EVERY_MS);
addEventListener('resize', draw);
