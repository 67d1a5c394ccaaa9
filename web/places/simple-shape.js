import { writeAbout } from "../words/lengths.js";
import { own } from "../parts/own.js";
import { say } from "../words/words.js";

/** @typedef {import("../desk/types.js").SimpleShape} SimpleShape */

/**
 * The size of a punch or rectangle as a ruler has it.
 *
 * @param {SimpleShape} shape
 * @param {string} unit
 */
export function sizeOf({ form, width_mm: width, height_mm: height }, unit) {
  return writeAbout(form === "rectangle" ? [width, height] : [width], unit);
}

/**
 * What a simple shape is called, in the person's language and unit; as the package names it until its size is known.
 *
 * @param {string} name  as the package names it
 * @param {Readonly<Record<string, SimpleShape>>} shapes  those that are known, by name
 * @param {string} unit
 */
export function nameOf(name, shapes, unit) {
  const shape = own(shapes, name);
  return shape ? `${say(`design.form-${shape.form}`)} ${sizeOf(shape, unit)}` : name;
}
