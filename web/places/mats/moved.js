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
 * Where a hand has taken a trim: on grid lines of the mat nearest to it, or past its edge.
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
  const [across, down] = sidesOf(trim, turned);
  const onLine = (/** @type {number} */ at) => Math.round(at / grid) * grid;
  const quarter = turned !== trim.turned;
  return {
    mat: mat.number,
    x_mm: onLine((quarter ? cx - across / 2 : x0 + dx) - left),
    y_mm: onLine((quarter ? cy - down / 2 : y0 + dy) - top),
    turned,
  };
}

/**
 * The same on the mat.
 *
 * @param {Trim} trim
 * @param {TrimPlace} place
 * @param {readonly Mat[]} mats
 * @param {number} grid  mm
 * @returns {TrimPlace}
 */
export function onMat(trim, place, mats, grid) {
  const mat = mats.find(({ number }) => number === place.mat);
  if (!mat) return place;
  const [across, down] = sidesOf(trim, place.turned);
  const within = (/** @type {number} */ at, /** @type {number} */ most) =>
    Math.max(0, Math.min(at, Math.floor(most / grid + 1e-6) * grid));
  return { ...place, x_mm: within(place.x_mm, mat.width_mm - across), y_mm: within(place.y_mm, mat.height_mm - down) };
}

/**
 * @param {Trim} trim
 * @param {boolean} turned
 * @returns {[number, number]} across and down, mm
 */
function sidesOf({ width_mm: width, height_mm: height }, turned) {
  return turned ? [height, width] : [width, height];
}

/**
 * The map from a trim's mm to the table's while a hand carries it.
 *
 * @param {Trim} trim
 * @param {Move} move
 * @param {Laid} laid
 */
export function carriedTrim(trim, { dx, dy, turn }, laid) {
  const [x0, y0, x1, y1] = laid.boxOf(trim);
  const [cx, cy] = [(x0 + x1) / 2, (y0 + y1) / 2];
  return new DOMMatrix()
    .translate(cx + dx, cy + dy)
    .rotate(turn)
    .translate(-cx, -cy)
    .multiply(laid.matrixOf(trim));
}

/**
 * The move of a hand that takes a trim to a place.
 *
 * @param {Trim} trim
 * @param {TrimPlace} place
 * @param {Laid} laid
 * @returns {Move}
 */
export function moveOfTrim(trim, place, laid) {
  const [ax, ay, bx, by] = laid.boxOf(trim);
  const [cx, cy, dx, dy] = laid.boxOf({ ...trim, ...place });
  return { dx: (cx + dx - ax - bx) / 2, dy: (cy + dy - ay - by) / 2, turn: place.turned === trim.turned ? 0 : 90 };
}

/**
 * The move of a hand that takes a piece to a place in its trim.
 *
 * @param {PlacedPiece} piece
 * @param {PiecePlace} place
 * @param {Trim} trim
 * @returns {Move}
 */
export function moveOfPiece(piece, place, trim) {
  const turn = place.turn_deg - piece.turn_deg;
  const [cx, cy] = middleOf(piece);
  const reached = new DOMMatrix()
    .translate(place.x_mm, place.y_mm)
    .rotate(turn)
    .translate(-piece.x_mm, -piece.y_mm)
    .transformPoint({ x: cx, y: cy });
  const [across, down] = [reached.x - cx, reached.y - cy];
  return trim.turned ? { dx: -down, dy: across, turn } : { dx: across, dy: down, turn };
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
export function middleOf(piece) {
  const [x0, y0, x1, y1] = boxOf(piece);
  return [(x0 + x1) / 2, (y0 + y1) / 2];
}

/**
 * The box around a piece, in its trim's mm.
 *
 * @param {PlacedPiece} piece
 * @returns {import("../../desk/types.js").Box}
 */
export function boxOf({ path }) {
  const numbers = (path.match(/-?\d+(\.\d+)?(e-?\d+)?/g) ?? []).map(Number);
  const across = numbers.filter((_, at) => at % 2 === 0);
  const down = numbers.filter((_, at) => at % 2 === 1);
  return [Math.min(...across), Math.min(...down), Math.max(...across), Math.max(...down)];
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
