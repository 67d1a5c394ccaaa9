import { amend } from "./edits.js";

/** @typedef {import("../desk/types.js").Project} Project */
/** @typedef {import("../desk/types.js").Trim} Trim */
/** @typedef {import("../desk/types.js").PiecePlace} PiecePlace */
/** @typedef {import("../desk/types.js").TrimPlace} TrimPlace */
/** @typedef {{trim: string, piece: number | null}} Held  a trim, or a piece in it */

/**
 * Pins a trim to its place on a mat, and its pieces to theirs in it.
 *
 * @param {Project} project
 * @param {Trim} trim
 * @param {TrimPlace} place
 */
export function pinTrim(project, trim, place) {
  const { id, paper, width_mm, height_mm } = trim;
  const { mat, x_mm, y_mm, turned } = place;
  const { trim_pins: trims, piece_pins: pieces } = project.plan;
  return amend(project, "plan", {
    trim_pins: [
      ...trims.filter((pin) => pin.trim !== id),
      { trim: id, paper, width_mm, height_mm, mat, x_mm, y_mm, turned },
    ],
    piece_pins: [
      ...pieces.filter((pin) => pin.trim !== id && !trim.pieces.some(({ number }) => number === pin.piece)),
      ...trim.pieces.map((piece) => piecePin(piece.number, id, piece)),
    ],
  });
}

/**
 * Pins a piece to a place in its trim.
 *
 * @param {Project} project
 * @param {string} trim
 * @param {number} piece
 * @param {PiecePlace} place
 */
export function pinPiece(project, trim, piece, place) {
  const others = project.plan.piece_pins.filter((pin) => pin.piece !== piece);
  return amend(project, "plan", { piece_pins: [...others, piecePin(piece, trim, place)] });
}

/**
 * Takes the pin out of a piece, or out of a trim and all in it.
 *
 * @param {Project} project
 * @param {Held} held
 */
export function unpin(project, { trim, piece }) {
  const { trim_pins: trims, piece_pins: pieces } = project.plan;
  if (piece !== null) return amend(project, "plan", { piece_pins: pieces.filter((pin) => pin.piece !== piece) });
  return amend(project, "plan", {
    trim_pins: trims.filter((pin) => pin.trim !== trim),
    piece_pins: pieces.filter((pin) => pin.trim !== trim),
  });
}

/** Takes out all pins. @param {Project} project */
export function unpinAll(project) {
  return amend(project, "plan", { trim_pins: [], piece_pins: [] });
}

/**
 * @param {Project} project
 * @param {Held} held
 */
export function isPinned({ plan }, { trim, piece }) {
  return piece === null
    ? plan.trim_pins.some((pin) => pin.trim === trim)
    : plan.piece_pins.some((pin) => pin.piece === piece && pin.trim === trim);
}

/** How many trims and pieces were laid by hand; a pinned trim counts once with all in it. @param {Project} project */
export function countPins({ plan }) {
  const trims = new Set(plan.trim_pins.map((pin) => pin.trim));
  return trims.size + plan.piece_pins.filter((pin) => !trims.has(pin.trim)).length;
}

/**
 * @param {number} piece
 * @param {string} trim
 * @param {PiecePlace} place
 */
function piecePin(piece, trim, { turn_deg, x_mm, y_mm }) {
  return { piece, trim, turn_deg, x_mm, y_mm };
}
