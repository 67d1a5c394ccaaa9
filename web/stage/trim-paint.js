import { TONES } from "./colours.js";

/** @typedef {import("../desk/types.js").Trim} Trim */

const HALO = "rgb(255 253 248 / 85%)";
const HALO_PX = 3.2;
const CUT_PX = 1.2;

/** The outlines to cut from a trim. @param {Trim} trim */
export function cutsOf({ pieces }) {
  const cuts = new Path2D();
  for (const piece of pieces) cuts.addPath(new Path2D(piece.path));
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
