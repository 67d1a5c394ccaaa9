import { meet } from "../shapes.js";
import { textScale } from "../text-size.js";

/** @typedef {import("../stage.js").Brush} Brush */
/** @typedef {import("../shapes.js").Shapes} Shapes */

const SMALL = 9;
const LARGE = 22;

/** The openings' numbers, each on a disc of paper white where it has most room; left out where none has room. */
export class NumbersLayer {
  /**
   * @param {Shapes} shapes
   * @param {(number: number) => {text: string, ink: string, ground: string} | null} labelOf
   */
  constructor(shapes, labelOf) {
    this.shapes = shapes;
    this.labelOf = labelOf;
  }

  /** @param {Brush} _brush */
  draw(_brush) {}

  /** @param {Brush} brush */
  label({ context, view, region }) {
    context.textAlign = "center";
    context.textBaseline = "middle";
    const larger = textScale();
    const [small, large] = [larger * SMALL, larger * LARGE];
    for (const { number, label, box } of this.shapes.openings) {
      if (region && !meet(box, region)) continue;
      const written = this.labelOf(number);
      if (!written) continue;
      const room = label[2] * view.scale;
      const size = Math.min(large, Math.max(small, room * 0.85));
      const long = written.text.length;
      if (room < small * (0.3 + 0.22 * long)) continue;
      const [x, y] = view.toPx(label[0], label[1]);
      context.font = `650 ${size}px ui-sans-serif, system-ui, sans-serif`;
      const half = (context.measureText(written.text).width + size * 0.7) / 2;
      context.fillStyle = written.ground;
      context.beginPath();
      context.roundRect(x - half, y - size * 0.72, 2 * half, size * 1.44, size * 0.72);
      context.fill();
      context.fillStyle = written.ink;
      context.fillText(written.text, x, y + size * 0.06);
    }
  }
}
