import { TONES } from "../colours.js";

/** @typedef {import("../stage.js").Brush} Brush */
/** @typedef {import("../../desk/types.js").Box} Box */

/** A box over the openings that the keyboard spans. */
export class SpanLayer {
  /** @param {() => Box | null} box  mm */
  constructor(box) {
    this.box = box;
  }

  /** @param {Brush} brush */
  draw({ context, view }) {
    const box = this.box();
    if (!box) return;
    const [x0, y0, x1, y1] = box;
    context.fillStyle = "rgb(28 107 87 / 14%)";
    context.fillRect(x0, y0, x1 - x0, y1 - y0);
    context.strokeStyle = TONES.paper;
    context.lineWidth = 4 / view.scale;
    context.strokeRect(x0, y0, x1 - x0, y1 - y0);
    context.strokeStyle = TONES.accent;
    context.lineWidth = 2 / view.scale;
    context.setLineDash([8 / view.scale, 5 / view.scale]);
    context.strokeRect(x0, y0, x1 - x0, y1 - y0);
  }
}
