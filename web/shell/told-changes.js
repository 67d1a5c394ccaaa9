import { chosen } from "../project/edits.js";
import { say } from "../words/words.js";

/** @typedef {import("../desk/types.js").Project} Project */
/** @typedef {import("../project/course.js").Step} Step */

/**
 * What a screen reader is told of a step: a step back or forth, or which openings got a paper, were left or locked.
 *
 * @param {Project | null} before
 * @param {Project} after
 * @param {Step} step
 * @param {(number: number) => string} about  an opening in words
 * @returns {string} empty where there is nothing to tell
 */
export function toldOf(before, after, step, about) {
  if (step.kind === "undo") return say("said.undone");
  if (step.kind === "redo") return say("said.redone");
  if (!before || before.id !== after.id || step.kind === "note") return "";
  const [was, is] = [chosen(before), chosen(after)];
  const [wasLocked, isLocked] = [new Set(was.locked), new Set(is.locked)];
  const numbers = [...new Set([...keys(was.papers), ...keys(is.papers), ...wasLocked, ...isLocked])].filter(
    (number) => was.papers[number] !== is.papers[number] || wasLocked.has(number) !== isLocked.has(number),
  );
  const [first] = numbers;
  if (first === undefined) return "";
  return numbers.length === 1 ? about(first) : say("said.openings", { count: numbers.length, first: about(first) });
}

/** @param {Record<string, string>} papers */
function keys(papers) {
  return Object.keys(papers).map(Number);
}
