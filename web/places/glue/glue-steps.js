import { say } from "../../words/words.js";

/** @typedef {import("../../desk/types.js").GlueGroup} GlueGroup */
/** @typedef {import("../../desk/types.js").LooseBit} LooseBit */
/** @typedef {import("../../desk/types.js").Motif} Motif */
/** @typedef {import("../../desk/types.js").Project} Project */

/**
 * One part to glue, a piece or a loose bit: its number on every sheet (`key`), the openings that it lies in, and
 * what to know of it. Of `piece` and `bit` the other is null; a loose bit has no paper.
 * `motif` is what its motif is called, "" where none is told.
 *
 * @typedef {{key: string, piece: number | null, bit: number | null, paper: string | null, motif: string, openings: number[],
 *   interchangeable_with: number[], lets_set: boolean}} PartStep
 */

/**
 * All parts in the order of gluing: the pieces from behind, then the loose bits from the front.
 *
 * @param {readonly GlueGroup[]} groups
 * @param {readonly LooseBit[]} bits
 * @param {readonly Motif[]} named  by the person, told even where gluing does not go by motifs
 * @returns {PartStep[]}
 */
export function partSteps(groups, bits, named) {
  const names = new Map(named.flatMap(({ name, openings }) => openings.map((number) => [number, name])));
  const pieces = groups.flatMap(({ paper, steps, ...group }) =>
    steps.map((step) => ({
      ...step,
      ...ofPiece(step.piece),
      paper,
      motif: motifName(group) || (names.get(step.openings[0] ?? 0) ?? ""),
    })),
  );
  return [...pieces, ...bits.map(bitStep)];
}

/**
 * What the motif that a group glues is called, "" where it goes by none.
 *
 * @param {Pick<GlueGroup, "motif" | "motif_name">} group
 */
export function motifName({ motif, motif_name: name }) {
  return motif === null ? "" : name || say("motifs.nameless", { number: motif });
}

/**
 * @param {LooseBit} bit
 * @returns {PartStep}
 */
export function bitStep({ number, name, opening }) {
  return {
    key: name,
    piece: null,
    bit: number,
    paper: null,
    motif: "",
    openings: [opening],
    interchangeable_with: [],
    lets_set: false,
  };
}

/** @param {number} piece */
function ofPiece(piece) {
  return { key: pieceKey(piece), piece, bit: null };
}

/** @param {number} piece  its number @returns {string} what it is called among all parts */
export function pieceKey(piece) {
  return String(piece);
}

/**
 * What is glued already, by key.
 *
 * @param {Project} project
 * @param {readonly PartStep[]} steps
 * @returns {Set<string>}
 */
export function gluedKeys({ ticked, ticked_bits: bits }, steps) {
  const [pieces, others] = [new Set(ticked), new Set(bits)];
  const glued = steps.filter(({ piece, bit }) => (piece === null ? others.has(bit ?? 0) : pieces.has(piece)));
  return new Set(glued.map(({ key }) => key));
}

/** @param {readonly PartStep[]} steps  @returns {{pieces: number[], bits: number[]}} their numbers */
export function numbersOf(steps) {
  return {
    pieces: steps.flatMap(({ piece }) => piece ?? []),
    bits: steps.flatMap(({ bit }) => bit ?? []),
  };
}
