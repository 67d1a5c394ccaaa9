import { chosen } from "./edits.js";

/** @typedef {import("../desk/types.js").Project} Project */

/**
 * Whether two states of a project have the same design; the check before cutting measures it against the mat.
 *
 * @param {Project} one
 * @param {Project} other
 */
export function sameDesign(one, other) {
  return (
    one.source === other.source &&
    one.reading === other.reading &&
    one.mends === other.mends &&
    one.limits === other.limits &&
    one.plan.mat_width_mm === other.plan.mat_width_mm &&
    one.plan.mat_height_mm === other.plan.mat_height_mm &&
    one.plan.mat_rim_mm === other.plan.mat_rim_mm
  );
}

/**
 * Whether two projects, wherever each comes from, have the same openings under the same numbers.
 *
 * @param {Project} one
 * @param {Project} other
 */
export function alikeDesigns(one, other) {
  const { svg } = one.source;
  return svg === other.source.svg && isSame(one.reading, other.reading) && isSame(one.mends, other.mends);
}

/**
 * Whether two projects with alike designs have the same papers behind them.
 *
 * @param {Project} one
 * @param {Project} other
 */
export function alikePapers(one, other) {
  const looks = [one, other].map((project) => {
    const papers = new Map(project.shelf.papers.map(({ id, name, colour, pattern, picture }) => [id, [name, colour, pattern, picture]]));
    return Object.entries(chosen(project).papers).map(([number, id]) => [number, papers.get(id)]);
  });
  return isSame(looks[0], looks[1]);
}

/** @param {unknown} one  @param {unknown} other  both as JSON has them */
function isSame(one, other) {
  return JSON.stringify(one) === JSON.stringify(other);
}

/**
 * Whether two states of a project with the same design have the same backing.
 *
 * @param {Project} one
 * @param {Project} other
 */
export function sameBacking(one, other) {
  return one.backing === other.backing && chosen(one).papers === chosen(other).papers;
}

/**
 * @param {Project} project
 * @returns {import("../desk/types.js").Cut | null} how the chosen colourway was cut
 */
export function cutOf(project) {
  const { id } = chosen(project);
  return project.cuts.find(({ colourway }) => colourway === id) ?? null;
}

/**
 * Whether two states of a project lay out their plans alike, whatever paper there is.
 *
 * @param {Project} one
 * @param {Project} other
 */
export function samePlanChoices(one, other) {
  const names = /** @type {(keyof Project["plan"])[]} */ (Object.keys(one.plan));
  return names.every((name) => name === "rounds" || one.plan[name] === other.plan[name]);
}

/**
 * Whether two states of a project with the same backing seek the same plan, however long they seek.
 *
 * @param {Project} one
 * @param {Project} other
 */
export function sameSearch(one, other) {
  return samePlanChoices(one, other) && one.shelf === other.shelf && cutOf(one) === cutOf(other);
}

/**
 * The parts of a project that computed things depend on, each with all before it: which project it is, its design,
 * backing and plan, and how long cutting takes.
 *
 * @typedef {"project" | "design" | "backing" | "plan" | "time"} Part
 */

/** @type {readonly [Part, (one: Project, other: Project) => boolean][]} */
const PARTS = [
  ["project", (one, other) => one.id === other.id],
  ["design", sameDesign],
  ["backing", sameBacking],
  ["plan", sameSearch],
  ["time", (one, other) => one.speed === other.speed],
];

/**
 * Whether a part of a project, with all that it depends on, is the same in two states.
 *
 * @param {Part} part
 * @param {Project} one
 * @param {Project} other
 */
export function holds(part, one, other) {
  const last = PARTS.findIndex(([name]) => name === part);
  return PARTS.slice(0, last + 1).every(([, same]) => same(one, other));
}
