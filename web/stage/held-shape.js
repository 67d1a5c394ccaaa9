/** @typedef {import("./view.js").View} View */
/** @typedef {{path: string, matrix: DOMMatrix, handle: [number, number] | null}} Held
 *   the path's matrix takes it to table mm; the handle is a place on the path, in its own mm, that turns about it */

const NAMESPACE = "http://www.w3.org/2000/svg";

/** How far above its place the handle for turning is, and how large, in px. */
const HANDLE_AWAY = 34;
const HANDLE_ROUND = 11;

/** The outline of what is in hand on the mats, where it lies or will. */
export class HeldShape {
  /**
   * @param {HTMLElement} stage
   * @param {() => View} view
   */
  constructor(stage, view) {
    this.view = view;
    /** @type {Held | null} */
    this.held = null;
    this.under = element("path", "held-under");
    this.line = element("path", "held-line");
    this.stem = element("line", "held-stem");
    this.handle = element("circle", "held-handle");
    this.handle.setAttribute("r", String(HANDLE_ROUND));
    this.element = element("svg", "held-shape");
    this.element.setAttribute("aria-hidden", "true");
    this.element.append(this.under, this.line, this.stem, this.handle);
    stage.append(this.element);
  }

  /** @param {Held | null} held */
  show(held) {
    this.held = held;
    this.element.toggleAttribute("data-shown", held !== null);
    if (!held) return;
    for (const path of [this.under, this.line]) path.setAttribute("d", held.path);
    this.follow();
  }

  /** Brings it in step with the view. */
  follow() {
    if (!this.held) return;
    const { across, scale, x, y } = this.view();
    const { a, b, c, d, e, f } = new DOMMatrix([across, 0, 0, scale, x, y]).multiply(this.held.matrix);
    for (const path of [this.under, this.line]) path.setAttribute("transform", `matrix(${a} ${b} ${c} ${d} ${e} ${f})`);
    const grip = this.#grip();
    for (const part of [this.stem, this.handle]) part.toggleAttribute("data-shown", grip !== null);
    if (!grip) return;
    this.handle.setAttribute("cx", String(grip.x));
    this.handle.setAttribute("cy", String(grip.y));
    const [x1, y1, x2, y2] = [grip.x, grip.y + HANDLE_ROUND, grip.x, grip.y + HANDLE_AWAY];
    for (const [name, value] of Object.entries({ x1, y1, x2, y2 })) this.stem.setAttribute(name, String(value));
  }

  /**
   * @param {number} x  px
   * @param {number} y
   * @param {number} reach
   */
  isOnHandle(x, y, reach) {
    const grip = this.#grip();
    return grip !== null && Math.hypot(grip.x - x, grip.y - y) <= reach;
  }

  /** Where the handle is, in px. */
  #grip() {
    if (!this.held?.handle) return null;
    const [x, y] = this.held.handle;
    const place = this.held.matrix.transformPoint({ x, y });
    const [px, py] = this.view().toPx(place.x, place.y);
    return { x: px, y: py - HANDLE_AWAY };
  }
}

/**
 * @param {string} tag
 * @param {string} name
 */
function element(tag, name) {
  const made = /** @type {SVGElement} */ (document.createElementNS(NAMESPACE, tag));
  made.setAttribute("class", name);
  return made;
}
