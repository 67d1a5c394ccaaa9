import { make } from "./dom.js";

/** @typedef {import("../desk/types.js").Paper} Paper */
/** @typedef {import("../stage/paper-paint.js").PaperPaint} PaperPaint */

const PX_PER_MM = 2.6;

/**
 * A piece of a paper as a small picture, its pattern at a steady size; of a photo as much of the sheet as fills it.
 *
 * @param {PaperPaint} paint
 * @param {Paper} paper
 * @param {number} width  CSS px
 * @param {number} height
 * @returns {HTMLCanvasElement}
 */
export function swatch(paint, paper, width, height) {
  const ratio = Math.min(devicePixelRatio || 1, 2);
  const canvas = make("canvas", {
    class: "swatch",
    width: Math.round(width * ratio),
    height: Math.round(height * ratio),
    "aria-hidden": "true",
  });
  const context = canvas.getContext("2d");
  if (context) {
    const { sheet_width_mm: across, sheet_height_mm: down } = paper;
    const scale = paper.picture ? Math.max(width / across, height / down) : PX_PER_MM;
    context.scale(scale * ratio, scale * ratio);
    context.fillStyle = paint.of(context, paper, scale * ratio, null);
    context.fillRect(0, 0, width / scale, height / scale);
  }
  return canvas;
}
