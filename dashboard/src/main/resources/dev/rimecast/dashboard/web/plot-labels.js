// @ts-check
/**
 * Where names stand on a plot: beside what they name, over nothing else that is drawn, and never over each other.
 *
 * @typedef {{left: number, top: number, right: number, bottom: number}} Box in pixels of the canvas
 */

/** @param {Box} a @param {Box} b */
const overlap = (a, b) => Math.max(0, Math.min(a.right, b.right) - Math.max(a.left, b.left)) * Math.max(0, Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top));

/** @param {Box} a @param {Box} b */
const inside = (a, b) => a.left >= b.left && a.right <= b.right && a.top >= b.top && a.bottom <= b.bottom;

/**
 * Places to try for the name of a box, the best first: right, left, below and above of it, then further up and down.
 * @param {Box} of @param {Box} area @param {number} wide @param {number} high @param {number} gap
 * @returns {Box[]}
 */
function places(of, area, wide, high, gap) {
  const at = (/** @type {number} */ left, /** @type {number} */ top) => ({ left, top, right: left + wide, bottom: top + high });
  const tall = of.bottom - of.top > (area.bottom - area.top) * 0.9;
  const sides = [of.right + gap, of.left - gap - wide];
  if (tall) return Array.from({ length: 6 }, (_, row) => sides.flatMap((x) => [at(x, area.top + gap + row * high), at(x, area.bottom - gap - (row + 1) * high)])).flat();
  const middle = (of.top + of.bottom - high) / 2;
  const level = [of.left, of.right - wide, (of.left + of.right - wide) / 2];
  return [
    ...sides.map((x) => at(x, middle)),
    ...[1, 2, 3].flatMap((row) => level.flatMap((x) => [at(x, of.bottom + gap + (row - 1) * high), at(x, of.top - gap - row * high)])),
    ...[1, 2, 3].flatMap((row) => sides.flatMap((x) => [at(x, of.bottom + (row - 1) * high), at(x, of.top - row * high)])),
  ];
}

/**
 * Of each name its place: the first that covers nothing, else the one that covers least, with other names weighing most.
 * @param {{of: Box, wide: number}[]} names @param {Box[]} drawn what no name should cover @param {Box} area @param {number} high of a line @param {number} gap
 * @returns {Box[]}
 */
export function placeNames(names, drawn, area, high, gap) {
  /** @type {Box[]} */
  const taken = [];
  for (const { of, wide } of names) {
    const cost = (/** @type {Box} */ place) => drawn.reduce((sum, each) => sum + overlap(place, each), 0)
      + 100 * taken.reduce((sum, each) => sum + overlap(place, each), 0);
    const tried = places(of, area, wide, high, gap).filter((place) => inside(place, area));
    if (!tried.length) tried.push({ left: area.left, top: area.top, right: area.left + wide, bottom: area.top + high });
    const costs = tried.map(cost);
    taken.push(tried[costs.indexOf(Math.min(...costs))]);
  }
  return taken;
}
