import { say } from "../../words/words.js";

const MOST_NAMED = 6;

/**
 * What to know of a step besides its piece.
 *
 * @param {import("../../desk/types.js").GlueStep} step
 * @returns {string[]}
 */
export function notesOf({ openings, interchangeable_with: others, lets_set: letsSet }) {
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
