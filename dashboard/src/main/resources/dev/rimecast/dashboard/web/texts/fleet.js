// @ts-check
import { machines } from './common.js';

/** The fleet, at a desk and on a wall. */
export const fleetTexts = {
  fleet: {
    title: 'Fleet',
    groups: {
      now: ['Now', 'Stopped, at a limit, or past the date'],
      day: ['Within a day', ''],
      week: ['Within a week', ''],
      later: ['Later', 'Datable, more than a week away'],
      undated: ['No date yet', 'Something is seen, but it cannot be dated'],
      over: ['Over, not yet seen', 'The machine is well again; somebody should know'],
      held: ['Paused or not counted', 'Put aside, or meaningless at the moment'],
      quiet: ['Quiet', 'Nothing is wrong with these'],
    },
    siteGroups: {
      now: ['Now', 'A machine there has stopped, is at a limit, or past its date'],
      day: ['Within a day', ''],
      week: ['Within a week', ''],
      later: ['Later', 'Datable, more than a week away'],
      undated: ['No date yet', 'Something is seen, but it cannot be dated'],
      over: ['Over, not yet seen', 'Its machines are well again; somebody should know'],
      held: ['Paused or not counted', 'Put aside, or meaningless at the moment'],
      quiet: ['Quiet', 'Nothing is wrong with any machine there'],
    },
    view: 'List',
    views: { machine: 'machines', site: 'sites' },
    sites: {
      summary: (/** @type {number} */ total, /** @type {number} */ urgent, /** @type {number} */ open) =>
        `${total === 1 ? '1 site' : `${total} sites`}: ${urgent === 0 ? 'none needs' : urgent === 1 ? '1 needs' : `${urgent} need`} you within a day, ${open} with something open, ${total - open} quiet.`,
      machines,
      affected: (/** @type {number} */ n, /** @type {number} */ of) => `${n} of ${machines(of)} affected`,
      moreMachines: (/** @type {number} */ n) => `and ${n} more`,
      moreKinds: (/** @type {number} */ n) => (n === 1 ? 'and 1 more kind of trouble' : `and ${n} more kinds of trouble`),
      nobodyHas: (/** @type {number} */ n) => (n === 1 ? '1 has nobody yet' : `${n} have nobody yet`),
    },
    summary: (/** @type {number} */ total, /** @type {number} */ urgent, /** @type {number} */ open) =>
      `${machines(total)}: ${urgent === 0 ? 'none needs' : urgent === 1 ? '1 needs' : `${urgent} need`} you within a day, ${open} with something open, ${total - open} quiet.`,
    search: 'Search',
    searchHint: 'machine, site, room or what is wrong',
    site: 'Site',
    allSites: 'All sites',
    show: 'Show',
    shows: { all: 'everything', open: 'only what is open', new: 'only what nobody has seen' },
    reset: 'Clear',
    none: 'There is no machine in the register yet. Machines appear here as soon as the register holds them.',
    noMatch: 'No machine matches.',
    allQuiet: 'Nothing needs you: every machine is quiet.',
    moved: (/** @type {number} */ n) => `${n === 1 ? '1 machine has' : `${n} machines have`} moved in the order`,
    reorder: 'Put in order',
    columns: { left: 'Time left', machine: 'Machine', wrong: 'What is wrong', act: 'Act by', who: 'Who has it' },
    more: (/** @type {number} */ n) => `and ${n} more open`,
    noDate: 'not datable yet',
    nobody: 'nobody yet',
    lastReading: (/** @type {string} */ ago) => `last reading ${ago}`,
    never: 'no reading yet',
  },

  wall: {
    title: 'Fleet',
    ended: 'This link has ended, or was taken back. Whoever made it can make another one.',
    noLink: 'A link belongs here: ask whoever looks after the machines.',
    lost: (/** @type {string} */ since) => `No answer from the server since ${since}. What you see may be old.`,
    asOf: 'As of',
    quiet: (/** @type {number} */ n) => (n === 1 ? '1 machine works as it should.' : `${n} machines work as they should.`),
    more: (/** @type {number} */ n) => `and ${n} more`,
  },
};
