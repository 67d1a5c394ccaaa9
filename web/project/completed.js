/** @typedef {import("../desk/types.js").Project} Project */
/** @typedef {import("./course.js").Course} Course */

/** What documents kept by earlier pages lack, as the package's own defaults have it; one list, so that it is the same. */
/** @type {Pick<Project, "mends" | "ticked_bits">} */
const LACKING = { mends: [], ticked_bits: [] };

/** @type {Pick<import("../desk/types.js").Paper, "original" | "print_margin_mm" | "collection" | "stash">} */
const LACKING_IN_PAPERS = { original: null, print_margin_mm: null, collection: "", stash: null };

/**
 * A document with all that a project has by now.
 *
 * @param {Project} document  as it was kept, maybe by an earlier page
 * @returns {Project}
 */
export function completed(document) {
  const isWhole = Object.keys(LACKING).every((name) => name in document);
  const whole = isWhole ? document : { ...LACKING, ...document };
  const shelf = completedShelf(whole.shelf);
  return shelf === whole.shelf ? whole : { ...whole, shelf };
}

/**
 * @param {import("../desk/types.js").Shelf} shelf
 * @returns {import("../desk/types.js").Shelf} with all that papers have by now
 */
export function completedShelf(shelf) {
  const { papers } = shelf;
  if (papers.every((paper) => Object.keys(LACKING_IN_PAPERS).every((name) => name in paper))) return shelf;
  return { ...shelf, papers: papers.map((paper) => ({ ...LACKING_IN_PAPERS, ...paper })) };
}

/**
 * @param {Course} course
 * @returns {Course} with each of its documents completed
 */
export function completedCourse({ document, past, future }) {
  return { document: completed(document), past: past.map(completed), future: future.map(completed) };
}
