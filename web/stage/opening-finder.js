/** @typedef {import("./shapes.js").Shapes} Shapes */
/** @typedef {{number: number, inside: boolean, away: number}} Found  away: mm from the opening, at most */

const FINENESS = 5;

/** Finds the openings under a finger: the one that it is in, and those whose edge is within reach. */
export class OpeningFinder {
  /** @param {Shapes} shapes */
  constructor(shapes) {
    this.shapes = shapes;
    this.context = document.createElement("canvas").getContext("2d");
  }

  /**
   * @param {number} x  mm
   * @param {number} y
   * @param {number} reach  mm
   * @returns {Found[]} nearest first
   */
  near(x, y, reach) {
    const context = this.context;
    if (!context) return [];
    /** @type {Found[]} */
    const found = [];
    for (const { number, outline } of this.shapes.within([x - reach, y - reach, x + reach, y + reach])) {
      if (context.isPointInPath(outline, x, y, "evenodd")) found.push({ number, inside: true, away: 0 });
      else {
        const away = this.#away(context, outline, x, y, reach);
        if (away !== null) found.push({ number, inside: false, away });
      }
    }
    return found.sort((one, other) => one.away - other.away);
  }

  /**
   * @param {CanvasRenderingContext2D} context
   * @param {Path2D} outline
   * @param {number} x
   * @param {number} y
   * @param {number} reach
   */
  #away(context, outline, x, y, reach) {
    context.lineJoin = "round";
    for (let step = 1; step <= FINENESS; step += 1) {
      const away = (reach * step) / FINENESS;
      context.lineWidth = 2 * away;
      if (context.isPointInStroke(outline, x, y)) return away;
    }
    return null;
  }
}
