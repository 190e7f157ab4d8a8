// @ts-check
import { number, seconds } from './format.js';
import { t } from './texts.js';

/** @typedef {import('./api.js').System} System */
/**
 * @typedef {{stage: string, key: string, what: string, rate: number | null, total: number, text: string, tooMuch: boolean}} Flow
 *   rate: a minute; null while it is not known, and for what only stands. text: the total, or what stands now, in its unit
 */

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
  ['history', 'written', 'rimecast.history.records', {}],
  ['history', 'unreadable', 'rimecast.history.unreadable', {}],
  ['history', 'failures', 'rimecast.history.failures', {}],
];

const STAGES = ['ingest', 'analytics', 'alerts', 'history'];

/**
 * What stands at the moment, without a rate: stage, gauge, labels, unit, and beyond which value it stands out: where the rules of
 * docs/operations.md speak up. Analytics is behind by time: its records that wait are known as of the last fetch only.
 * @type {[string, string, string, Record<string, string>, 'records' | 'seconds', number][]}
 */
const STANDING = [
  ['ingest', 'inFlight', 'rimecast.ingest.in.flight.packs', {}, 'records', Infinity],
  ['ingest', 'stalled', 'rimecast.ingest.stalled.seconds', {}, 'seconds', 30],
  ['analytics', 'behind', 'rimecast.analytics.behind.seconds', {}, 'seconds', 300],
  ['alerts', 'findingsWait', 'rimecast.alerts.lag', { topic: 'findings' }, 'records', 1_000],
  ['alerts', 'allWait', 'rimecast.alerts.lag', {}, 'records', 100_000],
  ['history', 'unread', 'rimecast.history.lag.records', {}, 'records', 100_000],
  ['history', 'unwritten', 'rimecast.history.waiting.seconds', {}, 'seconds', 900],
];

/** What a line about a stage says of it: how much passes, and how far behind it is. @type {Record<string, string[]>} */
const LINES = { ingest: ['stored', 'stalled'], analytics: ['readings', 'behind'], alerts: ['taken', 'findingsWait'], history: ['written', 'unwritten'] };

/** @param {System} system @param {string} name @param {Record<string, string>} labels */
function sum(system, name, labels) {
  const found = system.counters.filter((c) => c.name === name && Object.entries(labels).every(([k, v]) => c.labels[k] === v));
  return found.length ? found.reduce((all, c) => all + c.value, 0) : null;
}

/** @param {string} key */
const words = (key) => t.system.flows[/** @type {'stored'} */ (key)];

/** A rate as it is read. @param {number | null} rate */
export const rateText = (rate) => (rate === null ? '–' : number(rate, rate < 10 ? 1 : 0));

/** @param {System} system @param {System | null} before @param {number} span seconds between the two @returns {Flow[]} */
export function flows(system, before, span) {
  const counted = COUNTED.map(([stage, key, name, labels]) => {
    const total = sum(system, name, labels);
    if (total === null) return null;
    const earlier = before && sum(before, name, labels);
    const rate = earlier === null || span <= 0 ? null : Math.max(0, ((total - earlier) * 60) / span);
    return { stage, key, what: words(key), rate, total, text: number(total, 0), tooMuch: false };
  });
  const standing = STANDING.map(([stage, key, name, labels, unit, most]) => {
    const total = sum(system, name, labels);
    if (total === null) return null;
    return { stage, key, what: words(key), rate: null, total, text: unit === 'seconds' ? seconds(total) : number(total, 0), tooMuch: total > most };
  });
  const all = [...counted, ...standing].filter((flow) => flow !== null);
  return STAGES.flatMap((stage) => all.filter((flow) => flow.stage === stage));
}

/** How much passes a stage, and how far behind it is, in words. @param {string} stage @param {Flow[]} all @returns {{text: string, tooMuch: boolean}[]} */
export function stageLine(stage, all) {
  return (LINES[stage] ?? []).flatMap((key) => {
    const flow = all.find((f) => f.key === key);
    if (!flow) return [];
    const say = t.system.lines[/** @type {'stored'} */ (key)];
    const amount = LINES[stage][0] === key ? flow.rate : flow.total;
    return amount === null ? [] : [{ text: say(LINES[stage][0] === key ? rateText(flow.rate) : flow.text, amount), tooMuch: flow.tooMuch }];
  });
}

/** Stages that are not in this process. @param {Iterable<string>} here those that it says its health of @param {Flow[]} all */
export function elsewhere(here, all) {
  const known = new Set([...here, ...all.map((flow) => flow.stage)]);
  return STAGES.filter((stage) => !known.has(stage));
}
