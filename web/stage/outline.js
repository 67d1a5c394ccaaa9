import { boxOf } from "./shapes.js";

/** @typedef {import("../desk/types.js").Box} Box */

/** An area or line of a design as a canvas path, made once; the box around it is found once it is asked for. */
export class Outline {
  /** @type {Box | null} */
  #box = null;

  /** @param {string} text  as the desk writes paths */
  constructor(text) {
    this.text = text;
    this.path = new Path2D(text);
  }

  /** @returns {Box} mm */
  get box() {
    this.#box ??= boxOf(this.text);
    return this.#box;
  }
}

/** Outlines by what they are of, as long as that is there, and by their path data. @type {WeakMap<object, Map<string, Outline>>} */
const MADE = new WeakMap();

/**
 * The outline of something that the desk has sent, or of a part of it: made at the first paint, not at every one.
 *
 * @param {object} of
 * @param {string} text  path data
 */
export function outlineOf(of, text) {
  const known = MADE.get(of) ?? new Map();
  MADE.set(of, known);
  const outline = known.get(text) ?? new Outline(text);
  known.set(text, outline);
  return outline;
}
