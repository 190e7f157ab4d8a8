// @ts-check
/** Marks of analysts, on the pages of an alert and of a machine. */
export const markTexts = {
  title: 'What analysts say of it',
  hint: 'Marks say whether something was wrong with this machine. Back-tests hold alerts against them. They change no alert and notify nobody.',
  none: 'Nothing is marked yet.',
  add: 'Mark …',
  ask: { title: 'Was something wrong?', intro: 'A mark stays with your name. Say something else of the same span, and that goes before it; it can be withdrawn.', send: 'Mark' },
  what: 'In this span',
  verdicts: /** @type {Record<string, string>} */ ({ real: 'something was wrong', not: 'nothing was wrong', unknown: 'looked at, and nobody can say' }),
  cause: 'Cause',
  causeUnknown: 'not known',
  from: (/** @type {string} */ zone) => `From (${zone})`,
  to: 'to',
  until: 'until',
  note: 'Note',
  withdraw: { title: 'Withdraw this mark?', intro: 'Back-tests no longer use it. It stays here with both names.', send: 'Withdraw' },
  withdrawnBy: (/** @type {string} */ who) => `withdrawn by ${who}`,
  superseded: 'said otherwise since by the same person',
  over: (/** @type {number} */ n) => (n === 1 ? 'One that counts no longer' : `${n} that count no longer`),
};
