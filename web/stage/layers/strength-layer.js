import { TONES } from "../colours.js";
import { outlineOf } from "../outline.js";
import { meet } from "../shapes.js";

/** @typedef {import("../stage.js").Brush} Brush */
/** @typedef {import("../../desk/types.js").Bar} Bar */

/** From this many times the limit on a bar is as sturdy as can be. */
export const STURDY = 4;

/** Bars coloured by their least width: from warm where they may tear to pale where they are sturdy. */
export class StrengthLayer {
  /**
   * @param {() => readonly Bar[]} bars
   * @param {number} limit  mm under which a bar is thin
   */
  constructor(bars, limit) {
    this.bars = bars;
    this.limit = limit;
  }

  /** @param {Brush} brush */
  draw({ context, region }) {
    for (const bar of this.bars()) {
      const strip = outlineOf(bar, bar.strip);
      if (region && !meet(strip.box, region)) continue;
      context.fillStyle = strengthColour(bar.width_mm / this.limit);
      context.fill(strip.path, "evenodd");
    }
  }
}

/** @param {number} share  of the limit */
export function strengthColour(share) {
  const safe = Math.min(1, Math.max(0, (share - 1) / (STURDY - 1)));
  return share < 1 ? TONES.thin : `hsl(${38 + 120 * safe} ${78 - 40 * safe}% ${58 - 10 * safe}%)`;
}
