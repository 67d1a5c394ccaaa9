import { writeAbout } from "../../words/lengths.js";

/** Mat sizes: the two usual square-foot mats, and A4 and A3 (ISO 216). @type {Record<string, [number, number]>} */
export const MATS = { a: [304.8, 304.8], b: [304.8, 609.6], c: [210, 297], d: [297, 420] };

/** Those of them that have names of their own. @type {Record<string, string>} */
const NAMES = { c: "A4", d: "A3" };

/**
 * @param {string} mat  one of MATS
 * @param {string} unit
 */
export function nameOfMat(mat, unit) {
  const [width, height] = MATS[mat] ?? [0, 0];
  return NAMES[mat] ?? writeAbout([width, height], unit);
}

/**
 * The smallest of the usual mats that a card fits on, one way up or the other; one of the person's unit if there is.
 *
 * @param {number} width  mm
 * @param {number} height
 * @param {string} unit
 * @returns {string | undefined}
 */
export function matThatHolds(width, height, unit) {
  const [short, long] = [Math.min(width, height), Math.max(width, height)];
  const isForeign = (/** @type {string} */ mat) => Number(mat in NAMES === (unit === "in"));
  const area = (/** @type {string} */ mat) => MATS[mat]?.reduce((one, other) => one * other, 1) ?? 0;
  return Object.entries(MATS)
    .filter(([, [narrow, wide]]) => short <= narrow + 1e-6 && long <= wide + 1e-6)
    .map(([mat]) => mat)
    .toSorted((one, other) => isForeign(one) - isForeign(other) || area(one) - area(other))[0];
}
