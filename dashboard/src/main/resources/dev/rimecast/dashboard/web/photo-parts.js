// @ts-check
/** Photos of work, small, with whose and when; each leads to itself in full. */
import { html, nothing } from './lib/lit-html/lit-html.js';
import { api } from './api.js';
import { dayText, when } from './format.js';
import { t } from './texts.js';
import { causes, word } from './words.js';

/** @typedef {import('./api.js').Work} Work */

/** How many reports are looked through for photos. */
const REPORTS = 20;
/** On the longest edge, in CSS pixels. */
const SMALL = 176;

/** Reports of a machine that have photos, newest first; that they can't be had now is no reason to show nothing else. @param {string} machine @returns {Promise<Work[]>} */
export const loadPhotos = async (machine) => (await api.workOf(machine, REPORTS).catch(() => [])).filter((work) => work.photos.length > 0);

/** @param {Work} work */
const found = (work) => (work.found === 'nothing-found' ? t.work.nothing : work.found === 'something-else' ? work.foundText : word(causes, work.found));

/** @param {Work} work @param {number} i @param {'lazy' | 'eager'} loading */
function small(work, i, loading) {
  const { id, width, height } = work.photos[i];
  const factor = Math.min(1, SMALL / Math.max(width, height));
  const address = `/api/v1/work-reports/${work.id}/photos/${id}`;
  return html`<li><a href=${address}><img loading=${loading} decoding="async" src=${address} width=${Math.round(width * factor)} height=${Math.round(height * factor)}
    alt=${t.photos.alt(i + 1, work.photos.length, work.machine, dayText(work.time))}></a></li>`;
}

/** @param {Work[]} reports @param {number} [most] of the reports @param {'lazy' | 'eager'} [loading] eager where they are to be printed, also what was never in sight */
export const photoList = (reports, most = reports.length, loading = 'lazy') => html`${reports.slice(0, most).map((work) => html`
  <figure class="photographed" data-photos=${work.id}><figcaption>${t.photos.of} ${when(work.time, dayText)}: ${found(work)}${work.by ? `, ${work.by}` : nothing}</figcaption>
    <ul class="photos">${work.photos.map((_, i) => small(work, i, loading))}</ul></figure>`)}`;
