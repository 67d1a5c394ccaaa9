import { TONES } from "../colours.js";

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
    /** @type {readonly Bar[]} */
    this.drawn = [];
    /** @type {{strip: Path2D, width: number}[]} */
    this.strips = [];
  }

  /** @param {Brush} brush */
  draw({ context }) {
    const bars = this.bars();
    if (bars !== this.drawn) {
      this.drawn = bars;
      this.strips = bars.map((bar) => ({ strip: new Path2D(bar.strip), width: bar.width_mm }));
    }
    for (const { strip, width } of this.strips) {
      context.fillStyle = strengthColour(width / this.limit);
      context.fill(strip, "evenodd");
    }
  }
}

/** @param {number} share  of the limit */
export function strengthColour(share) {
  const safe = Math.min(1, Math.max(0, (share - 1) / (STURDY - 1)));
  return share < 1 ? TONES.thin : `hsl(${38 + 120 * safe} ${78 - 40 * safe}% ${58 - 10 * safe}%)`;
}
