/** @typedef {import("../stage/gestures.js").Spot} Spot */

const NAMESPACE = "http://www.w3.org/2000/svg";
const STEP_PX = 3;

/** An outline that a hand draws on the table, round openings or as a box over them. */
export class DrawnOutline {
  /**
   * @param {HTMLElement} stage
   * @param {Spot} spot  where the hand begins
   * @param {"ring" | "box"} kind
   */
  constructor(stage, spot, kind) {
    this.kind = kind;
    /** @type {Spot[]} */
    this.spots = [spot];
    this.element = document.createElementNS(NAMESPACE, "svg");
    this.element.setAttribute("class", "drawn-outline");
    this.line = document.createElementNS(NAMESPACE, "polygon");
    this.element.append(this.line);
    stage.append(this.element);
  }

  /** @param {Spot} spot */
  add(spot) {
    const last = this.spots.at(-1);
    if (this.kind === "box") this.spots.splice(1, 1, spot);
    else if (last && Math.hypot(spot.x - last.x, spot.y - last.y) >= STEP_PX) this.spots.push(spot);
    this.line.setAttribute("points", this.#corners.map(({ x, y }) => `${x},${y}`).join(" "));
  }

  /**
   * @param {(spot: Spot) => [number, number]} toMm
   * @returns {[number, number][]} the outline in mm
   */
  inMm(toMm) {
    return this.#corners.map(toMm);
  }

  remove() {
    this.element.remove();
  }

  /** @returns {Spot[]} */
  get #corners() {
    const [from, to] = this.spots;
    if (this.kind === "ring" || !from || !to) return this.spots;
    return [from, { ...from, x: to.x }, to, { ...from, y: to.y }];
  }
}
