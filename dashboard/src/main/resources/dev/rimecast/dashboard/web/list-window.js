// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { repeat } from './lib/lit-html/directives/repeat.js';

const CHUNK = 60;
/** Lists up to this are drawn whole, so that the browser's own search finds everything. */
const WHOLE = 300;

/** Draws long lists in chunks, and only the chunks near the screen. Others keep their height, so nothing jumps. */
export class ListWindow {
  /** @param {() => void} redraw called when other chunks come near */
  constructor(redraw) {
    /** @type {Set<string>} */
    this.near = new Set();
    /** @type {Map<string, number>} */
    this.heights = new Map();
    /** @type {Set<Element>} */
    this.watched = new Set();
    this.observer = new IntersectionObserver((entries) => {
      let changed = false;
      for (const entry of entries) changed = this.note(entry) || changed;
      if (changed) redraw();
    }, { rootMargin: '900px 0px' });
  }

  /** @param {IntersectionObserverEntry} entry */
  note(entry) {
    const key = /** @type {HTMLElement} */ (entry.target).dataset.chunk ?? '';
    if (this.near.has(key) === entry.isIntersecting) return false;
    if (entry.isIntersecting) this.near.add(key);
    else this.near.delete(key);
    return true;
  }

  /**
   * @template T
   * @param {string} name of the list, unique on the page
   * @param {string} className
   * @param {T[]} items
   * @param {(item: T) => string} keyOf
   * @param {(item: T) => unknown} draw one li
   */
  list(name, className, items, keyOf, draw) {
    if (items.length <= WHOLE) {
      return html`<ul class=${className}>${repeat(items, keyOf, draw)}</ul>`;
    }
    const chunks = [];
    for (let i = 0; i < items.length; i += CHUNK) {
      const key = `${name}-${i / CHUNK}`;
      const part = items.slice(i, i + CHUNK);
      const shown = this.near.has(key) || (i === 0 && this.near.size === 0);
      // an empty list element would be announced as a list without items
      chunks.push(shown
        ? html`<ul class="${className} chunk" data-chunk=${key} data-count=${part.length}>${repeat(part, keyOf, draw)}</ul>`
        : html`<div class="${className} chunk" data-chunk=${key} data-count=${part.length}>${nothing}</div>`);
    }
    return chunks;
  }

  /** After each drawing: watches new chunks and keeps the height of empty ones. @param {ParentNode} root */
  settle(root) {
    const found = /** @type {NodeListOf<HTMLElement>} */ (root.querySelectorAll('.chunk'));
    for (const old of this.watched) {
      if (!old.isConnected) {
        this.observer.unobserve(old);
        this.watched.delete(old);
      }
    }
    let each = 0;
    for (const chunk of found) {
      if (chunk.childElementCount > 0) {
        chunk.style.minHeight = '';
        const height = chunk.offsetHeight;
        this.heights.set(chunk.dataset.chunk ?? '', height);
        each = Math.max(each, height / Number(chunk.dataset.count));
      }
    }
    for (const chunk of found) {
      if (chunk.childElementCount === 0) {
        const known = this.heights.get(chunk.dataset.chunk ?? '');
        chunk.style.minHeight = `${known ?? Math.round((each || 40) * Number(chunk.dataset.count))}px`;
      }
      if (!this.watched.has(chunk)) {
        this.watched.add(chunk);
        this.observer.observe(chunk);
      }
    }
  }
}
