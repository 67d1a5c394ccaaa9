import { mix } from "../../stage/colours.js";

const WOOD = "#b08a62";
const LIGHT = "#c9a67d";
const DARK = "#86653f";
/** Boards across the picture, and lines of grain in each. */
const BOARDS = 6;
const GRAINS = 26;

/**
 * Draws a table top of boards beneath what is on a canvas already.
 *
 * @param {CanvasRenderingContext2D} context  whose transform is none
 */
export function layTableTop(context) {
  const { width, height } = context.canvas;
  const chance = chances(7);
  const board = height / BOARDS;
  context.save();
  context.globalCompositeOperation = "destination-over";
  context.lineCap = "round";
  // What lies beneath is drawn later: joints and grain first, then the wood.
  for (let at = 1; at < BOARDS; at += 1) {
    context.fillStyle = DARK;
    context.fillRect(0, at * board - board / 90, width, board / 45);
  }
  for (let at = 0; at < BOARDS; at += 1) {
    for (let grain = 0; grain < GRAINS; grain += 1) {
      const y = (at + chance()) * board;
      const bend = (chance() - 0.5) * board * 0.3;
      context.strokeStyle = chance() < 0.5 ? DARK : LIGHT;
      context.globalAlpha = 0.06 + 0.12 * chance();
      context.lineWidth = board * (0.005 + 0.02 * chance());
      context.beginPath();
      context.moveTo(0, y);
      context.bezierCurveTo(width / 3, y + bend, (2 * width) / 3, y - bend, width, y + bend / 2);
      context.stroke();
    }
  }
  context.globalAlpha = 1;
  for (let at = 0; at < BOARDS; at += 1) {
    context.fillStyle = mix(WOOD, chance() < 0.5 ? LIGHT : DARK, 0.25 * chance());
    context.fillRect(0, at * board, width, board + 1);
  }
  context.restore();
}

/**
 * Chances that are the same each time (Lehmer's generator, Park and Miller 1988), so that the table stays as it was.
 *
 * @param {number} seed
 * @returns {() => number} 0 to 1
 */
function chances(seed) {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}
