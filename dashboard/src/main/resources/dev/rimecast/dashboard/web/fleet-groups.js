// @ts-check
import { isHeld } from './alert-parts.js';
import { DAY } from './format.js';
import { causes, conditions, word } from './words.js';

/** @typedef {import('./api.js').FleetRow} FleetRow */
/** @typedef {'now' | 'day' | 'week' | 'later' | 'undated' | 'over' | 'held' | 'quiet'} Group */

/** @type {Group[]} */
export const groupNames = ['now', 'day', 'week', 'later', 'undated', 'over', 'held', 'quiet'];

/**
 * At a limit or stopped, and not merely noted: a drain that ran too long once has low priority and waits.
 * @param {{stage: string, priority: string}} alert
 */
export function isPressing(alert) {
  return alert.stage !== 'early' && alert.priority !== 'low';
}

/** How it is to be marked: as its stage only where that presses. @param {import('./api.js').AlertSummary} alert */
export const markOf = (alert) => (alert.clearedAt || isHeld(alert) || !isPressing(alert) ? 'early' : alert.stage);

/** @param {FleetRow} row @param {number} now @returns {Group} */
export function groupOf(row, now) {
  const alert = row.leading;
  if (!alert || alert.state === 'normal') return 'quiet';
  if (alert.state === 'returned-unacknowledged' || alert.state.startsWith('latched')) return 'over';
  if (isHeld(alert)) return 'held';
  if (isPressing(alert)) return 'now';
  if (!row.actBy) return 'undated';
  const left = Date.parse(row.actBy) - now;
  if (left <= 0) return 'now';
  if (left <= DAY) return 'day';
  return left <= 7 * DAY ? 'week' : 'later';
}

/**
 * Sorts into groups; within a group the order is kept: the server's is by time left.
 * @param {FleetRow[]} rows @param {number} now
 */
export function grouped(rows, now) {
  /** @type {Map<Group, FleetRow[]>} */
  const groups = new Map(groupNames.map((name) => [name, []]));
  for (const row of rows) /** @type {FleetRow[]} */ (groups.get(groupOf(row, now))).push(row);
  return groups;
}

/** @typedef {{q: string, site: string, show: 'all' | 'open' | 'new', view: 'machine' | 'site'}} Filter */

/** @returns {Filter} from the page's address */
export function filterFromAddress() {
  const query = new URLSearchParams(location.search);
  const show = query.get('show');
  return {
    q: query.get('q') ?? '',
    site: query.get('site') ?? '',
    show: show === 'open' || show === 'new' ? show : 'all',
    view: query.get('view') === 'site' ? 'site' : 'machine',
  };
}

/** @param {Filter} filter */
export function filterToAddress(filter) {
  const query = new URLSearchParams();
  if (filter.q.trim()) query.set('q', filter.q.trim());
  if (filter.site) query.set('site', filter.site);
  if (filter.show !== 'all') query.set('show', filter.show);
  if (filter.view === 'site') query.set('view', filter.view);
  const text = query.toString();
  history.replaceState(null, '', text ? `?${text}` : location.pathname);
}

/** @param {FleetRow} row everything that a person may search for, in lower case */
function haystack(row) {
  const alert = row.leading;
  const wrong = alert
    ? `${word(conditions, alert.condition)} ${alert.summary} ${alert.hasIt ?? ''} ${alert.causes.map((c) => word(causes, c.cause)).join(' ')}`
    : '';
  return `${row.machine} ${row.site} ${row.siteName} ${row.room ?? ''} ${wrong}`.toLowerCase();
}

/** @param {FleetRow[]} rows @param {Filter} filter */
export function filtered(rows, filter) {
  const needles = filter.q.toLowerCase().split(/\s+/).filter(Boolean);
  return rows.filter((row) => {
    if (filter.site && row.site !== filter.site) return false;
    if (filter.show !== 'all' && !row.leading) return false;
    if (filter.show === 'new' && row.leading?.state !== 'unacknowledged') return false;
    if (needles.length === 0) return true;
    const hay = haystack(row);
    return needles.every((needle) => hay.includes(needle));
  });
}
