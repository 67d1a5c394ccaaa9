import { isBare } from "../../../project/edits.js";
import { cutOf } from "../../../project/same.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */
/** @typedef {import("../../../desk/types.js").Project} Project */
/** @typedef {import("../../../desk/types.js").Need} Need */
/** @typedef {{needs: Need[], unplanned: string[]}} Needs  `unplanned`: names of projects whose mats were not laid out */

/** Its papers are invented. */
const DEMO = "harbour-panel";

/** @param {Workroom} room  @returns {Needs} what the open project's plan takes */
export function needsHere({ project, bench }) {
  return joined([needOf(project, bench.planHolds ? (bench.plan?.sheets ?? null) : sheetsOf(bench.keptPlan))]);
}

/**
 * What all projects kept in this browser take that are not cut yet.
 *
 * @param {Workroom} room
 * @returns {Promise<Needs>}
 */
export async function needsOfAll(room) {
  const { archive } = room.stash;
  const found = [needsHere(room)];
  for (const { id } of await archive.list()) {
    const kept = id === DEMO || id === room.project.id ? null : await archive.read(id);
    if (kept) found.push(joined([needOf(kept.course.document, sheetsOf(kept.plan))]));
  }
  return { needs: found.flatMap(({ needs }) => needs), unplanned: found.flatMap(({ unplanned }) => unplanned) };
}

/**
 * @param {Project} project
 * @param {Readonly<Record<string, number>> | null} planned  sheets by paper id, null where nothing was laid out
 * @returns {Need | string | null} the project's name where it is to be laid out first; null where nothing is needed
 */
function needOf(project, planned) {
  const { name, shelf, backing } = project;
  const whole = backing.whole_back?.paper;
  if (cutOf(project) || (isBare(project) && !whole)) return null;
  if (!planned && !isBare(project)) return name;
  const sheets = { ...planned };
  if (whole) sheets[whole] = (sheets[whole] ?? 0) + 1;
  return { project: name, papers: shelf.papers.filter(({ id }) => id in sheets), sheets };
}

/** @param {(Need | string | null)[]} told  @returns {Needs} */
function joined(told) {
  return {
    needs: told.filter((one) => one !== null && typeof one === "object"),
    unplanned: told.filter((one) => typeof one === "string"),
  };
}

/** @param {unknown} kept  a plan as the package keeps it  @returns {Record<string, number> | null} */
function sheetsOf(kept) {
  const sheets = kept && typeof kept === "object" && "sheets" in kept ? kept.sheets : null;
  return sheets && typeof sheets === "object" ? /** @type {Record<string, number>} */ (sheets) : null;
}
