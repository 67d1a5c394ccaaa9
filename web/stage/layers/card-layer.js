/** @typedef {import("../stage.js").Brush} Brush */
/** @typedef {import("../shapes.js").Shapes} Shapes */

/** The card in its colour, a little above what lies behind it. */
export class CardLayer {
  /**
   * @param {Shapes} shapes
   * @param {string} colour
   */
  constructor(shapes, colour) {
    this.shapes = shapes;
    this.colour = colour;
  }

  /** @param {Brush} brush */
  draw({ context, view }) {
    const lift = Math.min(0.7, 5 / view.scale);
    context.save();
    context.fillStyle = "rgb(30 20 8 / 14%)";
    for (const part of [1, 0.5]) {
      context.save();
      context.translate(view.mirrored ? -lift * part : lift * part, lift * 1.3 * part);
      context.fill(this.shapes.card, "evenodd");
      context.restore();
    }
    context.restore();
    context.fillStyle = this.colour;
    context.fill(this.shapes.card, "evenodd");
  }
}
