// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { t } from './texts.js';

/** Rows that a list begins with, and that each wish for more adds: what a page draws at once without being felt. */
export const STEP = 200;

/**
 * How much of each list is shown. What somebody has opened stays open while the list changes.
 * @param {() => void} draw
 */
export function showMore(draw) {
  /** @type {Map<string, number>} */
  const shown = new Map();
  /** @param {string} name */
  const most = (name) => shown.get(name) ?? STEP;
  return {
    /** @template T @param {string} name @param {T[]} all @returns {T[]} */
    of: (name, all) => all.slice(0, most(name)),
    /** @param {string} name @param {number} count of all of them */
    button: (name, count) => (count <= most(name) ? nothing : html`<p class="buttons"><button type="button" data-more=${name}
      @click=${() => { shown.set(name, most(name) + STEP); draw(); }}>${t.lists.more(Math.min(STEP, count - most(name)), count - most(name))}</button></p>`),
  };
}

/** For what the server still has. @param {boolean} more @param {() => void} wanted */
export const olderButton = (more, wanted) => (more ? html`<p class="buttons"><button type="button" data-older @click=${wanted}>${t.lists.older}</button></p>` : nothing);
