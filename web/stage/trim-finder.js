/** @typedef {import("../desk/types.js").Plan} Plan */import { outlineOf } from "./outline.js";

/** @typedef {import("../desk/types.js").Trim} Trim */
/** @typedef {import("./layers/mats-layer.js").Laid} Laid */
/** @typedef {{trim: Trim, piece: number | null}} FoundTrim */

/** Finds the trim under a finger on the mats, and the piece in it. */
export class TrimFinder {
  /**
   * @param {Plan} plan
   * @param {Laid} laid
   */
  constructor(plan, laid) {
    this.plan = plan;
    this.laid = laid;
    this.context = document.createElement("canvas").getContext("2d");
  }

  /**
   * @param {number} x  table mm
   * @param {number} y
   * @returns {FoundTrim | null}
   */
  at(x, y) {
    const trim = this.plan.trims.find((each) => {
      const [x0, y0, x1, y1] = this.laid.boxOf(each);
      return x0 <= x && x <= x1 && y0 <= y && y <= y1;
    });
    if (!trim) return null;
    const place = this.laid.matrixOf(trim).inverse().transformPoint({ x, y });
    const piece = trim.pieces.find((each) =>
      this.context?.isPointInPath(outlineOf(each, each.path).path, place.x, place.y, "evenodd"),
    );
    return { trim, piece: piece?.number ?? null };
  }

  /**
   * Whether a piece of a trim lies within a finger's reach.
   *
   * @param {Trim} trim
   * @param {number} piece
   * @param {number} x  table mm
   * @param {number} y
   * @param {number} reach  mm
   */
  isNear(trim, piece, x, y, reach) {
    const found = trim.pieces.find(({ number }) => number === piece);
    if (!found || !this.context) return false;
    const outline = outlineOf(found, found.path).path;
    const place = this.laid.matrixOf(trim).inverse().transformPoint({ x, y });
    this.context.lineWidth = 2 * reach;
    return (
      this.context.isPointInPath(outline, place.x, place.y, "evenodd") ||
      this.context.isPointInStroke(outline, place.x, place.y)
    );
  }
}
