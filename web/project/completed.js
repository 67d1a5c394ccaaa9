/** @typedef {import("../desk/types.js").Project} Project */
/** @typedef {import("./course.js").Course} Course */

/** What documents kept by earlier pages lack, as the package's own defaults have it; one list, so that it is the same. */
/** @type {Pick<Project, "mends" | "ticked_bits">} */
const LACKING = { mends: [], ticked_bits: [] };

/**
 * A document with all that a project has by now.
 *
 * @param {Project} document  as it was kept, maybe by an earlier page
 * @returns {Project}
 */
export function completed(document) {
  const isWhole = Object.keys(LACKING).every((name) => name in document);
  return isWhole ? document : { ...LACKING, ...document };
}

/**
 * @param {Course} course
 * @returns {Course} with each of its documents completed
 */
export function completedCourse({ document, past, future }) {
  return { document: completed(document), past: past.map(completed), future: future.map(completed) };
}
