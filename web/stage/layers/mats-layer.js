import { inkOn, TONES } from "../colours.js";
import { outlineOf } from "../outline.js";
import { grown, meet } from "../shapes.js";
import { textScale } from "../text-size.js";
import { cutsOf, drawCuts, edgeOf } from "../trim-paint.js";
import { say } from "../../words/words.js";

/** @typedef {import("../stage.js").Brush} Brush */
/** @typedef {import("../paper-paint.js").PaperPaint} PaperPaint */
/** @typedef {import("../../desk/types.js").Plan} Plan */
/** @typedef {import("../../desk/types.js").Mat} Mat */
/** @typedef {import("../../desk/types.js").Trim} Trim */
/** @typedef {import("../../desk/types.js").Paper} Paper */
/** @typedef {import("../../desk/types.js").Box} Box */
/** @typedef {{box: Box, cornerOf: (mat: number) => [number, number], boxOf: (trim: Trim) => Box,
 *   matrixOf: (trim: Trim) => DOMMatrix}} Laid  `matrixOf` takes a trim's mm to the table's */

/** Around mats, in mm. */
const GAP = 6;
/** Left of a mat for its ruler, and above it for ruler and title, as shares of a table that shows one mat alone. */
const BESIDE = 0.035;
const ABOVE = 0.075;
/** So much of the table may go to what is written; with still more mats it overlaps. */
const MOST_TO_WRITE = 0.4;
const MAT = "#e7e4de";
const LINE = "#b3aca0";
const INK = "#4a443b";
const TITLE_PX = 14;
const RULER_TEXT_PX = 10;
const NUMBER_PX = 11;
/** A number is written where it has this much room around its middle. */
const LEAST_ROOM_PX = 7;
const PIN_PX = 10;
/** How far a mat's border and shade, and a trim's shade, reach beyond it. */
const EDGE_MM = 6;
/** How far what is written reaches beyond its mat or trim. */
const WRITTEN_PX = 44;
/** Where something lay that is in the air. */
const EMPTY = "rgb(231 228 222 / 80%)";
/** Over what does not stand out, and the line around what does. */
const VEIL = "rgb(231 228 222 / 72%)";
const LIT_PX = 2.5;
const RIM = "rgb(74 68 59 / 22%)";

/** Numbers along a mat's edges stand no closer than this, in px. */
const RULER_PX = 22;

/**
 * Where mats lie on the table: side by side, in rows of about as many as there are rows.
 *
 * @param {readonly Mat[]} mats
 * @returns {Laid}
 */
export function layOut(mats) {
  const width = Math.max(0, ...mats.map((mat) => mat.width_mm));
  const height = Math.max(0, ...mats.map((mat) => mat.height_mm));
  const columns = Math.ceil(Math.sqrt((mats.length * height) / Math.max(width, 1)));
  const rows = Math.ceil(mats.length / Math.max(columns, 1));
  // What is written keeps its size on the screen: the more mats there are, the more of the table it takes.
  const room = (/** @type {number} */ side, /** @type {number} */ share) => {
    const taken = Math.min(share * Math.max(rows, columns) * textScale(), MOST_TO_WRITE);
    return (side * taken) / (1 - taken);
  };
  const [beside, above] = [room(width, BESIDE), room(height, ABOVE)];
  const [across, down] = [width + beside + GAP, height + above + GAP];
  const corner = (/** @type {number} */ number) => {
    const at = mats.findIndex((mat) => mat.number === number);
    return /** @type {[number, number]} */ ([(at % columns) * across, Math.floor(at / columns) * down]);
  };
  const boxOf = (/** @type {Trim} */ trim) => {
    const [x, y] = corner(trim.mat);
    const [across, down] = trim.turned ? [trim.height_mm, trim.width_mm] : [trim.width_mm, trim.height_mm];
    return /** @type {Box} */ ([x + trim.x_mm, y + trim.y_mm, x + trim.x_mm + across, y + trim.y_mm + down]);
  };
  return {
    box: [-beside, -above, columns * across - beside, rows * down - above],
    cornerOf: corner,
    boxOf,
    matrixOf(trim) {
      const [x0, y0, x1] = boxOf(trim);
      return trim.turned ? new DOMMatrix([0, 1, -1, 0, x1, y0]) : new DOMMatrix([1, 0, 0, 1, x0, y0]);
    },
  };
}

/** The mats with their printed grid, the trims stuck on them, and the pieces to be cut from those. */
export class MatsLayer {
  /**
   * @param {Plan} plan
   * @param {Laid} laid
   * @param {PaperPaint} paint
   * @param {(id: string) => Paper | null} paperOf
   * @param {import("../../desk/types.js").PlanChoices} choices
   * @param {string} unit
   * @param {(piece: number) => [number, number, number] | null} labelOf  where a piece's number sits on the design
   * @param {(held: import("../../project/pins.js").Held) => boolean} isPinned
   * @param {import("../../project/pins.js").Held | null} lifted  what the hand carries: its place is left empty
   * @param {ReadonlySet<number> | null} lit  the numbers of the pieces that stand out, null where none does
   */
  constructor(plan, laid, paint, paperOf, choices, unit, labelOf, isPinned, lifted, lit) {
    this.lit = lit;
    this.lifted = lifted;
    this.isPinned = isPinned;
    this.rim = choices.mat_rim_mm;
    this.labelOf = labelOf;
    this.plan = plan;
    this.laid = laid;
    this.paint = paint;
    this.paperOf = paperOf;
    this.grid = choices.mat_grid_mm;
    this.unit = unit;
  }

  /** @param {Brush} brush */
  draw(brush) {
    const { mats, trims } = this.#within(brush, EDGE_MM);
    for (const mat of mats) this.#mat(brush, mat);
    for (const trim of trims) this.#trim(brush, trim);
  }

  /**
   * The mats and trims of which something is seen in what is painted.
   *
   * @param {Brush} brush
   * @param {number} reach  mm that they are drawn beyond their edges
   */
  #within({ region }, reach) {
    const { mats, trims } = this.plan;
    if (!region) return { mats, trims };
    const seen = grown(region, reach);
    const matBox = (/** @type {Mat} */ { number, width_mm: width, height_mm: height }) => {
      const [x, y] = this.laid.cornerOf(number);
      return /** @type {Box} */ ([x, y, x + width, y + height]);
    };
    return {
      mats: mats.filter((mat) => meet(matBox(mat), seen)),
      trims: trims.filter((trim) => meet(this.laid.boxOf(trim), seen)),
    };
  }

  /**
   * @param {Brush} brush
   * @param {Mat} mat
   */
  #mat({ context, view }, { number, width_mm: width, height_mm: height }) {
    const [x, y] = this.laid.cornerOf(number);
    context.fillStyle = "rgb(40 30 10 / 20%)";
    context.beginPath();
    context.roundRect(x - 4, y - 3, width + 9, height + 9, 5);
    context.fill();
    context.fillStyle = MAT;
    context.beginPath();
    context.roundRect(x - 5, y - 5, width + 10, height + 10, 5);
    context.fill();
    context.lineWidth = Math.max(0.15, 0.6 / view.scale);
    const major = this.unit === "in" ? 25.4 : 10;
    const pitch = this.grid * view.scale >= 5 ? this.grid : major;
    context.strokeStyle = LINE;
    for (const [step, strong] of /** @type {[number, boolean][]} */ ([
      [pitch, false],
      [major, true],
    ])) {
      context.globalAlpha = strong ? 1 : 0.45;
      context.beginPath();
      for (let at = 0; at <= width + 0.01; at += step) {
        context.moveTo(x + at, y);
        context.lineTo(x + at, y + height);
      }
      for (let at = 0; at <= height + 0.01; at += step) {
        context.moveTo(x, y + at);
        context.lineTo(x + width, y + at);
      }
      context.stroke();
    }
    context.globalAlpha = 1;
    if (this.rim > 0) {
      context.fillStyle = RIM;
      context.beginPath();
      context.rect(x, y, width, height);
      context.rect(x + this.rim, y + this.rim, width - 2 * this.rim, height - 2 * this.rim);
      context.fill("evenodd");
    }
    context.strokeStyle = INK;
    context.lineWidth = Math.max(0.3, 1 / view.scale);
    context.strokeRect(x, y, width, height);
  }

  /**
   * @param {Brush} brush
   * @param {Trim} trim
   */
  #trim({ context, view, ratio }, trim) {
    const [x0, y0, x1] = this.laid.boxOf(trim);
    const paper = this.paperOf(trim.paper);
    context.save();
    if (trim.turned) {
      context.translate(x1, y0);
      context.rotate(Math.PI / 2);
    } else context.translate(x0, y0);
    if (this.#isLifted(trim)) {
      this.#emptyPlace(context, view.scale, (place) => place.addPath(edgeOf(trim)));
      context.restore();
      return;
    }
    context.fillStyle = "rgb(40 30 10 / 25%)";
    const edge = edgeOf(trim);
    context.translate(0.5, 0.6);
    context.fill(edge);
    context.translate(-0.5, -0.6);
    context.fillStyle = paper ? this.paint.of(context, paper, view.scale * ratio, null) : TONES.white;
    context.fill(edge);
    drawCuts(context, cutsOf(trim), view.scale);
    this.#light(context, view.scale, trim);
    const lifted = trim.pieces.find(({ number }) => number === this.lifted?.piece);
    if (lifted) this.#emptyPlace(context, view.scale, (place) => place.addPath(outlineOf(lifted, lifted.path).path));
    context.restore();
  }

  /**
   * Veils all of a trim but what stands out of it.
   *
   * @param {CanvasRenderingContext2D} context
   * @param {number} scale  px per mm
   * @param {Trim} trim
   */
  #light(context, scale, trim) {
    if (!this.lit) return;
    const lit = new Path2D();
    for (const piece of trim.pieces) if (this.lit.has(piece.number)) lit.addPath(outlineOf(piece, piece.path).path);
    const veil = new Path2D(edgeOf(trim));
    veil.addPath(lit);
    context.fillStyle = VEIL;
    context.fill(veil, "evenodd");
    context.strokeStyle = TONES.accent;
    context.lineWidth = LIT_PX / scale;
    context.stroke(lit);
  }

  /** Whether a whole trim is in the air. @param {Trim} trim */
  #isLifted(trim) {
    return this.lifted?.piece === null && this.lifted.trim === trim.id;
  }

  /**
   * @param {CanvasRenderingContext2D} context
   * @param {number} scale  px per mm
   * @param {(place: Path2D) => void} outline
   */
  #emptyPlace(context, scale, outline) {
    const place = new Path2D();
    outline(place);
    context.fillStyle = EMPTY;
    context.fill(place);
    context.strokeStyle = INK;
    context.lineWidth = 1.5 / scale;
    context.setLineDash([6 / scale, 5 / scale]);
    context.stroke(place);
  }

  /** @param {Brush} brush */
  label(brush) {
    const { context, view } = brush;
    const { mats, trims } = this.#within(brush, EDGE_MM + (WRITTEN_PX * textScale()) / view.scale);
    context.textAlign = "left";
    context.textBaseline = "bottom";
    context.fillStyle = getComputedStyle(document.body).color;
    context.font = writing(650, TITLE_PX);
    for (const mat of mats) {
      const [x, y] = this.laid.cornerOf(mat.number);
      const [px, py] = view.toPx(x, y - 6);
      context.fillText(say("mats.mat", { number: mat.number }), px, py - 12 * textScale());
    }
    for (const mat of mats) this.#ruler(context, view, mat);
    context.textAlign = "center";
    context.textBaseline = "middle";
    for (const trim of trims) this.#numbers(context, view, trim);
  }

  /**
   * Inches or centimetres along the edges, counted from the top left.
   *
   * @param {CanvasRenderingContext2D} context
   * @param {import("../view.js").View} view
   * @param {Mat} mat
   */
  #ruler(context, view, { number, width_mm: width, height_mm: height }) {
    const major = this.unit === "in" ? 25.4 : 10;
    const every = [1, 2, 5, 10].find((count) => count * major * view.scale >= RULER_PX * textScale()) ?? 20;
    const [x, y] = this.laid.cornerOf(number);
    context.font = writing(500, RULER_TEXT_PX);
    context.textAlign = "center";
    context.textBaseline = "bottom";
    for (let count = every; count * major <= width + 0.01; count += every) {
      const [px, py] = view.toPx(x + count * major, y - 5);
      context.fillText(String(count), px, py);
    }
    context.textAlign = "right";
    context.textBaseline = "middle";
    for (let count = every; count * major <= height + 0.01; count += every) {
      const [px, py] = view.toPx(x - 5, y + count * major);
      context.fillText(String(count), px - 2, py);
    }
  }

  /**
   * @param {CanvasRenderingContext2D} context
   * @param {import("../view.js").View} view
   * @param {Trim} trim
   */
  #numbers(context, view, trim) {
    if (this.#isLifted(trim)) return;
    const [x0, y0, x1] = this.laid.boxOf(trim);
    const paper = this.paperOf(trim.paper);
    context.font = writing(650, NUMBER_PX);
    for (const piece of trim.pieces) {
      const label = this.labelOf(piece.number);
      if (this.lit && !this.lit.has(piece.number)) continue;
      if (!label || label[2] * view.scale < LEAST_ROOM_PX * textScale() || piece.number === this.lifted?.piece) continue;
      const at = inTrim(piece, label);
      const [mx, my] = trim.turned ? [x1 - at[1], y0 + at[0]] : [x0 + at[0], y0 + at[1]];
      const [px, py] = view.toPx(mx, my);
      context.strokeStyle = paper?.colour ?? TONES.white;
      context.lineWidth = 4;
      context.strokeText(String(piece.number), px, py);
      context.fillStyle = inkOn(paper?.colour ?? TONES.white);
      context.fillText(String(piece.number), px, py);
    }
    if (this.isPinned({ trim: trim.id, piece: null })) {
      const [px, py] = view.toPx(x0, y0);
      pin(context, px + PIN_PX, py + PIN_PX);
      return;
    }
    const matrix = this.laid.matrixOf(trim);
    for (const piece of trim.pieces) {
      const label = this.labelOf(piece.number);
      if (!label || !this.isPinned({ trim: trim.id, piece: piece.number })) continue;
      const [x, y] = inTrim(piece, label);
      const place = matrix.transformPoint({ x, y });
      const [px, py] = view.toPx(place.x, place.y);
      pin(context, px, py - PIN_PX);
    }
  }
}

/**
 * The font of what is written, at the person's size of text.
 *
 * @param {number} weight
 * @param {number} px
 */
function writing(weight, px) {
  return `${weight} ${px * textScale()}px ui-sans-serif, system-ui, sans-serif`;
}

/**
 * A pin's head with its point.
 *
 * @param {CanvasRenderingContext2D} context
 * @param {number} x  px
 * @param {number} y
 */
function pin(context, x, y) {
  context.strokeStyle = TONES.paper;
  context.lineWidth = 4;
  context.beginPath();
  context.moveTo(x, y);
  context.lineTo(x, y + PIN_PX);
  context.stroke();
  context.strokeStyle = TONES.alert;
  context.lineWidth = 1.5;
  context.stroke();
  context.fillStyle = TONES.alert;
  context.strokeStyle = TONES.paper;
  context.beginPath();
  context.arc(x, y, PIN_PX / 2, 0, 2 * Math.PI);
  context.fill();
  context.stroke();
}

/**
 * Where a place of the design lies in the trim.
 *
 * @param {import("../../desk/types.js").PlacedPiece} piece
 * @param {readonly [number, number, number]} place
 * @returns {[number, number]}
 */
function inTrim({ turn_deg: turn, x_mm: x, y_mm: y }, [dx, dy]) {
  const [cos, sin] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
  return [cos * dx - sin * dy + x, sin * dx + cos * dy + y];
}
