import { roundUp, writeAbout } from "../../words/lengths.js";

/**
 * What to cut for a trim, rounded up to what a ruler has.
 *
 * @param {{width_mm: number, height_mm: number}} trim
 * @param {string} unit
 */
export function sizeToCut({ width_mm: width, height_mm: height }, unit) {
  return writeAbout([roundUp(width, unit), roundUp(height, unit)], unit);
}
