/** @typedef {import("../desk/types.js").Box} Box */

const SLIDE_MS = 150;
/** A sweep across many openings begins more slides than anybody sees. */
const MOST = 8;

/**
 * Lets what is drawn anew slide in: a picture of how it was lies over it for a moment and goes towards the side. All
 * is there from the first frame, so that nothing waits; who asked for stillness sees it at once.
 */
export class SlideIn {
  /** @param {HTMLCanvasElement} canvas  the table's own */
  constructor(canvas) {
    this.canvas = canvas;
    /** @type {Set<HTMLCanvasElement>} */
    this.going = new Set();
  }

  /** Begins with how a part of the table is seen now. @param {Box} box  CSS px */
  over([x0, y0, x1, y1]) {
    const { canvas } = this;
    const ratio = canvas.width / canvas.clientWidth;
    const [left, top] = [Math.max(0, Math.floor(x0)), Math.max(0, Math.floor(y0))];
    const width = Math.min(canvas.clientWidth, Math.ceil(x1)) - left;
    const height = Math.min(canvas.clientHeight, Math.ceil(y1)) - top;
    const isStill = matchMedia("(prefers-reduced-motion: reduce)").matches;
    if (isStill || width <= 0 || height <= 0 || this.going.size >= MOST) return;
    const before = document.createElement("canvas");
    before.className = "slide-in";
    before.setAttribute("aria-hidden", "true");
    before.width = Math.round(width * ratio);
    before.height = Math.round(height * ratio);
    before.getContext("2d")?.drawImage(canvas, left * ratio, top * ratio, before.width, before.height, 0, 0, before.width, before.height);
    for (const [name, px] of Object.entries({ left, top, width, height })) before.style.setProperty(name, `${px}px`);
    canvas.after(before);
    this.going.add(before);
    const slide = before.animate([{ clipPath: "inset(0)" }, { clipPath: "inset(0 0 0 100%)" }], { duration: SLIDE_MS, easing: "ease-out" });
    slide.onfinish = slide.oncancel = () => this.#end(before);
  }

  /** Ends all: the table is seen from elsewhere. */
  away() {
    for (const before of this.going) this.#end(before);
  }

  /** @param {HTMLCanvasElement} before */
  #end(before) {
    before.remove();
    this.going.delete(before);
  }
}
