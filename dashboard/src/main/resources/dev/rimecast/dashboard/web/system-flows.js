// @ts-check
import { t } from './texts.js';

/** @typedef {import('./api.js').System} System */
/** @typedef {{stage: string, what: string, rate: number | null, total: number}} Flow rate: a minute; null while it is not known, and for what only stands */

/** What is counted, in the order of a reading's way: stage, counter, and the labels that tell it from others. @type {[string, string, string, Record<string, string>][]} */
const COUNTED = [
  ['ingest', 'messages', 'rimecast.ingest.messages.received', {}],
  ['ingest', 'received', 'rimecast.ingest.records.received', {}],
  ['ingest', 'stored', 'rimecast.ingest.records.stored', {}],
  ['ingest', 'unclaimed', 'rimecast.ingest.records.unclaimed', {}],
  ['ingest', 'rejected', 'rimecast.ingest.records.rejected', {}],
  ['ingest', 'unsure', 'rimecast.ingest.records.unsure', {}],
  ['analytics', 'readings', 'rimecast.analytics.readings', {}],
  ['analytics', 'cycles', 'rimecast.analytics.cycles', {}],
  ['analytics', 'findings', 'rimecast.analytics.findings', {}],
  ['analytics', 'deadLetters', 'rimecast.analytics.dead.letters', {}],
  ['alerts', 'taken', 'rimecast.alerts.records', { outcome: 'taken' }],
  ['alerts', 'dead', 'rimecast.alerts.records', { outcome: 'dead' }],
];

const STAGES = ['ingest', 'analytics', 'alerts'];

/** What stands at the moment: no rate. @type {[string, string, string][]} */
const STANDING = [
  ['ingest', 'inFlight', 'rimecast.ingest.in.flight.packs'],
  ['analytics', 'lag', 'rimecast.analytics.lag'],
];

/** @param {System} system @param {string} name @param {Record<string, string>} labels */
function sum(system, name, labels) {
  const found = system.counters.filter((c) => c.name === name && Object.entries(labels).every(([k, v]) => c.labels[k] === v));
  return found.length ? found.reduce((all, c) => all + c.value, 0) : null;
}

/** @param {System} system @param {System | null} before @param {number} seconds between the two @returns {Flow[]} */
export function flows(system, before, seconds) {
  const counted = COUNTED.map(([stage, what, name, labels]) => {
    const total = sum(system, name, labels);
    const earlier = before && sum(before, name, labels);
    return total === null ? null : { stage, what: t.system.flows[/** @type {'stored'} */ (what)], rate: earlier === null || seconds <= 0 ? null : Math.max(0, ((total - earlier) * 60) / seconds), total };
  });
  const standing = STANDING.map(([stage, what, name]) => {
    const total = sum(system, name, {});
    return total === null ? null : { stage, what: t.system.flows[/** @type {'lag'} */ (what)], rate: null, total };
  });
  const all = [...counted, ...standing].filter((flow) => flow !== null);
  return STAGES.flatMap((stage) => all.filter((flow) => flow.stage === stage));
}
