/** @typedef {import("../desk/types.js").Project} Project */
/** @typedef {import("./course.js").Course} Course */

/** What documents kept by earlier pages lack, as the package's own defaults have it; one list, so that it is the same. */
/** @type {Pick<Project, "mends" | "ticked_bits" | "cuts" | "likeness" | "motifs" | "glue_by_motif">} */
const LACKING = { mends: [], ticked_bits: [], cuts: [], likeness: null, motifs: [], glue_by_motif: false };

/** @type {Pick<Project["plan"], "least_scrap_mm">} */
const LACKING_IN_PLANS = { least_scrap_mm: 50.8 };

/** @type {Pick<import("../desk/types.js").Paper, "original" | "print_margin_mm" | "collection" | "stash">} */
const LACKING_IN_PAPERS = { original: null, print_margin_mm: null, collection: "", stash: null };

/** @type {Pick<import("../desk/types.js").Scrap, "outline">} */
const LACKING_IN_SCRAPS = { outline: [] };

/**
 * A document with all that a project has by now.
 *
 * @param {Project} document  as it was kept, maybe by an earlier page
 * @returns {Project}
 */
export function completed(document) {
  const whole = filled(document, LACKING);
  const [shelf, plan] = [completedShelf(whole.shelf), filled(whole.plan, LACKING_IN_PLANS)];
  return shelf === whole.shelf && plan === whole.plan ? whole : { ...whole, shelf, plan };
}

/**
 * @param {import("../desk/types.js").Shelf} shelf
 * @returns {import("../desk/types.js").Shelf} with all that papers and scraps have by now
 */
export function completedShelf(shelf) {
  const papers = completedAll(shelf.papers, LACKING_IN_PAPERS);
  const scraps = completedAll(shelf.scraps, LACKING_IN_SCRAPS);
  return papers === shelf.papers && scraps === shelf.scraps ? shelf : { ...shelf, papers, scraps };
}

/**
 * @template {object} Part
 * @param {Part[]} parts
 * @param {Partial<Part>} lacking
 * @returns {Part[]} each with all that it lacks; the same ones where that is nothing
 */
function completedAll(parts, lacking) {
  // What is damaged stays so: it is told by whoever judges the document.
  if (!Array.isArray(parts)) return parts;
  const whole = parts.map((part) => (typeof part === "object" && part ? filled(part, lacking) : part));
  return whole.every((part, at) => part === parts[at]) ? parts : whole;
}

/**
 * @template {object} Part
 * @param {Part} part
 * @param {Partial<Part>} lacking
 * @returns {Part} with all that it lacks; the same one where that is nothing
 */
function filled(part, lacking) {
  return Object.keys(lacking).every((name) => name in part) ? part : { ...lacking, ...part };
}

/**
 * @param {Course} course
 * @returns {Course} with each of its documents completed
 */
export function completedCourse({ document, past, future }) {
  return { document: completed(document), past: past.map(completed), future: future.map(completed) };
}
