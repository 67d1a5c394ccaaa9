import { grown } from "../shapes.js";

/** @typedef {import("../stage.js").Brush} Brush */
/** @typedef {import("../shapes.js").Shapes} Shapes */
/** @typedef {import("../paper-paint.js").PaperPaint} PaperPaint */
/** @typedef {import("../../desk/types.js").Paper} Paper */
/** @typedef {import("../../desk/types.js").Affine} Affine */

const EDGE_MM = 0.3;

/** The papers that show through the openings, and what lies behind where an opening is left open. */
export class PapersLayer {
  /**
   * @param {Shapes} shapes
   * @param {PaperPaint} paint
   * @param {(number: number) => Paper | null} paperOf  the paper of an opening
   * @param {(number: number) => Affine | null} placeOf  where its piece comes from, once planned
   * @param {string} behind  colour behind the piece
   */
  constructor(shapes, paint, paperOf, placeOf, behind) {
    this.shapes = shapes;
    this.paint = paint;
    this.paperOf = paperOf;
    this.placeOf = placeOf;
    this.behind = behind;
  }

  /** @param {Brush} brush */
  draw({ context, view, ratio, region }) {
    context.lineWidth = EDGE_MM;
    for (const { number, outline } of this.shapes.within(region && grown(region, EDGE_MM))) {
      const paper = this.paperOf(number);
      const fill = paper
        ? this.paint.of(context, paper, view.scale * ratio, this.placeOf(number))
        : this.behind;
      context.fillStyle = fill;
      context.strokeStyle = fill;
      context.fill(outline, "evenodd");
      context.stroke(outline);
    }
  }
}
