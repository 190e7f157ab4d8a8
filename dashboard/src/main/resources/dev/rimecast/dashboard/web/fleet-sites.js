// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { causeLine, iceLine, stateAlone } from './alert-parts.js';
import { groupNames, groupOf, markOf } from './fleet-groups.js';
import { actText, leftText, runway } from './fleet-rows.js';
import { ago } from './format.js';
import { t } from './texts.js';
import { conditions, word } from './words.js';

/** @typedef {import('./api.js').FleetRow} FleetRow */
/** @typedef {import('./api.js').AlertSummary} AlertSummary */
/** @typedef {import('./fleet-groups.js').Group} Group */
/**
 * @typedef {{site: string, siteName: string, total: number, group: Group, lead: FleetRow, open: FleetRow[], lastReadingAt: string}} SiteRow
 *   total: its machines, also those that a search leaves out. lead: the machine that decides where the site stands. open: machines
 *   with something open, most urgent first
 */

/** So many kinds of trouble, and machines of each, are named; the rest is a click away. */
const KINDS = 4;
const NAMED = 6;

/**
 * Sites in the groups of their most urgent machines. Within a group they come in the order of those machines, which the server sorts by time left.
 * @param {FleetRow[]} shown @param {FleetRow[]} all @param {number} time @returns {Map<Group, SiteRow[]>}
 */
export function sitesInGroups(shown, all, time) {
  /** @type {Map<string, number>} */
  const totals = new Map();
  for (const row of all) totals.set(row.site, (totals.get(row.site) ?? 0) + 1);
  /** @type {Map<string, SiteRow & {place: number, rank: number}>} */
  const sites = new Map();
  // a site that is found by one of its machines stands as it does with all of them
  const found = new Set(shown.map((row) => row.site));
  all.filter((row) => found.has(row.site)).forEach((row, place) => {
    const group = groupOf(row, time);
    const rank = groupNames.indexOf(group);
    let site = sites.get(row.site);
    if (!site) {
      site = { site: row.site, siteName: row.siteName, total: totals.get(row.site) ?? 0, group, lead: row, open: [], lastReadingAt: '', place, rank };
      sites.set(row.site, site);
    }
    if (rank < site.rank) Object.assign(site, { group, lead: row, place, rank });
    if (group !== 'quiet') site.open.push(row);
    if ((row.lastReadingAt ?? '') > site.lastReadingAt) site.lastReadingAt = row.lastReadingAt ?? '';
  });
  /** @type {Map<Group, SiteRow[]>} */
  const groups = new Map(groupNames.map((name) => [name, []]));
  const ordered = [...sites.values()].sort((a, b) => a.place - b.place);
  for (const site of ordered) /** @type {SiteRow[]} */ (groups.get(site.group)).push(site);
  // whoever is quiet is looked for by name
  groups.get('quiet')?.sort((a, b) => a.siteName.localeCompare(b.siteName));
  return groups;
}

/** Machines with the same trouble, of probably the same cause. @param {FleetRow[]} open @returns {AlertSummary[][]} */
function kinds(open) {
  /** @type {Map<string, AlertSummary[]>} */
  const found = new Map();
  for (const row of open) {
    const alert = /** @type {AlertSummary} */ (row.leading);
    const key = `${alert.condition} ${alert.causes[0]?.cause ?? ''} ${alert.confidence} ${alert.state} ${alert.hold?.until ?? ''}`;
    const same = found.get(key);
    if (same) same.push(alert);
    else found.set(key, [alert]);
  }
  return [...found.values()];
}

/** @param {string} site */
const machinesOf = (site) => `/?${new URLSearchParams({ site })}`;

/** @param {AlertSummary[]} same @param {SiteRow} row */
function kind(same, row) {
  const [first] = same;
  const names = same.slice(0, NAMED).map((alert, i) => html`${i > 0 ? ', ' : nothing}<a href="/machines/${alert.machine}">${alert.machine}</a>`);
  return html`<li><a class="what" href="/alerts/${first.id}">${word(conditions, first.condition)}</a> <span class="state">${stateAlone(first)}</span>
    <p class="likely">${causeLine(first)} <span class="at">${names}${same.length > NAMED ? html` <a href=${machinesOf(row.site)}>${t.fleet.sites.moreMachines(same.length - NAMED)}</a>` : nothing}</span></p></li>`;
}

/** Who has its machines. @param {FleetRow[]} open */
function who(open) {
  const names = [...new Set(open.flatMap((row) => row.leading?.hasIt ?? []))];
  const nobody = open.filter((row) => !row.leading?.hasIt).length;
  if (names.length === 0) return html`<span class="nobody">${t.fleet.nobody}</span>`;
  return html`${names.join(', ')}${nobody ? html`; <span class="nobody">${t.fleet.sites.nobodyHas(nobody)}</span>` : nothing}`;
}

/** How the site stands for ice: the same for all its machines that make less. @param {FleetRow[]} open */
function ice(open) {
  const alerts = open.map((row) => /** @type {AlertSummary} */ (row.leading));
  const says = alerts.find((a) => a.iceSays === 'short') ?? alerts.find((a) => a.iceSays === 'enough');
  return says ? iceLine(says) : nothing;
}

/** @param {SiteRow} row */
export function siteRow(row) {
  const alert = /** @type {AlertSummary} */ (row.lead.leading);
  const all = kinds(row.open);
  return html`
    <li class="row stage-${markOf(alert)}" data-site=${row.site}>
      <div class="left"><b class="amount">${leftText(alert, row.lead.actBy)}</b>${runway(alert, row.lead.actBy)}</div>
      <div class="which"><a class="id" href=${machinesOf(row.site)}>${row.siteName}</a>
        <span class="place">${t.fleet.sites.affected(row.open.length, row.total)}</span></div>
      <div class="wrong">${ice(row.open)}
        <ul class="kinds">${all.slice(0, KINDS).map((same) => kind(same, row))}</ul>
        ${all.length > KINDS ? html`<p class="more"><a href=${machinesOf(row.site)}>${t.fleet.sites.moreKinds(all.length - KINDS)}</a></p>` : nothing}</div>
      <div class="act"><span class="label">${t.fleet.columns.act}</span> ${actText(alert, row.lead.actBy)}</div>
      <div class="who"><span class="label">${t.fleet.columns.who}</span> ${who(row.open)}</div>
    </li>`;
}

/** @param {SiteRow} row */
export function quietSite(row) {
  return html`
    <li class="calm" data-site=${row.site}>
      <a class="id" href=${machinesOf(row.site)}>${row.siteName}</a>
      <span class="place">${t.fleet.sites.machines(row.total)}</span>
      <span class="doing">${row.lastReadingAt ? t.fleet.lastReading(ago(row.lastReadingAt)) : t.fleet.never}</span>
    </li>`;
}
