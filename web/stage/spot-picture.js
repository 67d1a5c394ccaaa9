import { context2d } from "./picture.js";
import { TONES } from "./colours.js";

/** @typedef {import("../desk/types.js").Box} Box */
/** @typedef {{path: string, colour: string}} Tint */

const CARD = "#4b453d";
/** How much of the surroundings a spot is seen with on each side, in parts of it, and at least and most, in mm. */
const AROUND = 0.6;
const LEAST_MM = 2.5;
const MOST_MM = 8;

/**
 * Draws one spot of a card small: the card dark on light, as a cut is seen, with tinted areas over it.
 *
 * @param {number} px  the picture's sides
 * @param {Path2D} card  filled by even-odd
 * @param {Box} box  mm, what must be seen
 * @param {readonly Tint[]} tints
 * @returns {HTMLCanvasElement}
 */
export function spotPicture(px, card, [left, top, right, bottom], tints) {
  const size = Math.max(right - left, bottom - top);
  const seen = size + 2 * Math.min(Math.max(LEAST_MM, AROUND * size), MOST_MM);
  const { canvas, context } = blank(px, px);
  const scale = canvas.width / seen;
  context.setTransform(scale, 0, 0, scale, canvas.width / 2 - ((left + right) / 2) * scale, canvas.height / 2 - ((top + bottom) / 2) * scale);
  context.fillStyle = CARD;
  context.fill(card, "evenodd");
  for (const { path, colour } of tints) {
    const area = new Path2D(path);
    context.fillStyle = colour;
    context.fill(area, "evenodd");
    context.strokeStyle = colour;
    context.lineWidth = 1.5 / scale;
    context.stroke(area);
  }
  return canvas;
}

/**
 * Another canvas with the same picture, since one stands in one place alone.
 *
 * @param {HTMLCanvasElement} picture
 */
export function copyOf(picture) {
  const canvas = /** @type {HTMLCanvasElement} */ (picture.cloneNode());
  context2d(canvas).drawImage(picture, 0, 0);
  return canvas;
}

/**
 * Draws a whole card small.
 *
 * @param {number} px  the longer side
 * @param {string} path  filled by even-odd
 * @param {number} width  of the box from 0 0 that the path lies in
 * @param {number} height
 * @returns {HTMLCanvasElement}
 */
export function cardPicture(px, path, width, height) {
  const share = px / Math.max(width, height, 1e-9);
  const { canvas, context } = blank(Math.max(1, width * share), Math.max(1, height * share));
  const scale = canvas.width / Math.max(width, 1e-9);
  context.scale(scale, scale);
  context.fillStyle = CARD;
  context.fill(new Path2D(path), "evenodd");
  return canvas;
}

/**
 * @param {number} width  CSS px
 * @param {number} height
 */
function blank(width, height) {
  const ratio = Math.min(devicePixelRatio || 1, 2);
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(width * ratio);
  canvas.height = Math.round(height * ratio);
  canvas.style.width = `${width}px`;
  canvas.style.height = `${height}px`;
  canvas.setAttribute("aria-hidden", "true");
  const context = context2d(canvas);
  context.fillStyle = TONES.paper;
  context.fillRect(0, 0, canvas.width, canvas.height);
  return { canvas, context };
}
