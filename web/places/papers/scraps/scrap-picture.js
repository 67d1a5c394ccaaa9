import { make } from "../../../parts/dom.js";
import { keepTouch } from "../../../parts/keep-touch.js";
import { say } from "../../../words/words.js";

/** @typedef {import("../../../desk/types.js").Point} Point  px of the picture */

/** How near a finger must come to a point, or to the outline between two, to take hold of it. */
const REACH_PX = 32;
const STEP_PX = 1;
const LONG_STEP_PX = 12;
const LEAST_POINTS = 3;
/** Where outline and corners wait until they are dragged, as parts of the picture's sides. */
const OUTLINE_INSET = 0.15;
const CORNERS_INSET = 0.3;

/**
 * A photo with the outline of a scrap and the four corners of what is known beside it. Points move under the finger,
 * as far as it moves; the outline gets a new one where it is held between two. By keys: page up and down choose a
 * point, arrows move it.
 */
export class ScrapPicture {
  /**
   * @param {ImageData} photo
   * @param {{settle: () => void, choose: () => void}} on  once a point was let go, or another one chosen
   */
  constructor(photo, { settle, choose }) {
    this.settle = settle;
    this.choose = choose;
    const { width, height } = photo;
    this.size = { width, height };
    /** @type {Point[]} */
    this.outline = boxWithin(width, height, OUTLINE_INSET);
    /** @type {Point[]} */
    this.corners = boxWithin(width, height, CORNERS_INSET);
    /** Whether the corners lie on what is known: found there, or dragged. */
    this.isMarked = false;
    /** Whether any of it was moved by hand. */
    this.isByHand = false;
    /** The chosen point of corners, then outline. */
    this.chosen = 0;
    this.canvas = make("canvas", { class: "corners-picture", width, height });
    this.canvas.getContext("2d")?.putImageData(photo, 0, 0);
    this.frame = inSvg("svg", { class: "corners-frame scrap-frame", viewBox: `0 0 ${width} ${height}` });
    this.known = this.frame.appendChild(inSvg("path", { class: "scrap-known" }));
    this.edge = this.frame.appendChild(inSvg("path", {}));
    this.dots = this.frame.appendChild(inSvg("path", { class: "scrap-dots" }));
    this.handle = make("button", {
      help: "kind-point",
      type: "button",
      class: "corner",
      onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event),
    });
    /** @type {{at: number, from: Point, finger: Point} | null} */
    this.held = null;
    this.element = make(
      "div",
      {
        class: "corners scrap-picture",
        onpointerdown: (/** @type {PointerEvent} */ event) => this.#take(event),
        onpointermove: (/** @type {PointerEvent} */ event) => this.#drag(event),
        onpointerup: () => this.#letGo(),
        onpointercancel: () => this.#letGo(),
      },
      this.canvas,
    );
    this.element.append(this.frame, this.handle);
    keepTouch(this.element);
    this.element.style.setProperty("--ratio", String(width / height));
    this.#show();
  }

  /**
   * @param {readonly Point[]} outline
   * @param {readonly Point[] | null} corners  null where they are not known
   */
  show(outline, corners) {
    this.outline = [...outline];
    if (corners) this.corners = [...corners];
    this.isMarked = corners !== null;
    this.chosen = 0;
    this.#show();
  }

  /** Whether the chosen point is one of the outline that can go. */
  get canRemove() {
    return this.chosen >= this.corners.length && this.outline.length > LEAST_POINTS;
  }

  /** Takes the chosen point out of the outline. */
  remove() {
    if (!this.canRemove) return;
    this.outline.splice(this.chosen - this.corners.length, 1);
    this.isByHand = true;
    this.chosen = Math.min(this.chosen, this.corners.length + this.outline.length - 1);
    this.#show();
    this.settle();
  }

  get #points() {
    return [...this.corners, ...this.outline];
  }

  /** @param {PointerEvent} event */
  #take(event) {
    event.preventDefault();
    const finger = this.#placeOf(event);
    const reach = REACH_PX * this.#unit;
    const points = this.#points;
    const away = points.map((place) => apart(place, finger));
    let at = away.indexOf(Math.min(...away));
    if ((away[at] ?? Infinity) > reach) {
      const after = this.#sideNear(finger, reach);
      if (after < 0) return;
      this.outline.splice(after + 1, 0, finger);
      at = this.corners.length + after + 1;
    }
    this.element.setPointerCapture(event.pointerId);
    this.chosen = at;
    this.held = { at, from: this.#points[at] ?? finger, finger };
    this.handle.focus();
    this.#show();
  }

  /** @param {PointerEvent} event */
  #drag(event) {
    if (!this.held) return;
    const { at, from, finger } = this.held;
    const [x, y] = this.#placeOf(event);
    this.#move(at, [from[0] + x - finger[0], from[1] + y - finger[1]]);
  }

  #letGo() {
    if (!this.held) return;
    this.held = null;
    this.settle();
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const count = this.corners.length + this.outline.length;
    const turn = { PageUp: count - 1, PageDown: 1 }[event.key];
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    const place = this.#points[this.chosen];
    if (turn !== undefined) this.chosen = (this.chosen + turn) % count;
    else if (event.key === "Delete") this.remove();
    else if (way && place) {
      const step = this.#unit * (event.shiftKey ? LONG_STEP_PX : STEP_PX);
      this.#move(this.chosen, [place[0] + (way[0] ?? 0) * step, place[1] + (way[1] ?? 0) * step]);
      this.settle();
    } else return;
    event.preventDefault();
    this.#show();
  }

  /**
   * @param {number} at
   * @param {Point} place
   */
  #move(at, [x, y]) {
    const { width, height } = this.size;
    this.isByHand = true;
    /** @type {Point} */
    const within = [Math.min(Math.max(0, x), width), Math.min(Math.max(0, y), height)];
    if (at < this.corners.length) {
      this.corners[at] = within;
      this.isMarked = true;
    } else this.outline[at - this.corners.length] = within;
    this.#show();
  }

  /** Px of the picture per CSS px. */
  get #unit() {
    return this.size.width / Math.max(1, this.canvas.clientWidth);
  }

  /** @param {PointerEvent} event  @returns {Point} */
  #placeOf(event) {
    const box = this.canvas.getBoundingClientRect();
    return [
      ((event.clientX - box.left) / box.width) * this.size.width,
      ((event.clientY - box.top) / box.height) * this.size.height,
    ];
  }

  /**
   * @param {Point} finger
   * @param {number} reach
   * @returns {number} the point after which the outline's side within reach begins; -1 where none is
   */
  #sideNear(finger, reach) {
    const away = this.outline.map((from, at) => apartFromSide(finger, from, this.outline[(at + 1) % this.outline.length] ?? from));
    const least = Math.min(...away);
    return least <= reach ? away.indexOf(least) : -1;
  }

  #show() {
    this.known.setAttribute("d", ringOf(this.corners));
    this.edge.setAttribute("d", ringOf(this.outline));
    this.dots.setAttribute("d", this.#points.map(([x, y]) => `M${x} ${y}h0`).join(""));
    const [x, y] = this.#points[this.chosen] ?? [0, 0];
    this.handle.style.setProperty("left", `${(100 * x) / this.size.width}%`);
    this.handle.style.setProperty("top", `${(100 * y) / this.size.height}%`);
    const number = this.chosen - this.corners.length + 1;
    const name = number > 0 ? say("scrap.point", { number }) : say(/** @type {import("../../../words/words.js").Key} */ (`photo.corner-${this.chosen}`));
    this.choose();
    this.handle.setAttribute("aria-label", `${name}. ${say("scrap.point-keys")}`);
  }
}

/**
 * @param {string} name
 * @param {Record<string, string>} attributes
 */
function inSvg(name, attributes) {
  const element = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  return element;
}

/** @param {readonly Point[]} places */
function ringOf(places) {
  return places.length > 0 ? `M${places.map((place) => place.join(" ")).join("L")}Z` : "";
}

/**
 * @param {Point} one
 * @param {Point} other
 */
function apart(one, other) {
  return Math.hypot(one[0] - other[0], one[1] - other[1]);
}

/**
 * @param {Point} place
 * @param {Point} from
 * @param {Point} to
 */
function apartFromSide(place, from, to) {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const along = ((place[0] - from[0]) * dx + (place[1] - from[1]) * dy) / Math.max(dx * dx + dy * dy, 1e-9);
  const part = Math.min(1, Math.max(0, along));
  return apart(place, [from[0] + part * dx, from[1] + part * dy]);
}

/**
 * @param {number} width
 * @param {number} height
 * @param {number} inset  a part of both
 * @returns {Point[]}
 */
function boxWithin(width, height, inset) {
  const [left, top] = [width * inset, height * inset];
  return [
    [left, top],
    [width - left, top],
    [width - left, height - top],
    [left, height - top],
  ];
}
