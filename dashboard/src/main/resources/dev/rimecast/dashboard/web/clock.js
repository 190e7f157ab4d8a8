// @ts-check
/** The product's time. In a demonstration it runs far faster than ours, so nothing here reads the browser's date. */
let at = Date.now();
let heard = performance.now();
let told = false;
let racing = false;
let demo = '';

/** @param {string} iso what the server says the time is */
export function hear(iso) {
  const said = Date.parse(iso);
  if (Number.isNaN(said)) return;
  const ticked = performance.now();
  if (told) racing = Math.abs(said - at - (ticked - heard)) > 2000 + (ticked - heard) * 0.5;
  at = said;
  heard = ticked;
  told = true;
  dispatchEvent(new CustomEvent('clock-told'));
}

/** @param {string | undefined} text */
export function hearDemo(text) {
  demo = text ?? '';
}

export const demoText = () => demo;

/** Milliseconds since 1970 by the product's clock. While it races, only what was last said counts. */
export const now = () => (racing ? at : at + performance.now() - heard);
