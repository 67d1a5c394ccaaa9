import { TONES } from "./colours.js";
import { context2d } from "./picture.js";

const CARD = "#4b453d";
const HAND = "#c39a7c";
/** Between the page and the hand. */
const APART_MM = 14;
/** A middling adult's hand: breadth of its picture, and how far its middle finger reaches up (from memory). */
const HAND_WIDTH_MM = 112;
const HAND_HEIGHT_MM = 185;
const FINGER_MM = 17;
/** Fingers from the palm to their tips, thumb first, in mm from the hand's lower left corner, y up. */
const FINGERS = /** @type {const} */ ([
  [34, 45, 12, 104],
  [42, 85, 34, 158],
  [60, 88, 59, 176],
  [77, 86, 83, 165],
  [91, 80, 103, 138],
]);

/**
 * Draws a card on its page beside a hand, all in one scale: how large it really is.
 *
 * @param {number} px  the longer side at most
 * @param {Path2D} card  mm from its top left corner, filled by even-odd
 * @param {readonly [number, number]} size  of the card, mm
 * @param {readonly [number, number]} page  mm
 * @returns {HTMLCanvasElement}
 */
export function sizePicture(px, card, [width, height], [pageWidth, pageHeight]) {
  const across = Math.max(width, pageWidth);
  const down = Math.max(height, pageHeight, HAND_HEIGHT_MM);
  const whole = across + APART_MM + HAND_WIDTH_MM;
  const share = px / Math.max(whole, down);
  const ratio = Math.min(devicePixelRatio || 1, 2);
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(whole * share * ratio);
  canvas.height = Math.round(down * share * ratio);
  canvas.style.width = `${whole * share}px`;
  canvas.style.height = `${down * share}px`;
  const context = context2d(canvas);
  const scale = share * ratio;
  context.scale(scale, scale);
  context.fillStyle = TONES.paper;
  context.strokeStyle = TONES.line;
  context.lineWidth = 1 / share;
  const [left, top] = [(across - pageWidth) / 2, down - pageHeight - Math.max(0, height - pageHeight) / 2];
  context.fillRect(left, top, pageWidth, pageHeight);
  context.strokeRect(left + 0.5 / share, top + 0.5 / share, pageWidth - 1 / share, pageHeight - 1 / share);
  drawHand(context, across + APART_MM, down);
  context.translate((across - width) / 2, top + (pageHeight - height) / 2);
  context.fillStyle = CARD;
  context.fill(card, "evenodd");
  return canvas;
}

/**
 * @param {CanvasRenderingContext2D} context
 * @param {number} x  of the lower left corner
 * @param {number} y
 */
function drawHand(context, x, y) {
  context.save();
  context.translate(x, y);
  context.scale(1, -1);
  context.fillStyle = HAND;
  context.strokeStyle = HAND;
  context.lineCap = "round";
  context.lineJoin = "round";
  context.lineWidth = FINGER_MM;
  context.beginPath();
  for (const [fromX, fromY, toX, toY] of FINGERS) {
    context.moveTo(fromX, fromY);
    context.lineTo(toX, toY);
  }
  context.stroke();
  context.beginPath();
  context.moveTo(46, 0);
  context.bezierCurveTo(44, 18, 32, 30, 34, 48);
  context.lineTo(43, 88);
  context.bezierCurveTo(56, 96, 80, 92, 91, 80);
  context.bezierCurveTo(98, 52, 90, 24, 86, 0);
  context.closePath();
  context.fill();
  context.stroke();
  context.restore();
}
