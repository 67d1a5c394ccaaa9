import { boxesOf, enclosing } from "../../stage/shapes.js";

/** @typedef {import("../../desk/types.js").Box} Box */
/** @typedef {import("../../desk/types.js").Warning} Warning */
/** @typedef {import("../../desk/types.js").MendProposal} MendProposal */

/**
 * One kind of thing to know before cutting, with all its places. `where` is what to mark on the card; `ways` the
 * mends of a place, the preferred one first; `seen` what its small pictures show.
 *
 * @typedef {{box: Box, seen: Box, ways: MendProposal[]}} FindingPlace
 * @typedef {{code: string, severity: number, count: number, warnings: Warning[], where: string, spots: FindingPlace[]}} Finding
 */

/** Findings that are told with another one, by code: they are of the same kind. */
const SAME_KIND = new Map([["more-loose-bits", "loose-bit"]]);
const TOUCHING_MM = 1e-3;
/** Thin card may run through the whole design: a small picture shows so much of it, where most is added. */
const MOST_SEEN_MM = 24;

/**
 * Groups warnings by kind, worst first, and puts the mends proposed for each beside it.
 *
 * @param {readonly Warning[]} warnings
 * @param {readonly MendProposal[]} proposals
 * @returns {Finding[]}
 */
export function findingsOf(warnings, proposals) {
  /** @type {Map<string, Warning[]>} */
  const kinds = new Map();
  for (const warning of warnings) {
    const code = SAME_KIND.get(warning.code) ?? warning.code;
    kinds.set(code, [...(kinds.get(code) ?? []), warning]);
  }
  const findings = [...kinds].map(([code, all]) => findingOf(code, all, proposals.filter(({ finding }) => finding === code)));
  return findings.toSorted((one, other) => other.severity - one.severity);
}

/**
 * @param {string} code
 * @param {Warning[]} warnings
 * @param {MendProposal[]} proposals
 * @returns {Finding}
 */
function findingOf(code, warnings, proposals) {
  const where = warnings.map((warning) => warning.where ?? "").join("");
  const mendable = spotsOf(proposals);
  const marked = where ? boxesOf(where) : warnings.flatMap(({ box }) => (box ? [box] : []));
  return {
    code,
    severity: Math.max(...warnings.map(({ severity }) => severity)),
    count: Math.max(mendable.length, warnings.reduce((sum, { message }) => sum + Number(message.figures["count"] ?? 1), 0)),
    warnings,
    where,
    spots: mendable.length > 0 ? mendable : marked.map((box) => ({ box, seen: box, ways: [] })),
  };
}

/**
 * Proposals for the same place are choices: they follow one another.
 *
 * @param {readonly MendProposal[]} proposals
 * @returns {FindingPlace[]}
 */
function spotsOf(proposals) {
  /** @type {(FindingPlace & {at: readonly number[]})[]} */
  const spots = [];
  for (const proposal of proposals) {
    const last = spots.at(-1);
    const isSame = last?.at.every((value, axis) => Math.abs(value - (proposal.at[axis] ?? 0)) < TOUCHING_MM);
    if (last && isSame) {
      last.ways.push(proposal);
      last.box = enclosing(last.box, proposal.box);
      if (last.ways[0]?.choice !== "thicken") last.seen = last.box;
    } else spots.push({ at: proposal.at, box: proposal.box, seen: seenOf(proposal), ways: [proposal] });
  }
  return spots;
}

/** @param {MendProposal} proposal  @returns {Box} */
function seenOf({ choice, at: [x = 0, y = 0], box }) {
  if (choice !== "thicken") return box;
  const half = MOST_SEEN_MM / 2;
  const [left, top, right, bottom] = box;
  return [Math.max(left, x - half), Math.max(top, y - half), Math.min(right, x + half), Math.min(bottom, y + half)];
}
