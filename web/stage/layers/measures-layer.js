import { TONES } from "../colours.js";
import { textScale } from "../text-size.js";

/** @typedef {import("../stage.js").Brush} Brush */
/** @typedef {import("../../desk/types.js").Measure} Measure */

const TEXT_MM = 3.6;

/** Measures of what lies on the page, written on it. */
export class MeasuresLayer {
  /** @param {readonly Measure[]} measures */
  constructor(measures) {
    this.measures = measures;
  }

  /** @param {Brush} brush */
  draw({ context }) {
    const size = TEXT_MM * textScale();
    context.lineWidth = 0.25;
    context.strokeStyle = TONES.alert;
    context.font = `${size}px ui-sans-serif, system-ui, sans-serif`;
    context.textAlign = "center";
    context.textBaseline = "middle";
    for (const { line } of this.measures) {
      if (!line) continue;
      context.beginPath();
      context.moveTo(line[0], line[1]);
      context.lineTo(line[2], line[3]);
      context.stroke();
    }
    for (const { text, x, y } of this.measures) {
      const width = context.measureText(text).width + size * 0.7;
      context.fillStyle = TONES.paper;
      context.fillRect(x - width / 2, y - size * 0.7, width, size * 1.4);
      context.fillStyle = TONES.alert;
      context.fillText(text, x, y);
    }
  }
}
