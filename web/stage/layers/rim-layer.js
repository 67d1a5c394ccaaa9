import { TONES } from "../colours.js";

/** @typedef {import("../stage.js").Brush} Brush */
/** @typedef {import("../shapes.js").Shapes} Shapes */

const WIDTH_PX = 3;
const OPACITY = 0.5;
const DARK = matchMedia("(prefers-color-scheme: dark)");

/** A thin light edge around the card on a dark table, under papers and card: a dark card is told from the table by it. */
export class RimLayer {
  /** @param {Shapes} shapes */
  constructor(shapes) {
    this.shapes = shapes;
  }

  /** @param {Brush} brush */
  draw({ context, view }) {
    if (!isDark()) return;
    context.save();
    context.globalAlpha = OPACITY;
    context.strokeStyle = TONES.paper;
    context.lineWidth = WIDTH_PX / view.scale;
    context.lineJoin = "round";
    context.stroke(this.shapes.rim);
    context.restore();
  }
}

function isDark() {
  const { look } = document.documentElement.dataset;
  return look === "dark" || (DARK.matches && look !== "light" && look !== "contrast");
}
