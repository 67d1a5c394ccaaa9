import { make } from "../../../parts/dom.js";
import { keepTouch } from "../../../parts/keep-touch.js";
import { say } from "../../../words/words.js";
import { TONES } from "../../../stage/colours.js";

/** @typedef {[number, number]} Corner  px of the picture */
/** @typedef {import("../../../words/words.js").Key} Key */

const GLASS_PX = 132;
const GLASS_LARGER = 3;
const GLASS_AWAY_PX = 96;
const STEP_PX = 1;
const LONG_STEP_PX = 12;
const INSET = 0.08;

/**
 * A picture with four corners to drag onto the paper in it, clockwise from the paper's top left; a glass shows
 * the spot under the finger larger. Corners may be moved with the arrow keys, too.
 */
export class Corners {
  /**
   * @param {ImageData} photo
   * @param {() => void} [moved]  once corners are elsewhere
   */
  constructor(photo, moved = () => {}) {
    this.photo = photo;
    this.moved = moved;
    const { width, height } = photo;
    this.isWhole = false;
    /** @type {[Corner, Corner, Corner, Corner]} */
    this.places = inset(photo, INSET);
    /** Where the corners were while the whole picture is taken. */
    this.marked = this.places;
    this.canvas = make("canvas", { class: "corners-picture", width, height });
    this.canvas.getContext("2d")?.putImageData(photo, 0, 0);
    this.frame = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    this.frame.setAttribute("class", "corners-frame");
    this.frame.setAttribute("viewBox", `0 0 ${width} ${height}`);
    this.outline = document.createElementNS("http://www.w3.org/2000/svg", "path");
    this.frame.append(this.outline);
    this.glass = make("canvas", { class: "corners-glass", width: GLASS_PX, height: GLASS_PX, hidden: true });
    this.handles = this.places.map((_, at) => this.#handle(at));
    this.element = make("div", { class: "corners" }, this.canvas, ...this.handles, this.glass);
    keepTouch(this.element);
    this.element.insertBefore(this.frame, this.handles[0] ?? null);
    this.element.style.setProperty("--ratio", String(width / height));
    this.#show();
  }

  /** Takes all of the picture, or what the corners mark in it. @param {boolean} isWhole */
  takeWhole(isWhole) {
    if (isWhole === this.isWhole) return;
    if (isWhole) this.marked = this.places;
    this.isWhole = isWhole;
    this.places = isWhole ? inset(this.photo, 0) : this.marked;
    for (const handle of this.handles) handle.hidden = isWhole;
    this.#show();
  }

  /** Whether all of the picture is taken, not turned. */
  get isAsItCame() {
    const whole = inset(this.photo, 0);
    return this.places.every((place, at) => place.every((px, axis) => px === whole[at]?.[axis]));
  }

  /** Names the next corner of the picture the top left one, for a paper that lies turned. */
  turn() {
    const [first, second, third, fourth] = this.places;
    this.places = [second, third, fourth, first];
    this.#show();
    this.moved();
  }

  /** @param {number} at */
  #handle(at) {
    const name = say(/** @type {Key} */ (`photo.corner-${at}`));
    const handle = make("button", {
      help: "kind-corner",
      type: "button",
      class: "corner",
      "aria-label": `${name}. ${say("photo.corner-keys")}`,
      title: name,
      onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event, at),
      onpointerdown: (/** @type {PointerEvent} */ event) => {
        event.preventDefault();
        handle.focus();
        handle.setPointerCapture(event.pointerId);
        this.#drag(event, at);
      },
      onpointermove: (/** @type {PointerEvent} */ event) =>
        handle.hasPointerCapture(event.pointerId) && this.#drag(event, at),
      onpointerup: () => this.#letGo(),
      onpointercancel: () => this.#letGo(),
    });
    return handle;
  }

  /**
   * @param {PointerEvent} event
   * @param {number} at
   */
  #drag(event, at) {
    const box = this.canvas.getBoundingClientRect();
    const { width, height } = this.photo;
    const x = ((event.clientX - box.left) / box.width) * width;
    const y = ((event.clientY - box.top) / box.height) * height;
    this.#move(at, x, y);
    this.#look(at, box.width / width);
  }

  #letGo() {
    this.glass.hidden = true;
  }

  /**
   * @param {KeyboardEvent} event
   * @param {number} at
   */
  #key(event, at) {
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    const place = this.places[at];
    if (!way || !place) return;
    event.preventDefault();
    const unit = this.photo.width / Math.max(1, this.canvas.clientWidth);
    const step = unit * (event.shiftKey ? LONG_STEP_PX : STEP_PX);
    this.#move(at, place[0] + (way[0] ?? 0) * step, place[1] + (way[1] ?? 0) * step);
  }

  /**
   * @param {number} at
   * @param {number} x  px of the picture
   * @param {number} y
   */
  #move(at, x, y) {
    const { width, height } = this.photo;
    this.places[at] = [Math.min(Math.max(0, x), width), Math.min(Math.max(0, y), height)];
    this.#show();
    this.moved();
  }

  #show() {
    const { width, height } = this.photo;
    // What is left out is dimmed: the picture's edge and the corners, filled by even-odd.
    const marked = this.places.map((place) => place.join(" ")).join("L");
    this.outline.setAttribute("d", `M0 0H${width}V${height}H0ZM${marked}Z`);
    this.handles.forEach((handle, at) => {
      const [x, y] = this.places[at] ?? [0, 0];
      handle.style.setProperty("left", `${(100 * x) / width}%`);
      handle.style.setProperty("top", `${(100 * y) / height}%`);
    });
  }

  /**
   * Shows a corner larger, beside the finger that covers it.
   *
   * @param {number} at
   * @param {number} shown  CSS px per px of the picture
   */
  #look(at, shown) {
    const context = this.glass.getContext("2d");
    const [x, y] = this.places[at] ?? [0, 0];
    if (!context) return;
    const reach = GLASS_PX / (2 * GLASS_LARGER * shown);
    context.fillStyle = TONES.ink;
    context.fillRect(0, 0, GLASS_PX, GLASS_PX);
    context.drawImage(this.canvas, x - reach, y - reach, 2 * reach, 2 * reach, 0, 0, GLASS_PX, GLASS_PX);
    context.strokeStyle = TONES.white;
    context.lineWidth = 1.5;
    context.beginPath();
    context.moveTo(GLASS_PX / 2, 8);
    context.lineTo(GLASS_PX / 2, GLASS_PX - 8);
    context.moveTo(8, GLASS_PX / 2);
    context.lineTo(GLASS_PX - 8, GLASS_PX / 2);
    context.stroke();
    const right = x > this.photo.width / 2;
    const low = y > this.photo.height / 2;
    this.glass.style.setProperty("left", `calc(${(100 * x) / this.photo.width}% + ${(right ? -1 : 1) * GLASS_AWAY_PX}px)`);
    this.glass.style.setProperty("top", `calc(${(100 * y) / this.photo.height}% + ${(low ? -1 : 1) * GLASS_AWAY_PX}px)`);
    this.glass.hidden = false;
  }
}

/**
 * The corners of a picture, moved inwards by a share of its sides.
 *
 * @param {ImageData} photo
 * @param {number} share
 * @returns {[Corner, Corner, Corner, Corner]}
 */
function inset({ width, height }, share) {
  const [left, top] = [width * share, height * share];
  return [
    [left, top],
    [width - left, top],
    [width - left, height - top],
    [left, height - top],
  ];
}
