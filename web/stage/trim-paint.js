import { TONES } from "./colours.js";
import { outlineOf } from "./outline.js";

/** @typedef {import("../desk/types.js").Trim} Trim */

const HALO = "rgb(255 253 248 / 85%)";
const HALO_PX = 3.2;
const CUT_PX = 1.2;

/** The edge of a trim: a rectangle, or the outline of its scrap. @param {Trim} trim */
export function edgeOf(trim) {
  return outlineOf(trim, trim.outline ?? `M0 0H${trim.width_mm}V${trim.height_mm}H0Z`).path;
}

/** @type {WeakMap<Trim, Path2D>} */
const CUTS = new WeakMap();

/** The outlines to cut from a trim, made once. @param {Trim} trim */
export function cutsOf(trim) {
  const known = CUTS.get(trim);
  if (known) return known;
  const cuts = new Path2D();
  for (const piece of trim.pieces) cuts.addPath(outlineOf(piece, piece.path).path);
  CUTS.set(trim, cuts);
  return cuts;
}

/**
 * Draws lines to cut, light around dark, in mm.
 *
 * @param {CanvasRenderingContext2D} context
 * @param {Path2D} cuts
 * @param {number} scale  px per mm
 */
export function drawCuts(context, cuts, scale) {
  context.lineJoin = "round";
  context.strokeStyle = HALO;
  context.lineWidth = HALO_PX / scale;
  context.stroke(cuts);
  context.strokeStyle = TONES.ink;
  context.lineWidth = CUT_PX / scale;
  context.stroke(cuts);
}
