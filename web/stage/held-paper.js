import { pixelRatio } from "./pixel-ratio.js";
import { context2d } from "./picture.js";

/** @typedef {import("../desk/types.js").Box} Box */
/**
 * @typedef {{key: string, box: Box, draw: (context: CanvasRenderingContext2D, resolution: number) => void}} Lifted
 *   a paper in mm of its own, drawn within `box` at so many device px per mm; it is drawn anew where the key changes
 */

/** Room for the shadow around what is lifted, and the shadow, in px. */
const AROUND_PX = 24;
const SHADOW = "rgb(40 30 10 / 45%)";
const SHADOW_BLUR_PX = 14;
const SHADOW_DOWN_PX = 7;
/** Most px of a side, so that a paper seen from very near is drawn coarsely rather than never. */
const MOST_PX = 2048;

/** What is lifted off the mats: the paper itself, with its pattern and a shadow, that follows the hand at once. */
export class HeldPaper {
  /**
   * @param {HTMLElement} stage
   * @param {() => import("./view.js").View} view
   */
  constructor(stage, view) {
    this.view = view;
    this.canvas = document.createElement("canvas");
    this.canvas.className = "held-paper";
    this.canvas.setAttribute("aria-hidden", "true");
    stage.append(this.canvas);
    this.key = "";
    /** CSS px of the canvas per mm of the paper, and the paper's place at its top left. */
    this.drawn = { scale: 1, x: 0, y: 0 };
    this.matrix = new DOMMatrix();
  }

  /**
   * @param {Lifted | null} lifted
   * @param {DOMMatrix} matrix  takes its mm to the table's
   */
  show(lifted, matrix) {
    this.canvas.toggleAttribute("data-shown", lifted !== null);
    if (!lifted) {
      this.key = "";
      return;
    }
    this.matrix = matrix;
    if (lifted.key !== this.key) {
      this.key = lifted.key;
      this.#draw(lifted);
    }
    this.follow();
  }

  /** Lets it follow the hand at once, or glide to where it comes to lie. @param {boolean} lands */
  glide(lands) {
    this.canvas.toggleAttribute("data-lands", lands);
  }

  /** Brings it in step with the view. */
  follow() {
    const { across, scale, x, y } = this.view();
    const { drawn } = this;
    const { a, b, c, d, e, f } = new DOMMatrix([across, 0, 0, scale, x, y])
      .multiply(this.matrix)
      .translate(drawn.x, drawn.y)
      .scale(1 / drawn.scale);
    this.canvas.style.setProperty("transform", `matrix(${a}, ${b}, ${c}, ${d}, ${e}, ${f})`);
  }

  /** @param {Lifted} lifted */
  #draw({ box: [x0, y0, x1, y1], draw }) {
    const larger = Math.max(x1 - x0, y1 - y0, 1);
    const scale = Math.min(this.view().scale, MOST_PX / larger);
    const around = AROUND_PX / scale;
    const [width, height] = [x1 - x0, y1 - y0].map((side) => Math.ceil(side * scale + 2 * AROUND_PX));
    const ratio = pixelRatio(Number(width), Number(height));
    this.drawn = { scale, x: x0 - around, y: y0 - around };
    this.canvas.width = Math.round(Number(width) * ratio);
    this.canvas.height = Math.round(Number(height) * ratio);
    this.canvas.style.setProperty("width", `${width}px`);
    this.canvas.style.setProperty("height", `${height}px`);
    const context = context2d(this.canvas);
    context.scale(scale * ratio, scale * ratio);
    context.translate(around - x0, around - y0);
    context.shadowColor = SHADOW;
    context.shadowBlur = SHADOW_BLUR_PX * ratio;
    context.shadowOffsetY = SHADOW_DOWN_PX * ratio;
    draw(context, scale * ratio);
  }
}
