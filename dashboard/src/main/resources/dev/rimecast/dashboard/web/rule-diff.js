// @ts-check
import { html, nothing } from './lib/lit-html/lit-html.js';
import { t } from './texts.js';

/** @typedef {{kind: 'same' | 'added' | 'removed', text: string, line: number}} Line */

/** Lines around a difference that are shown with it. */
const AROUND = 2;
/** Pairs of lines that are compared at most; beyond that all of one side is gone and all of the other new. */
const MOST = 4_000_000;

/**
 * Which lines are gone and which are new: the longest common subsequence.
 * @param {string} before @param {string} after @returns {Line[]} with the line's number in its own text
 */
export function diff(before, after) {
  const a = before.split('\n');
  const b = after.split('\n');
  let start = 0;
  while (start < a.length && start < b.length && a[start] === b[start]) start++;
  let end = 0;
  while (end < a.length - start && end < b.length - start && a[a.length - 1 - end] === b[b.length - 1 - end]) end++;
  /** @type {Line[]} */
  const lines = [];
  for (let i = 0; i < start; i++) lines.push({ kind: 'same', text: a[i], line: i + 1 });
  lines.push(...middle(a.slice(start, a.length - end), b.slice(start, b.length - end), start));
  for (let i = end; i > 0; i--) lines.push({ kind: 'same', text: b[b.length - i], line: b.length - i + 1 });
  return lines;
}

/** @param {string[]} a @param {string[]} b @param {number} start @returns {Line[]} */
function middle(a, b, start) {
  /** @type {Line[]} */
  const lines = [];
  const width = b.length + 1;
  const known = a.length * b.length <= MOST;
  const longest = new Int32Array(known ? (a.length + 1) * width : 0);
  if (known) {
    for (let i = a.length - 1; i >= 0; i--) {
      for (let j = b.length - 1; j >= 0; j--) {
        longest[i * width + j] = a[i] === b[j] ? longest[(i + 1) * width + j + 1] + 1
          : Math.max(longest[(i + 1) * width + j], longest[i * width + j + 1]);
      }
    }
  }
  let i = 0;
  let j = 0;
  while (i < a.length || j < b.length) {
    if (known && i < a.length && j < b.length && a[i] === b[j]) {
      lines.push({ kind: 'same', text: b[j], line: start + j + 1 });
      i++;
      j++;
    } else if (i < a.length && (j === b.length || !known || longest[(i + 1) * width + j] >= longest[i * width + j + 1])) {
      lines.push({ kind: 'removed', text: a[i], line: start + i + 1 });
      i++;
    } else {
      lines.push({ kind: 'added', text: b[j], line: start + j + 1 });
      j++;
    }
  }
  return lines;
}

/** What differs, with a little around it. @param {string} before @param {string} after */
export function diffParts(before, after) {
  const lines = diff(before, after);
  const near = new Set();
  lines.forEach((line, i) => {
    if (line.kind !== 'same') for (let k = i - AROUND; k <= i + AROUND; k++) near.add(k);
  });
  if (near.size === 0) return html`<p class="well">${t.rules.same}</p>`;
  /** @type {unknown[]} */
  const rows = [];
  lines.forEach((line, i) => {
    if (!near.has(i)) return;
    if (rows.length && !near.has(i - 1)) rows.push(html`<li class="gap" aria-hidden="true">⋯</li>`);
    rows.push(html`<li class=${line.kind}><span class="no" aria-hidden="true">${line.line}</span><span class="mark">${line.kind === 'same' ? nothing
      : html`<span class="sign" aria-hidden="true">${line.kind === 'added' ? '+' : '−'}</span><span class="unseen">${t.rules[line.kind]}: </span>`}</span><code>${line.text}</code></li>`);
  });
  return html`<ol class="diff" tabindex="0" aria-label=${t.rules.differences}>${rows}</ol>`;
}
