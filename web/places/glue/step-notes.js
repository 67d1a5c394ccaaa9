import { say } from "../../words/words.js";

/** @typedef {import("./glue-steps.js").PartStep} PartStep */

const MOST_NAMED = 6;

/**
 * What a step glues.
 *
 * @param {PartStep} step
 */
export function nameOf({ key, bit }) {
  return bit === null ? say("glue.piece", { number: key }) : say("glue.bit", { name: key });
}

/**
 * What to know of a step besides its piece.
 *
 * @param {PartStep} step
 * @returns {string[]}
 */
export function notesOf({ bit, openings, interchangeable_with: others, lets_set: letsSet }) {
  if (bit !== null) return [say("glue.bit-place", { opening: openings[0] ?? "" })];
  return [
    letsSet ? say("glue.lets-set") : "",
    openings.length > 1 ? say("glue.behind", { openings: openings.join(", ") }) : "",
    others.length > 0 ? swap(others) : "",
  ].filter(Boolean);
}

/** @param {readonly number[]} others */
function swap(others) {
  // A single one more is told by its number.
  const most = others.length > MOST_NAMED + 1 ? MOST_NAMED : others.length;
  const named = others.slice(0, most).join(", ");
  const count = others.length - most;
  return count > 0 ? say("glue.swap-more", { others: named, count }) : say("glue.swap", { others: named });
}
