/** @typedef {import("../../desk/types.js").Trim} Trim */
/** @typedef {import("../../desk/types.js").Mat} Mat */
/** @typedef {import("../../desk/types.js").PlacedPiece} PlacedPiece */
/** @typedef {import("../../desk/types.js").PiecePlace} PiecePlace */
/** @typedef {import("../../desk/types.js").TrimPlace} TrimPlace */
/** @typedef {import("../../stage/layers/mats-layer.js").Laid} Laid */
/** @typedef {{dx: number, dy: number, turn: number}} Move  table mm, and degrees clockwise */

/** Turns by hand go in steps of this many degrees. */
export const TURN_STEP = 5;

/**
 * Where a hand has taken a trim: on the grid lines of the mat nearest to it.
 *
 * @param {Trim} trim
 * @param {Move} move
 * @param {Laid} laid
 * @param {readonly Mat[]} mats
 * @param {number} grid  mm
 * @returns {TrimPlace}
 */
export function movedTrim(trim, { dx, dy, turn }, laid, mats, grid) {
  const turned = Math.round(turn / 90) % 2 === 0 ? trim.turned : !trim.turned;
  const [x0, y0, x1, y1] = laid.boxOf(trim);
  const [cx, cy] = [(x0 + x1) / 2 + dx, (y0 + y1) / 2 + dy];
  const away = (/** @type {Mat} */ { number, width_mm: width, height_mm: height }) => {
    const [left, top] = laid.cornerOf(number);
    return Math.hypot(cx - left - width / 2, cy - top - height / 2);
  };
  const mat = mats.toSorted((one, other) => away(one) - away(other))[0];
  if (!mat) return { mat: trim.mat, x_mm: trim.x_mm, y_mm: trim.y_mm, turned };
  const [left, top] = laid.cornerOf(mat.number);
  const [across, down] = turned ? [trim.height_mm, trim.width_mm] : [trim.width_mm, trim.height_mm];
  const onLine = (/** @type {number} */ at, /** @type {number} */ most) =>
    Math.max(0, Math.min(Math.round(at / grid), Math.floor(most / grid + 1e-6))) * grid;
  const quarter = turned !== trim.turned;
  return {
    mat: mat.number,
    x_mm: onLine((quarter ? cx - across / 2 : x0 + dx) - left, mat.width_mm - across),
    y_mm: onLine((quarter ? cy - down / 2 : y0 + dy) - top, mat.height_mm - down),
    turned,
  };
}

/**
 * The map from a piece's place in its trim to where a hand has taken it, in the trim's mm.
 *
 * @param {PlacedPiece} piece
 * @param {Move} move
 * @param {Trim} trim
 */
export function movedPiece(piece, { dx, dy, turn }, trim) {
  const [across, down] = trim.turned ? [dy, -dx] : [dx, dy];
  const [cx, cy] = middleOf(piece);
  return new DOMMatrix().translate(across + cx, down + cy).rotate(turn).translate(-cx, -cy);
}

/**
 * @param {PlacedPiece} piece
 * @param {DOMMatrix} map  as `movedPiece` gives it
 * @param {number} turn  degrees
 * @returns {PiecePlace}
 */
export function placeAfter(piece, map, turn) {
  const { x, y } = map.transformPoint({ x: piece.x_mm, y: piece.y_mm });
  return { turn_deg: (((piece.turn_deg + turn) % 360) + 360) % 360, x_mm: x, y_mm: y };
}

/**
 * The middle of the box around a piece, in its trim's mm.
 *
 * @param {PlacedPiece} piece
 * @returns {[number, number]}
 */
export function middleOf({ path }) {
  const numbers = (path.match(/-?\d+(\.\d+)?(e-?\d+)?/g) ?? []).map(Number);
  const across = numbers.filter((_, at) => at % 2 === 0);
  const down = numbers.filter((_, at) => at % 2 === 1);
  const middle = (/** @type {number[]} */ values) => (Math.min(...values) + Math.max(...values)) / 2;
  return [middle(across), middle(down)];
}

/**
 * The top of the box around a piece as it lies on the table, above its middle, in its trim's mm.
 *
 * @param {PlacedPiece} piece
 * @param {DOMMatrix} matrix  trim mm to table mm
 * @returns {[number, number]}
 */
export function topOf(piece, matrix) {
  const numbers = (piece.path.match(/-?\d+(\.\d+)?(e-?\d+)?/g) ?? []).map(Number);
  const [cx, cy] = middleOf(piece);
  const middle = matrix.transformPoint({ x: cx, y: cy });
  let top = middle.y;
  for (let at = 0; at + 1 < numbers.length; at += 2) {
    top = Math.min(top, matrix.transformPoint({ x: numbers[at], y: numbers[at + 1] }).y);
  }
  const place = matrix.inverse().transformPoint({ x: middle.x, y: top });
  return [place.x, place.y];
}
