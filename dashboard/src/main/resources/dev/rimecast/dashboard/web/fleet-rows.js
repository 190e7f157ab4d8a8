// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { causeLine, iceLine, isCare, isHeld, stateAlone } from './alert-parts.js';
import { now } from './clock.js';
import { isPressing, markOf } from './fleet-groups.js';
import { ago, DAY, rough, when } from './format.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { conditions, phases, word } from './words.js';

/** @typedef {import('./api.js').FleetRow} FleetRow */
/** @typedef {import('./api.js').AlertSummary} AlertSummary */

/** The time left, in words. @param {AlertSummary} alert @param {string | undefined} actBy */
export function leftText(alert, actBy) {
  if (alert.clearedAt) return t.left.ended;
  if (isHeld(alert)) return t.left.held;
  if (alert.stage === 'stopped') return t.left.stopped;
  if (isPressing(alert)) return t.left.limit;
  if (!actBy) return isCare(alert) ? t.left.due : t.left.none;
  const left = Date.parse(actBy) - now();
  if (left <= 0) return t.left.overdue(rough(left));
  return rough(left);
}

/** By when somebody must act. @param {AlertSummary} alert @param {string | undefined} actBy */
export function actText(alert, actBy) {
  if (alert.clearedAt || isHeld(alert)) return '–';
  if (actBy) return when(actBy);
  return isPressing(alert) ? t.left.now : isCare(alert) ? '–' : t.fleet.noDate;
}

/**
 * A runway that gets shorter: two weeks fill it, and the first day has half of it, since hours matter there.
 * Decoration: the words beside it say the same.
 * @param {AlertSummary} alert @param {string | undefined} actBy
 */
export function runway(alert, actBy) {
  if (alert.clearedAt || isHeld(alert)) return nothing;
  const gone = isPressing(alert);
  const left = actBy && !gone ? Math.max(0, Date.parse(actBy) - now()) : 0;
  const share = Math.min(1, Math.log1p((left / DAY) * 6) / Math.log1p(14 * 6));
  const undated = !actBy && !gone;
  return html`<svg class="runway ${undated ? 'undated' : ''}" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">
    <line class="ground" x1="0" y1="3" x2="100" y2="3"></line>
    ${undated ? nothing : html`<svg><rect class="ahead" x="0" y="1" width=${Math.max(2, Math.round(share * 100))} height="4"></rect></svg>`}
  </svg>`;
}

/** @param {FleetRow} row */
export function attentionRow(row) {
  const alert = /** @type {AlertSummary} */ (row.leading);
  return html`
    <li class="row stage-${markOf(alert)}" data-machine=${row.machine}>
      <div class="left"><b class="amount">${leftText(alert, row.actBy)}</b>${runway(alert, row.actBy)}</div>
      <div class="which"><a class="id" href="/machines/${row.machine}">${row.machine}</a>
        <span class="place">${row.siteName}${row.room ? `, ${row.room}` : ''}</span></div>
      <div class="wrong">
        <a class="what" href="/alerts/${alert.id}">${word(conditions, alert.condition)}</a>
        <span class="state">${stateAlone(alert)}</span>
        <p class="summary">${prose(alert.summary)}</p>
        <p class="likely">${causeLine(alert)} <span class="since">${t.since} ${when(alert.raisedAt)}</span></p>
        ${alert.iceSays === 'short' ? iceLine(alert) : nothing}
        ${row.openAlerts > 1 ? html`<p class="more"><a href="/machines/${row.machine}">${t.fleet.more(row.openAlerts - 1)}</a></p>` : nothing}
      </div>
      <div class="act"><span class="label">${t.fleet.columns.act}</span> ${actText(alert, row.actBy)}</div>
      <div class="who"><span class="label">${t.fleet.columns.who}</span> ${alert.hasIt ?? html`<span class="nobody">${t.fleet.nobody}</span>`}</div>
    </li>`;
}

/** @param {FleetRow} row */
export function quietRow(row) {
  const doing = row.phase ? word(phases, row.phase) : '';
  const read = row.lastReadingAt ? ago(row.lastReadingAt) : t.fleet.never;
  return html`
    <li class="calm" data-machine=${row.machine}>
      <a class="id" href="/machines/${row.machine}">${row.machine}</a>
      <span class="place">${row.siteName}${row.room ? `, ${row.room}` : ''}</span>
      <span class="doing">${doing}${doing ? ' · ' : ''}${read}</span>
    </li>`;
}
