import { amend } from "../../project/edits.js";

/** @typedef {import("../../project/edits.js").Project} Project */
/** @typedef {import("../../desk/types.js").PlanChoices} PlanChoices */

/** Mat sizes: the two usual square-foot mats, and A4 and A3 (ISO 216). @type {Record<string, [number, number]>} */
export const MATS = { a: [304.8, 304.8], b: [304.8, 609.6], c: [210, 297], d: [297, 420] };

/**
 * The smallest of the usual mats that a card fits on, one way up or the other.
 *
 * @param {number} width  mm
 * @param {number} height
 */
export function matThatHolds(width, height) {
  const [short, long] = [Math.min(width, height), Math.max(width, height)];
  return Object.values(MATS)
    .filter(([narrow, wide]) => short <= narrow + 1e-6 && long <= wide + 1e-6)
    .toSorted((one, other) => one[0] * one[1] - other[0] * other[1])[0];
}

/**
 * Changes how trims and mats are laid out; the check before cutting measures against the mat that is in use.
 *
 * @param {Project} project
 * @param {Partial<PlanChoices>} change
 */
export function withPlan(project, change) {
  const { mat_width_mm, mat_height_mm } = { ...project.plan, ...change };
  return amend(amend(project, "plan", change), "limits", { mat_width_mm, mat_height_mm });
}
