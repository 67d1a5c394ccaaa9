/** @typedef {import("../desk/types.js").Box} Box */

/** Where the table is looked at: design mm to CSS px of the stage, mirrored for the back. */
export class View {
  /**
   * @param {number} scale  px per mm
   * @param {number} x  px of the origin
   * @param {number} y
   * @param {boolean} mirrored
   */
  constructor(scale, x, y, mirrored = false) {
    this.scale = scale;
    this.x = x;
    this.y = y;
    this.mirrored = mirrored;
  }

  /**
   * The view in which `box` (mm) fills `frame` (px).
   *
   * @param {Box} box
   * @param {{left: number, top: number, width: number, height: number}} frame
   * @param {boolean} mirrored
   */
  static fitting(box, frame, mirrored) {
    const [x0, y0, x1, y1] = box;
    const scale = Math.min(frame.width / Math.max(x1 - x0, 1), frame.height / Math.max(y1 - y0, 1));
    const side = mirrored ? -scale : scale;
    return new View(
      scale,
      frame.left + frame.width / 2 - (side * (x0 + x1)) / 2,
      frame.top + frame.height / 2 - (scale * (y0 + y1)) / 2,
      mirrored,
    );
  }

  /** px per mm along x, negative when mirrored */
  get across() {
    return this.mirrored ? -this.scale : this.scale;
  }

  /**
   * @param {number} x  mm
   * @param {number} y
   * @returns {[number, number]} px
   */
  toPx(x, y) {
    return [this.x + this.across * x, this.y + this.scale * y];
  }

  /**
   * @param {number} x  px
   * @param {number} y
   * @returns {[number, number]} mm
   */
  toMm(x, y) {
    return [(x - this.x) / this.across, (y - this.y) / this.scale];
  }

  /**
   * @param {number} dx  px
   * @param {number} dy
   */
  moved(dx, dy) {
    return new View(this.scale, this.x + dx, this.y + dy, this.mirrored);
  }

  /**
   * @param {number} factor
   * @param {number} x  px that stays in place
   * @param {number} y
   */
  zoomed(factor, x, y) {
    return new View(this.scale * factor, x + (this.x - x) * factor, y + (this.y - y) * factor, this.mirrored);
  }

  /** @param {CanvasRenderingContext2D} context  @param {number} ratio  device px per CSS px */
  applyTo(context, ratio) {
    context.setTransform(
      this.across * ratio,
      0,
      0,
      this.scale * ratio,
      this.x * ratio,
      this.y * ratio,
    );
  }
}

/**
 * The view a part of the way from one to another; sizes change evenly to the eye.
 *
 * @param {View} from
 * @param {View} to
 * @param {number} part  0 to 1
 * @param {{width: number, height: number}} frame
 */
export function between(from, to, part, frame) {
  const [cx, cy] = [frame.width / 2, frame.height / 2];
  const scale = from.scale * (to.scale / from.scale) ** part;
  const [fx, fy] = from.toMm(cx, cy);
  const [tx, ty] = to.toMm(cx, cy);
  const weight = to.scale === from.scale ? part : (1 / from.scale - 1 / scale) / (1 / from.scale - 1 / to.scale);
  const side = to.mirrored ? -scale : scale;
  return new View(
    scale,
    cx - side * (fx + (tx - fx) * weight),
    cy - scale * (fy + (ty - fy) * weight),
    to.mirrored,
  );
}
