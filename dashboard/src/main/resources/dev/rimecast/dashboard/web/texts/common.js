// @ts-check
/** What every page says. */
export const commonTexts = {
  product: 'Rimecast',
  nav: { fleet: 'Fleet', cases: 'Cases', visits: 'Visits', alerts: 'Alerts', notices: 'Notices', events: 'Events', rules: 'Rules', thresholds: 'Thresholds', system: 'System', label: 'Pages' },
  units: { label: 'Temperatures in', c: '°C', f: '°F' },
  loading: 'Loading …',
  retry: 'Try again',
  failed: (/** @type {string} */ why) => `This could not be loaded: ${why}`,
  unreachable: 'the server does not answer',
  stale: (/** @type {string} */ since) => `No live updates since ${since}. What you see may be old; trying again.`,
  productNow: (/** @type {string} */ when) => `now at ${when}`,
  stageNames: /** @type {Record<string, string>} */ ({ ingest: 'Ingest', analytics: 'Analytics', alerts: 'Alerts', history: 'History', network: 'Network' }),
  foot: {
    up: 'All stages work.',
    degraded: 'Working, with limits:',
    down: 'Not all stages work:',
    unknown: 'State of the server not known.',
    version: (/** @type {string} */ v) => `version ${v}`,
  },
  left: { stopped: 'stopped', ended: 'over', held: 'waits', limit: 'at its limit', now: 'now', overdue: (/** @type {string} */ by) => `${by} overdue`, none: 'no date', due: 'due' },
  since: 'since',
  /** Lengths of time, with their units. */
  lengths: {
    seconds: (/** @type {string} */ n) => `${n} s`,
    minutes: (/** @type {string | number} */ n) => `${n} min`,
    minutesAndSeconds: (/** @type {number} */ min, /** @type {string} */ s) => `${min} min ${s} s`,
    hours: (/** @type {number} */ n) => `${n} h`,
    hoursAndMinutes: (/** @type {number} */ h, /** @type {number} */ min) => `${h} h ${min} min`,
    days: (/** @type {number} */ n) => `${n} days`,
    weeks: (/** @type {number} */ n) => `${n} weeks`,
  },
  ago: (/** @type {string} */ text) => `${text} ago`,
  justNow: 'just now',
  confidence: { likely: 'Likely', possible: 'Possible', 'cannot-tell': 'Cannot tell' },
  about: (/** @type {number} */ percent) => `about ${percent} %`,
  or: 'or',
  causeUnknown: 'no cause can be told yet',
  stages: {
    early: 'early: before any limit',
    'at-limit': 'at its limit',
    stopped: 'the machine has stopped',
  },
  priorities: { urgent: 'urgent', high: 'high', medium: 'medium', low: 'low' },
  states: {
    unacknowledged: 'new',
    acknowledged: 'seen',
    'returned-unacknowledged': 'over, not yet seen',
    'latched-unacknowledged': 'over, not yet seen, to be released',
    'latched-acknowledged': 'over and seen, to be released',
    shelved: 'paused',
    'suppressed-by-design': 'not counted',
    'out-of-service': 'out of service',
    normal: 'finished',
  },
  seenBy: (/** @type {string} */ who) => `seen by ${who}`,
  pausedUntil: 'paused until',
  notCounted: (/** @type {string} */ why) => `not counted: ${why}`,
  missing: { title: 'Nothing here', text: 'There is no page at this address.', back: 'To the fleet' },
};

/** @param {number} n */
export function machines(n) {
  return n === 1 ? '1 machine' : `${n} machines`;
}
