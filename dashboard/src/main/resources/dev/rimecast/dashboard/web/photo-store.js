// @ts-check
/**
 * Pictures that this phone keeps until the server has them, in a database of the browser's, since they have no room where reports are. What
 * they are of is with the reports (`work-outbox.js`).
 */
import { t } from './texts.js';

const NAME = 'rimecast-photos';
const STORE = 'photos';
/** Of the longest edge, in pixels: a rating plate can be read. */
const LONGEST = 1_600;
/** The server takes 1 MiB. */
const MOST_BYTES = 1_000_000;
const QUALITIES = [0.8, 0.6, 0.4];
/** What belongs to nothing is not thrown away sooner: another tab may be about to name it. */
const STRAY_MS = 86_400_000;

/** @typedef {{bytes: ArrayBuffer, at: number}} Kept */

/** @template T @param {IDBRequest<T>} request @returns {Promise<T>} */
const answer = (request) => new Promise((resolve, reject) => {
  request.onsuccess = () => resolve(request.result);
  request.onerror = () => reject(request.error);
});

/** @returns {Promise<IDBDatabase>} */
function open() {
  const request = indexedDB.open(NAME, 1);
  request.onupgradeneeded = () => request.result.createObjectStore(STORE);
  return answer(request);
}

/** @template T @param {IDBTransactionMode} mode @param {(store: IDBObjectStore) => IDBRequest<T>} act @returns {Promise<T>} once it is on the disk */
async function within(mode, act) {
  const database = await open();
  try {
    const transaction = database.transaction(STORE, mode);
    /** @type {Promise<void>} */
    const done = new Promise((resolve, reject) => {
      transaction.oncomplete = () => resolve();
      transaction.onabort = () => reject(transaction.error);
    });
    const [result] = await Promise.all([answer(act(transaction.objectStore(STORE))), done]);
    return result;
  } finally {
    database.close();
  }
}

let asked = false;

/** @param {string} id @param {Blob} jpeg */
export async function keepPhoto(id, jpeg) {
  /** @type {Kept} */
  const kept = { bytes: await jpeg.arrayBuffer(), at: Date.now() };
  await within('readwrite', (store) => store.put(kept, id));
  if (asked) return;
  asked = true;
  // else a browser may throw it away where the phone is short of room
  navigator.storage?.persist?.().catch(() => {});
}

/** @param {string} id @returns {Promise<Blob | null>} null where it is not here */
export async function keptPhoto(id) {
  /** @type {Kept | undefined} */
  const kept = await within('readonly', (store) => store.get(id));
  return kept ? new Blob([kept.bytes], { type: 'image/jpeg' }) : null;
}

/** @param {string[]} ids */
export async function forgetPhotos(ids) {
  for (const id of ids) {
    try { await within('readwrite', (store) => store.delete(id)); } catch { /* it is looked for again, see below */ }
  }
}

/** What no draft and no report names any more. @param {Set<string>} named */
export async function forgetStrays(named) {
  try {
    for (const id of await within('readonly', (store) => store.getAllKeys())) {
      const kept = named.has(String(id)) ? null : await within('readonly', (store) => store.get(id));
      if (kept && Date.now() - kept.at > STRAY_MS) await forgetPhotos([String(id)]);
    }
  } catch { /* this browser keeps none */ }
}

/** A phone has little memory for canvases, and does not give it back at once. @param {HTMLCanvasElement} canvas */
function free(canvas) {
  canvas.width = 0;
  canvas.height = 0;
}

/**
 * A picture as small as it need be, upright, and with nothing in it but itself: it is drawn anew, so that place and time of the phone stay there.
 * @param {Blob} file @returns {Promise<Blob>}
 */
export async function scaled(file) {
  const bitmap = await createImageBitmap(file).catch(() => { throw new Error(t.work.noPicture); });
  const factor = Math.min(1, LONGEST / Math.max(bitmap.width, bitmap.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(bitmap.width * factor));
  canvas.height = Math.max(1, Math.round(bitmap.height * factor));
  const brush = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d'));
  brush.fillStyle = '#fff';
  brush.fillRect(0, 0, canvas.width, canvas.height);
  brush.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  for (const quality of QUALITIES) {
    /** @type {Blob | null} */
    const jpeg = await new Promise((resolve) => { canvas.toBlob(resolve, 'image/jpeg', quality); });
    if (jpeg && jpeg.size <= MOST_BYTES) {
      free(canvas);
      return jpeg;
    }
  }
  free(canvas);
  throw new Error(t.work.noPicture);
}
