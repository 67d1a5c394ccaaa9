import { meet } from "../shapes.js";
import { TONES } from "../colours.js";

/** @typedef {import("../stage.js").Brush} Brush */
/** @typedef {import("../shapes.js").Shapes} Shapes */

const LARGE_PX = 9;
const LEAST_PX = 3.5;

/** A small padlock on each locked opening, where it has most room. */
export class LocksLayer {
  /**
   * @param {Shapes} shapes
   * @param {() => readonly number[]} locked
   */
  constructor(shapes, locked) {
    this.shapes = shapes;
    this.locked = locked;
  }

  /** @param {Brush} _brush */
  draw(_brush) {}

  /** @param {Brush} brush */
  label({ context, view, region }) {
    for (const number of this.locked()) {
      const opening = this.shapes.byNumber.get(number);
      if (!opening || (region && !meet(opening.box, region))) continue;
      const [mmX, mmY, room] = opening.label;
      const size = Math.min(LARGE_PX, room * view.scale * 0.55);
      if (size < LEAST_PX) continue;
      const [x, y] = view.toPx(mmX, mmY);
      padlock(context, x, y, size);
    }
  }
}

/**
 * @param {CanvasRenderingContext2D} context
 * @param {number} x  px
 * @param {number} y
 * @param {number} size
 */
function padlock(context, x, y, size) {
  context.fillStyle = TONES.paper;
  context.beginPath();
  context.arc(x, y, size * 1.45, 0, 2 * Math.PI);
  context.fill();
  context.strokeStyle = TONES.ink;
  context.lineWidth = size * 0.26;
  context.beginPath();
  context.arc(x, y - size * 0.2, size * 0.46, Math.PI, 0);
  context.stroke();
  context.fillStyle = TONES.ink;
  context.beginPath();
  context.roundRect(x - size * 0.75, y - size * 0.2, size * 1.5, size * 1.05, size * 0.2);
  context.fill();
}
