/** @typedef {import("../stage.js").Brush} Brush */
/** @typedef {{area: Path2D, fill: string, edge: string | null}} Strip */

/** Areas painted over the card: warnings' places, bars by strength, fitted lips. */
export class StripsLayer {
  /** @param {() => Strip[]} strips */
  constructor(strips) {
    this.strips = strips;
  }

  /** @param {Brush} brush */
  draw({ context, view }) {
    context.lineJoin = "round";
    context.lineCap = "round";
    for (const { area, fill, edge } of this.strips()) {
      context.fillStyle = fill;
      context.fill(area, "evenodd");
      if (!edge) continue;
      context.strokeStyle = edge;
      context.lineWidth = 2 / view.scale;
      context.stroke(area);
    }
  }
}
