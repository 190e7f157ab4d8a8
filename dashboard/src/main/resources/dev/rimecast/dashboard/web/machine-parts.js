// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { adviceParts, causeLine, evidenceParts, iceLine, isCare, limitLine, needsEyes, stateText } from './alert-parts.js';
import { markOf } from './fleet-groups.js';
import { leftText } from './fleet-rows.js';
import { ago, dateText, number, quantity, when } from './format.js';
import { can } from './frame.js';
import { t } from './texts.js';
import { prose } from './units.js';
import { channels, conditions, phases, word } from './words.js';

/** @typedef {import('./api.js').Machine} Machine */
/** @typedef {import('./api.js').Alert} Alert */

/** @param {string} channel @param {{value: number, text: string, unit: string}} now */
function nowText(channel, now) {
  if (channel === 'phase') return word(phases, now.text);
  if (now.text) return now.text;
  if (channel === 'bin_full' || channel === 'drain_level') return now.value ? t.plots.yes : t.plots.no;
  return quantity(now.value, now.unit);
}

/** @param {Machine} machine */
export function nowTiles(machine) {
  const entries = Object.entries(machine.now);
  if (entries.length === 0) return html`<p class="notice">${t.machine.noReadings}</p>`;
  return html`<dl class="tiles">${entries.map(([channel, now]) => html`
    <div><dt>${word(channels, channel)}</dt><dd>${nowText(channel, now)}</dd><dd class="age">${when(now.at, ago)}</dd></div>`)}</dl>`;
}

/**
 * The first alert stands open; what follows is folded, since it is often the same trouble seen from another side.
 * @param {Alert} whole @param {boolean} first @param {(alert: import('./api.js').AlertSummary) => void} acknowledge
 */
function openAlert(whole, first, acknowledge) {
  const a = whole.alert;
  return html`
    <article class="panel open stage-${markOf(a)}">
      <div class="openhead"><h3><a href="/alerts/${a.id}">${word(conditions, a.condition)}</a></h3>
        <span class="state">${stateText(a)}</span>
        <span class="lefthand">${t.fleet.columns.left}: <b class="amount">${leftText(a, a.actBy)}</b></span></div>
      <p class="lead">${prose(a.summary)}</p>
      <p class="likely">${causeLine(a)} <span class="since">${t.since} ${when(a.raisedAt)}</span></p>
      ${limitLine(a)}
      ${iceLine(a)}
      ${needsEyes(a) && can('acknowledge') ? html`<p class="buttons"><button type="button" class="primary" @click=${() => acknowledge(a)}>${t.ask.acknowledge.title}</button></p>` : nothing}
      <details class="table" ?open=${first && !isCare(a)}><summary>${t.machine.adviceAndEvidence}</summary>
        <div class="two">${adviceParts(whole.advice, a.id, 4)}${evidenceParts(whole, a.id, 4)}</div>
      </details>
    </article>`;
}

/** @param {Machine} machine @param {(alert: import('./api.js').AlertSummary) => void} acknowledge */
export function openAlerts(machine, acknowledge) {
  if (machine.openAlerts.length === 0) return html`<p class="well">${t.machine.nothingOpen}</p>`;
  // what is planned comes after what is wrong
  const sorted = [...machine.openAlerts].sort((a, b) => Number(isCare(a.alert)) - Number(isCare(b.alert)));
  return sorted.map((alert, i) => openAlert(alert, i === 0, acknowledge));
}

/** What this machine's channels cannot show, so that silence is not taken for health. @param {Machine} machine */
export function gaps(machine) {
  const sends = (/** @type {string[]} */ ...names) => names.some((name) => name in machine.now);
  const missing = [
    sends('ambient_temperature') ? '' : t.machine.gaps.ambient_temperature,
    sends('water_temperature') ? '' : t.machine.gaps.water_temperature,
    sends('phase') ? '' : t.machine.gaps.phase,
    !machine.limits.drainLevelSeconds || sends('drain_level', 'drain_level_time', 'drain_run_time') ? '' : t.machine.gaps.drain,
    sends('bin_full') ? '' : t.machine.gaps.bin_full,
    sends('ice_mass') ? '' : t.machine.gaps.ice_mass,
    sends('water_volume') ? '' : t.machine.gaps.water_volume,
    sends('supply_current') ? '' : t.machine.gaps.supply_current,
  ].filter(Boolean);
  return html`<section class="panel"><h2>${t.machine.cannotShow}</h2>
    ${missing.length ? html`<ul>${missing.map((text) => html`<li>${text}</li>`)}</ul>` : html`<p>${t.machine.allShown}</p>`}</section>`;
}

/** @param {Machine} machine */
export function about(machine) {
  const f = t.machine.fields;
  const rows = /** @type {[string, unknown][]} */ ([
    [f.site, machine.site.name], [f.room, machine.room], [f.contact, machine.site.contact], [f.group, machine.modelGroup],
    [f.serial, machine.serial], [f.gateway, machine.gateway], [f.kind, t.machine.kinds[machine.kind]],
    [f.cooling, t.machine.coolings[machine.condenserCooling]], [f.rated, `${number(machine.ratedKgPerDay, 0)} kg/24 h`],
    [f.bin, `${number(machine.binKg, 0)} kg`], [f.refrigerant, machine.refrigerant],
    [f.installed, machine.installed && dateText(machine.installed)], [f.warranty, machine.warrantyUntil && dateText(machine.warrantyUntil)],
  ].filter(([, value]) => value));
  return html`<section class="panel"><h2>${t.machine.about}</h2>
    <dl class="facts">${rows.map(([name, value]) => html`<div><dt>${name}</dt><dd>${value}</dd></div>`)}</dl></section>`;
}
