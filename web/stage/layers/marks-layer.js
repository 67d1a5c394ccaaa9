import { grown, meet } from "../shapes.js";

/** @typedef {import("../stage.js").Brush} Brush */
/** @typedef {import("../shapes.js").Shapes} Shapes */
/** @typedef {{numbers: ReadonlySet<number>, colour: string, under: string, width: number, dashed?: boolean}} Mark */

const REACH_PX = 4;

/** Outlines around openings that are pointed at, walked to, or chosen. */
export class MarksLayer {
  /**
   * @param {Shapes} shapes
   * @param {() => Mark[]} marks
   */
  constructor(shapes, marks) {
    this.shapes = shapes;
    this.marks = marks;
  }

  /** @param {Brush} brush */
  draw({ context, view, region }) {
    context.lineJoin = "round";
    const seen = region && grown(region, REACH_PX / view.scale);
    for (const { numbers, colour, under, width, dashed } of this.marks()) {
      for (const number of numbers) {
        const opening = this.shapes.byNumber.get(number);
        if (!opening || (seen && !meet(opening.box, seen))) continue;
        const { outline } = opening;
        context.setLineDash([]);
        context.strokeStyle = under;
        context.lineWidth = (width + 2.5) / view.scale;
        context.stroke(outline);
        if (dashed) context.setLineDash([6 / view.scale, 4 / view.scale]);
        context.strokeStyle = colour;
        context.lineWidth = width / view.scale;
        context.stroke(outline);
      }
    }
  }
}
