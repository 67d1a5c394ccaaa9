import { grown, meet } from "../shapes.js";

/** @typedef {import("../stage.js").Brush} Brush */
/** @typedef {{area: import("../outline.js").Outline, fill: string, edge: string | null}} Strip */

const EDGE_PX = 2;

/** Areas painted over the card: warnings' places, bars by strength, fitted lips. */
export class StripsLayer {
  /** @param {() => Strip[]} strips */
  constructor(strips) {
    this.strips = strips;
  }

  /** @param {Brush} brush */
  draw({ context, view, region }) {
    const seen = region && grown(region, EDGE_PX / view.scale);
    context.lineJoin = "round";
    context.lineCap = "round";
    for (const { area, fill, edge } of this.strips()) {
      if (seen && !meet(area.box, seen)) continue;
      context.fillStyle = fill;
      context.fill(area.path, "evenodd");
      if (!edge) continue;
      context.strokeStyle = edge;
      context.lineWidth = EDGE_PX / view.scale;
      context.stroke(area.path);
    }
  }
}
