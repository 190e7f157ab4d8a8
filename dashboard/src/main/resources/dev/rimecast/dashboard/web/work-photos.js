// @ts-check
/** The photos of a work report, in its form: taken or chosen, made smaller, looked at, taken away again. */
import { html, nothing } from './lib/lit-html/lit-html.js';
import { newId } from './new-id.js';
import { forgetPhotos, keepPhoto, keptPhoto, scaled } from './photo-store.js';
import { t } from './texts.js';

/** @typedef {import('./work-outbox.js').Draft} Draft */

const MOST = 4;
/** On the longest edge of a preview, in pixels. */
const PREVIEW = 240;
/** @type {Map<string, HTMLCanvasElement>} */
const previews = new Map();
let told = '';
/** @type {Promise<void>} */
let adding = Promise.resolve();
let busy = 0;
let finishing = false;

/** Once nothing is being made smaller any more; until then no more can be chosen. @param {() => void} changed draws */
export async function photosReady(changed) {
  finishing = true;
  changed();
  try {
    /** @type {Promise<void>} */
    let seen;
    do {
      seen = adding;
      await seen;
    } while (seen !== adding);
  } finally {
    finishing = false;
  }
}

/** @param {Draft} draft @param {File[]} files @param {() => void} changed */
async function add(draft, files, changed) {
  told = '';
  busy += 1;
  changed();
  for (const file of files) {
    if (draft.photos.length >= MOST) {
      told = t.work.photosFull(MOST);
      break;
    }
    try {
      const jpeg = await scaled(file);
      const id = newId();
      await keepPhoto(id, jpeg).catch(() => { throw new Error(t.work.noRoomForPhoto); });
      draft.photos = [...draft.photos, id];
    } catch (e) {
      told = `${file.name}: ${/** @type {Error} */ (e).message}`;
    }
    changed();
  }
  busy -= 1;
  changed();
}

/** @param {Draft} draft @param {string} id @param {() => void} changed */
function remove(draft, id, changed) {
  draft.photos = draft.photos.filter((each) => each !== id);
  previews.delete(id);
  forgetPhotos([id]);
  told = '';
  changed();
}

/**
 * Drawn from what is kept: our policy of content shows pictures of this server only, and a canvas is none.
 * @param {Draft} draft @param {string} id @param {() => void} changed
 */
function preview(draft, id, changed) {
  const known = previews.get(id);
  if (known) return known;
  const canvas = document.createElement('canvas');
  canvas.setAttribute('role', 'img');
  previews.set(id, canvas);
  paint(canvas, id).then((there) => {
    // taken off meanwhile, or nothing to say
    if (!draft.photos.includes(id) || (there && told !== t.work.photoNotShown)) return;
    if (!there) remove(draft, id, () => {});
    told = there ? '' : t.work.photoLost;
    changed();
  }, () => {
    told = t.work.photoNotShown;
    changed();
    // it is kept, and tried again whenever the page is next drawn
    previews.delete(id);
  });
  return canvas;
}

/** @param {HTMLCanvasElement} canvas @param {string} id @returns {Promise<boolean>} false where it is certain that it isn't here */
async function paint(canvas, id) {
  const jpeg = await keptPhoto(id);
  if (!jpeg) return false;
  const bitmap = await createImageBitmap(jpeg);
  const factor = Math.min(1, PREVIEW / Math.max(bitmap.width, bitmap.height));
  canvas.width = Math.max(1, Math.round(bitmap.width * factor));
  canvas.height = Math.max(1, Math.round(bitmap.height * factor));
  canvas.getContext('2d')?.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  canvas.dataset.drawn = '';
  return true;
}

/** @param {Draft} draft @param {string} id @param {number} i @param {() => void} changed */
function entry(draft, id, i, changed) {
  const canvas = preview(draft, id, changed);
  canvas.setAttribute('aria-label', t.work.photo(i + 1));
  return html`<li data-photo=${id}>${canvas}
    <button type="button" aria-label=${t.work.removePhotoOf(i + 1)} @click=${() => remove(draft, id, changed)}>${t.work.removePhoto}</button></li>`;
}

/** @param {Draft} draft @param {() => void} changed */
export function photosPart(draft, changed) {
  const full = draft.photos.length >= MOST;
  const choose = (/** @type {any} */ e) => {
    const files = [...e.target.files];
    // the same one can be chosen again
    e.target.value = '';
    adding = adding.then(() => add(draft, files, changed));
  };
  return html`<fieldset class="panel"><legend><h2>${t.work.photos}</h2></legend>
    <p class="hint" id="photos-hint">${t.work.photosHint(MOST)}</p>
    ${draft.photos.length ? html`<ul class="photos">${draft.photos.map((id, i) => entry(draft, id, i, changed))}</ul>` : nothing}
    ${full ? nothing : html`<label>${t.work.addPhotos}<input type="file" name="photos" accept="image/*" multiple ?disabled=${finishing} aria-describedby="photos-hint" @change=${choose}></label>`}
    <p role="status" class="photo-told">${busy ? t.work.photoComes : told}</p></fieldset>`;
}
