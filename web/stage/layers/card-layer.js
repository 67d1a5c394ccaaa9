import { grown } from "../shapes.js";

/** @typedef {import("../stage.js").Brush} Brush */
/** @typedef {import("../shapes.js").Shapes} Shapes */

const LIFT_MM = 0.9;
const LIFT_PX = 4;
const SHADE = "rgb(30 20 8 / 9%)";
const SHADE_STEPS = [1, 0.75, 0.5, 0.25];

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
  draw({ context, view, region }) {
    const lift = Math.min(LIFT_MM, LIFT_PX / view.scale);
    const card = this.shapes.cardWithin(region && grown(region, 2 * lift));
    context.fillStyle = SHADE;
    for (const part of SHADE_STEPS) {
      context.save();
      context.translate(view.mirrored ? -lift * part : lift * part, lift * 1.3 * part);
      context.fill(card, "evenodd");
      context.restore();
    }
    context.fillStyle = this.colour;
    context.fill(card, "evenodd");
  }
}
