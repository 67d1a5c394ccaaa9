import { keepTouch } from "../parts/keep-touch.js";

/**
 * @typedef {{x: number, y: number, kind: string}} Spot  px on the stage; kind "touch", "pen" or "mouse"
 * @typedef {{
 *   aim: (spot: Spot) => unknown,
 *   tap: (spot: Spot) => void,
 *   doubleTap: (spot: Spot) => void,
 *   longPress: (spot: Spot) => void,
 *   hover: (spot: Spot | null) => void,
 *   grab: (spot: Spot) => boolean,
 *   drag: (spot: Spot, passed: readonly Spot[]) => void,
 *   drop: (spot: Spot) => void,
 *   let: () => void,
 *   move: (dx: number, dy: number) => void,
 *   zoom: (factor: number, x: number, y: number) => void,
 *   fingers: (count: number) => void,
 *   rest: () => void,
 * }} Reactions
 */

const SLOP = 9;
const LONG_MS = 480;
const DOUBLE_MS = 320;
const DOUBLE_PX = 28;
const CHORD_MS = 280;
const NO_TAP = { x: 0, y: 0, time: -Infinity, aim: /** @type {unknown} */ (null) };

/**
 * Turns pointers on an element into what the hand means: a tap, two in a row, a long press, a drag of what lies
 * there (`grab` says whether it takes it), a pan, a pinch, a tap of two or three fingers. Two taps in a row are one
 * double tap where `aim` says the same of both, and nothing else was touched between them. A drag tells also the
 * spots that the hand passed on its way since the last one, where a browser gathers them into one event; the spot
 * is the last of them. While a pen is down fingers count for nothing: the palm rests on the screen.
 */
export class Gestures {
  /**
   * @param {HTMLElement} element
   * @param {Reactions} reactions
   */
  constructor(element, reactions) {
    this.element = element;
    this.reactions = reactions;
    /** @type {Map<number, Spot>} */
    this.down = new Map();
    this.start = { x: 0, y: 0, time: 0 };
    this.lastTap = NO_TAP;
    /** @type {"none" | "press" | "pan" | "drag" | "pinch" | "spent"} */
    this.mode = "none";
    this.most = 0;
    /** Where each finger came down. @type {Map<number, Spot>} */
    this.landed = new Map();
    /** Whether a finger went away from where it came down: then several are a pinch, however quick, and no tap. */
    this.strayed = false;
    this.longTimer = 0;
    element.addEventListener("pointerdown", (event) => this.#press(event));
    element.addEventListener("pointermove", (event) => this.#move(event));
    element.addEventListener("pointerup", (event) => this.#lift(event, true));
    element.addEventListener("pointercancel", (event) => this.#lift(event, false));
    addEventListener("pointerdown", (event) => event.target !== element && this.#forgetTap(), { capture: true });
    element.addEventListener("pointerleave", () => this.down.size === 0 && reactions.hover(null));
    element.addEventListener("wheel", (event) => this.#wheel(event), { passive: false });
    element.addEventListener("contextmenu", (event) => event.preventDefault());
    keepTouch(element);
  }

  /**
   * @param {PointerEvent | WheelEvent} event
   * @returns {Spot}
   */
  #spot(event) {
    const box = this.element.getBoundingClientRect();
    return {
      x: event.clientX - box.left,
      y: event.clientY - box.top,
      kind: "pointerType" in event ? event.pointerType : "mouse",
    };
  }

  /** @param {PointerEvent} event */
  #press(event) {
    if (this.#isPalm(event)) return;
    if (event.pointerType === "pen") this.#forgetFingers();
    const spot = this.#spot(event);
    // A finger leaves the focus where it is: what was typed so far is meant for what was there before this press.
    const { activeElement } = document;
    if (activeElement instanceof HTMLInputElement || activeElement instanceof HTMLTextAreaElement) activeElement.blur();
    this.element.setPointerCapture(event.pointerId);
    if (this.down.size === 0) {
      this.landed.clear();
      this.strayed = false;
    }
    this.down.set(event.pointerId, spot);
    this.landed.set(event.pointerId, spot);
    this.most = Math.max(this.most, this.down.size);
    clearTimeout(this.longTimer);
    if (this.down.size === 1) {
      this.most = 1;
      this.start = { x: spot.x, y: spot.y, time: event.timeStamp };
      this.mode = event.button === 1 ? "pan" : "press";
      if (event.button === 2) this.#long(spot);
      else if (this.mode === "press") this.longTimer = setTimeout(() => this.#long(spot), LONG_MS);
    } else {
      if (this.mode === "drag") this.reactions.let();
      this.mode = "pinch";
    }
  }

  /** Whether it is the hand that rests on the screen while the pen draws. @param {PointerEvent} event */
  #isPalm(event) {
    return event.pointerType === "touch" && [...this.down.values()].some(({ kind }) => kind === "pen");
  }

  /** The pen takes over from what the palm began that came down before it. */
  #forgetFingers() {
    const fingers = [...this.down].filter(([, { kind }]) => kind === "touch");
    if (fingers.length === 0) return;
    for (const [id] of fingers) this.down.delete(id);
    clearTimeout(this.longTimer);
    if (this.mode === "drag") this.reactions.let();
    this.mode = "none";
  }

  /** @param {Spot} spot */
  #long(spot) {
    if (this.mode !== "press") return;
    this.mode = "spent";
    this.reactions.longPress(spot);
  }

  /** @param {PointerEvent} event */
  #move(event) {
    const spot = this.#spot(event);
    const last = this.down.get(event.pointerId);
    if (!last) {
      this.reactions.hover(spot);
      return;
    }
    const from = this.landed.get(event.pointerId) ?? spot;
    this.strayed ||= Math.hypot(spot.x - from.x, spot.y - from.y) > SLOP;
    if (this.mode === "press" && Math.hypot(spot.x - this.start.x, spot.y - this.start.y) > SLOP) {
      clearTimeout(this.longTimer);
      this.mode = this.reactions.grab({ ...spot, x: this.start.x, y: this.start.y }) ? "drag" : "pan";
    }
    if (this.mode === "pinch") this.#pinch(event.pointerId, spot);
    this.down.set(event.pointerId, spot);
    if (this.mode === "drag") this.reactions.drag(spot, this.#passed(event, spot));
    if (this.mode === "pan") this.reactions.move(spot.x - last.x, spot.y - last.y);
  }

  /**
   * @param {PointerEvent} event
   * @param {Spot} spot
   * @returns {Spot[]}
   */
  #passed(event, spot) {
    const gathered = event.getCoalescedEvents?.() ?? [];
    return [...gathered.slice(0, -1).map((each) => this.#spot(each)), spot];
  }

  /**
   * @param {number} id
   * @param {Spot} spot
   */
  #pinch(id, spot) {
    const last = this.down.get(id);
    const other = [...this.down].find(([key]) => key !== id)?.[1];
    if (!last || !other) return;
    const before = Math.hypot(last.x - other.x, last.y - other.y);
    const after = Math.hypot(spot.x - other.x, spot.y - other.y);
    this.reactions.move((spot.x - last.x) / 2, (spot.y - last.y) / 2);
    if (before > 1 && after > 1) {
      this.reactions.zoom(after / before, (spot.x + other.x) / 2, (spot.y + other.y) / 2);
    }
  }

  /**
   * @param {PointerEvent} event
   * @param {boolean} meant
   */
  #lift(event, meant) {
    if (!this.down.delete(event.pointerId)) return;
    clearTimeout(this.longTimer);
    const spot = this.#spot(event);
    const mode = this.mode;
    if (this.down.size > 0) return;
    this.mode = "none";
    if (!meant) {
      if (mode === "drag") this.reactions.let();
    } else if (mode === "press") this.#tap(spot, event.timeStamp);
    else if (mode === "drag") this.reactions.drop(spot);
    else if (mode === "pinch" && !this.strayed && event.timeStamp - this.start.time < CHORD_MS) {
      this.reactions.fingers(this.most);
    }
    this.reactions.rest();
  }

  /**
   * @param {Spot} spot
   * @param {number} time
   */
  #tap(spot, time) {
    const { lastTap } = this;
    const aim = this.reactions.aim(spot);
    const near = Math.hypot(spot.x - lastTap.x, spot.y - lastTap.y) < DOUBLE_PX;
    const twice = near && aim === lastTap.aim && time - lastTap.time < DOUBLE_MS;
    this.lastTap = twice ? NO_TAP : { x: spot.x, y: spot.y, time, aim };
    if (twice) this.reactions.doubleTap(spot);
    else this.reactions.tap(spot);
  }

  #forgetTap() {
    this.lastTap = NO_TAP;
  }

  /** @param {WheelEvent} event */
  #wheel(event) {
    event.preventDefault();
    const spot = this.#spot(event);
    const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
    if (event.shiftKey || (event.deltaX !== 0 && !event.ctrlKey)) {
      this.reactions.move(-(event.deltaX || event.deltaY) * lines, event.shiftKey ? 0 : -event.deltaY * lines);
    } else {
      this.reactions.zoom(Math.exp(-event.deltaY * lines * (event.ctrlKey ? 0.01 : 0.0015)), spot.x, spot.y);
    }
    this.reactions.rest();
  }
}
