import { grown, meet } from "../shapes.js";
import { TONES } from "../colours.js";
import { textScale } from "../text-size.js";

/** @typedef {import("../stage.js").Brush} Brush */
/** @typedef {import("../shapes.js").Shapes} Shapes */
/** @typedef {{openings: readonly number[], bit: number | null, text: string}} StepMark  what to show: a piece's openings, or a loose bit */

const RING_PX = 30;
const TEXT_PX = 20;
const GAP_PX = 6;
/** How far from its opening a number may reach. */
const REACH_PX = 100;

/** Shows which part is next: its openings, or the loose bit itself, outlined, a ring around small ones, and its number in large. */
export class StepLayer {
  /**
   * @param {Shapes} shapes
   * @param {() => StepMark | null} step
   */
  constructor(shapes, step) {
    this.shapes = shapes;
    this.step = step;
  }

  /** @param {Brush} brush */
  draw({ context, view }) {
    context.lineJoin = "round";
    for (const { outline } of this.#places()) {
      for (const [colour, width] of /** @type {const} */ ([
        [TONES.paper, 8],
        [TONES.accent, 4],
      ])) {
        context.strokeStyle = colour;
        context.lineWidth = width / view.scale;
        context.stroke(outline);
      }
    }
  }

  /** @param {Brush} brush */
  label({ context, view, region }) {
    context.textAlign = "center";
    context.textBaseline = "middle";
    const [, cardTop] = view.toPx(0, this.shapes.box[1]);
    const places = this.#places();
    const size = TEXT_PX * textScale();
    const step = this.step();
    const text = step?.text ?? "";
    // Of openings that share a piece the roomiest has the number, and none a ring: together they are large enough.
    const numbered = (step && step.bit === null && this.shapes.roomiest(step.openings)) || places[0];
    places.forEach((place) => {
      const { label, box } = place;
      if (region && !meet(grown(box, REACH_PX / view.scale), region)) return;
      const [x, y] = view.toPx(label[0], label[1]);
      const room = label[2] * view.scale;
      const [left, top, right, bottom] = box;
      const isSmall = places.length === 1 && Math.max(right - left, bottom - top) * view.scale < 2 * RING_PX;
      if (isSmall) ring(context, x, y);
      if (place !== numbered) return;
      const height = size * 1.6;
      const middle = room < size ? beside(y, isSmall ? RING_PX : room, height, cardTop) : y;
      context.font = `700 ${size}px ui-sans-serif, system-ui, sans-serif`;
      const half = Math.max(context.measureText(text).width + size, height) / 2;
      context.beginPath();
      context.roundRect(x - half, middle - height / 2, 2 * half, height, height / 2);
      context.fillStyle = TONES.accent;
      context.fill();
      context.lineWidth = 2;
      context.strokeStyle = TONES.paper;
      context.stroke();
      context.fillStyle = TONES.paper;
      context.fillText(text, x, middle + 1);
    });
  }

  #places() {
    const step = this.step();
    if (step && step.bit !== null) return this.shapes.bits.filter(({ number }) => number === step.bit);
    return (step?.openings ?? []).flatMap((number) => this.shapes.byNumber.get(number) ?? []);
  }
}

/**
 * The middle of a number above its opening, or below it where the card ends.
 *
 * @param {number} y  px, the opening's
 * @param {number} reach  px
 * @param {number} height  px
 * @param {number} top  px, the card's
 */
function beside(y, reach, height, top) {
  const away = reach + height / 2 + GAP_PX;
  return y - away - height / 2 < top ? y + away : y - away;
}

/**
 * @param {CanvasRenderingContext2D} context
 * @param {number} x  px
 * @param {number} y
 */
function ring(context, x, y) {
  context.beginPath();
  context.arc(x, y, RING_PX, 0, 2 * Math.PI);
  for (const [colour, width] of /** @type {const} */ ([
    [TONES.paper, 7],
    [TONES.accent, 3.5],
  ])) {
    context.strokeStyle = colour;
    context.lineWidth = width;
    context.stroke();
  }
}
