// @ts-check
import { api } from './api.js';
import { hear, hearDemo } from './clock.js';

/** The server says its time at least every 15 s; twice that and some means that the line is dead. */
const SILENT_MS = 40_000;
/** A tab that nobody looks at gives its connection back: browsers allow six to a server. */
const HIDDEN_MS = 60_000;

/**
 * Hears what changed, and knows since when nothing was heard.
 * @param {{kinds: string, machine?: string, changed: (kind: string, data: {machine?: string, alert?: string}) => void,
 *   reload: () => void, line: (staleSince: number | null) => void}} options reload: something was missed, load all again
 */
export function listen({ kinds, machine, changed, reload, line }) {
  /** @type {EventSource | null} */
  let source = null;
  let lastId = '';
  let heardAt = Date.now();
  /** Not known until something is heard, or fails. @type {boolean | null} */
  let broken = null;
  let again = 0;
  let hiddenTimer = 0;

  function open() {
    clearTimeout(again);
    source?.close();
    const query = new URLSearchParams({ kinds });
    if (machine) query.set('machine', machine);
    if (lastId) query.set('after', lastId);
    source = new EventSource(`/api/v1/events?${query}`);
    source.onerror = failed;
    source.addEventListener('clock', (e) => {
      const data = JSON.parse(e.data);
      heard();
      hearDemo(data.demo);
      hear(data.now);
    });
    source.addEventListener('reset', (e) => { heard(e); reload(); });
    for (const kind of kinds.split(',')) {
      source.addEventListener(kind, (e) => { heard(e); changed(kind, JSON.parse(e.data)); });
    }
  }

  /** @param {MessageEvent} [e] */
  function heard(e) {
    if (e?.lastEventId) lastId = e.lastEventId;
    heardAt = Date.now();
    if (broken === false) return;
    const missed = broken;
    broken = false;
    line(null);
    if (missed) reload();
  }

  function failed() {
    if (!broken) {
      broken = true;
      line(heardAt);
    }
    // the browser tries again by itself unless the server refused
    // or nobody is signed in any more, which the answer to this brings to light
    if (source?.readyState === EventSource.CLOSED) api.session().catch(() => {});
    if (source?.readyState === EventSource.CLOSED) again = setTimeout(open, 3000 + Math.random() * 2000);
  }

  setInterval(() => {
    if (source && Date.now() - heardAt > SILENT_MS) {
      failed();
      open();
    }
  }, 10_000);
  document.addEventListener('visibilitychange', () => {
    clearTimeout(hiddenTimer);
    if (document.hidden) {
      hiddenTimer = setTimeout(() => { source?.close(); source = null; }, HIDDEN_MS);
    } else if (!source) {
      heardAt = Date.now();
      open();
      reload();
    }
  });
  addEventListener('pagehide', () => source?.close());
  addEventListener('pageshow', (e) => { if (e.persisted) { open(); reload(); } });
  open();
}
