import { TONES } from "../colours.js";
import { familyOf } from "../faces.js";

/** @typedef {import("../stage.js").Brush} Brush */
/** @typedef {import("../stage.js").Layer} Layer */
/** @typedef {import("../paper-paint.js").PaperPaint} PaperPaint */
/** @typedef {import("../../desk/types.js").Paper} Paper */
/** @typedef {import("../../desk/types.js").Block} Block */
/** @typedef {import("../../desk/types.js").PageLayout} PageLayout */

const PHOTO = "#c9c2b6";
const PHOTO_INK = "#6d6558";
const RULE_MM = 8;
const INCH_MM = 25.4;
const FONT_PX = 100;
const LEADING = 1.35;
const HAND_MM = 4.5;
const LEAST_MM = 1;
const HANDLE_PX = 9;
const CORNERS = /** @type {const} */ ([[-1, -1], [1, -1], [1, 1], [-1, 1]]);

/**
 * What is drawn besides the blocks: aids to place things by, the places of blocks that hold nothing yet, which block is
 * in hand, and what it lines up with.
 *
 * @typedef {{grid: boolean, thirds: boolean, empty: boolean, picked: number | null, unit: string,
 *   lines: readonly (readonly [number, number, number, number])[]}} PageAids
 */

/** Whether a block is a place for something that is still to come. @param {Block} block */
export function isEmpty({ kind, picture, text }) {
  return kind === "photo" ? picture === null : kind !== "piece" && !text.trim();
}

/** The page: its background paper, the piece and the other blocks back to front, and aids to place them by. */
export class PageLayer {
  /**
   * @param {PageLayout} page
   * @param {{layers: Layer[], width: number, height: number}} piece  the piece's own layers, from its top left corner
   * @param {Paper | null} background
   * @param {PaperPaint} paint
   * @param {(key: string) => ImageBitmap | null} pictureOf
   * @param {() => PageAids} aids
   * @param {(paper: string) => string | null} inkOf  the colour of a paper by its id
   */
  constructor(page, piece, background, paint, pictureOf, aids, inkOf) {
    this.page = page;
    this.piece = piece;
    this.background = background;
    this.paint = paint;
    this.pictureOf = pictureOf;
    this.aids = aids;
    this.inkOf = inkOf;
  }

  /** @param {Brush} brush */
  draw(brush) {
    const { context, view, ratio } = brush;
    const { width_mm: width, height_mm: height, blocks } = this.page;
    context.save();
    context.shadowColor = "rgb(58 44 24 / 30%)";
    context.shadowBlur = 10 * ratio;
    context.shadowOffsetY = 3 * ratio;
    context.fillStyle = TONES.paper;
    context.fillRect(0, 0, width, height);
    context.restore();
    if (this.background) {
      context.fillStyle = this.paint.of(context, this.background, view.scale * ratio, null);
      context.fillRect(0, 0, width, height);
    }
    const { empty } = this.aids();
    for (const block of blocks.filter((each) => empty || !isEmpty(each))) {
      context.save();
      context.translate(block.x_mm, block.y_mm);
      context.rotate((block.turn_deg * Math.PI) / 180);
      this.#block(brush, block);
      context.restore();
    }
    this.#drawAids(brush);
  }

  /**
   * @param {Brush} brush  whose origin is the block's middle
   * @param {Block} block
   */
  #block(brush, block) {
    if (block.kind === "piece") this.#piece(brush);
    else if (block.kind === "photo") this.#photo(brush, block);
    else this.#writing(brush.context, block);
  }

  /** @param {Brush} brush */
  #piece(brush) {
    const { layers, width, height } = this.piece;
    brush.context.translate(-width / 2, -height / 2);
    for (const layer of layers) layer.draw({ ...brush, region: null });
  }

  /**
   * @param {Brush} brush
   * @param {Block} block
   */
  #photo({ context }, block) {
    const { width_mm: width, height_mm: height, mat_mm: mat, picture } = block;
    context.fillStyle = TONES.white;
    context.shadowColor = "rgb(58 44 24 / 25%)";
    context.shadowBlur = 4;
    context.fillRect(-width / 2 - mat, -height / 2 - mat, width + 2 * mat, height + 2 * mat);
    context.shadowColor = "transparent";
    context.fillStyle = PHOTO;
    context.fillRect(-width / 2, -height / 2, width, height);
    const bitmap = picture ? this.pictureOf(picture) : null;
    if (bitmap) {
      const part = partOf(block, bitmap);
      const [across, down] = [width * part, height * part];
      context.drawImage(
        bitmap,
        ((bitmap.width - across) * (1 + block.picture_x)) / 2,
        ((bitmap.height - down) * (1 + block.picture_y)) / 2,
        across,
        down,
        -width / 2,
        -height / 2,
        width,
        height,
      );
      return;
    }
    context.strokeStyle = PHOTO_INK;
    context.lineWidth = 0.6;
    context.beginPath();
    context.moveTo(-width / 2, height / 2);
    context.lineTo(-width / 8, -height / 10);
    context.lineTo(width / 8, height / 5);
    context.lineTo(width / 4, height / 20);
    context.lineTo(width / 2, height / 2);
    context.stroke();
  }

  /**
   * @param {CanvasRenderingContext2D} context
   * @param {Block} block
   */
  #writing(context, { kind, width_mm: width, height_mm: height, text, ink, face }) {
    const lines = text.trim() ? text.split("\n") : [];
    context.strokeStyle = TONES.line;
    context.lineWidth = 0.3;
    if (lines.length === 0) {
      context.setLineDash([2, 2]);
      context.strokeRect(-width / 2, -height / 2, width, height);
      context.setLineDash([]);
      if (kind === "title") return;
      context.beginPath();
      for (let y = RULE_MM; y < height; y += RULE_MM) {
        context.moveTo(-width * 0.47, y - height / 2);
        context.lineTo(width * 0.47, y - height / 2);
      }
      context.stroke();
      return;
    }
    context.font = `${kind === "title" ? "650 " : ""}${FONT_PX}px ${familyOf(face)}`;
    const set = setIn(context, lines, kind === "title", width * 0.94, height);
    context.fillStyle = (ink && this.inkOf(ink)) || TONES.ink;
    context.textAlign = "center";
    context.textBaseline = "middle";
    context.scale(set.size / FONT_PX, set.size / FONT_PX);
    set.lines.forEach((line, at) => {
      context.fillText(line, 0, (at - (set.lines.length - 1) / 2) * FONT_PX * LEADING);
    });
  }

  /** @param {Brush} brush */
  #drawAids({ context, view }) {
    const { grid, thirds, picked, unit, lines: kept } = this.aids();
    const { width_mm: width, height_mm: height, blocks } = this.page;
    if (grid) {
      const step = unit === "in" ? INCH_MM / 2 : 10;
      context.strokeStyle = "rgb(28 107 87 / 45%)";
      lines(context, 1 / view.scale, [], multiples(step, width), multiples(step, height), width, height);
    }
    if (thirds) {
      context.strokeStyle = TONES.accent;
      const dash = [8 / view.scale, 6 / view.scale];
      lines(context, 2 / view.scale, dash, [width / 3, (2 * width) / 3], [height / 3, (2 * height) / 3], width, height);
    }
    context.strokeStyle = TONES.mark;
    context.lineWidth = 1.5 / view.scale;
    context.setLineDash([]);
    for (const [fromX, fromY, toX, toY] of kept) {
      context.beginPath();
      context.moveTo(fromX, fromY);
      context.lineTo(toX, toY);
      context.stroke();
    }
    const block = picked === null ? undefined : blocks[picked];
    if (!block) return;
    const [across, down] = outerSize(block, this.piece);
    context.translate(block.x_mm, block.y_mm);
    context.rotate((block.turn_deg * Math.PI) / 180);
    for (const [colour, thick] of /** @type {[string, number][]} */ ([
      [TONES.paper, 5],
      [TONES.accent, 2.5],
    ])) {
      context.strokeStyle = colour;
      context.lineWidth = thick / view.scale;
      context.strokeRect(-across / 2, -down / 2, across, down);
    }
    const size = HANDLE_PX / view.scale;
    const handles = block.kind === "piece" ? [] : CORNERS.map(([right, low]) => [(right * across) / 2, (low * down) / 2]);
    for (const [x, y] of [...handles, ...(block.picture && this.pictureOf(block.picture) ? [[0, 0]] : [])]) {
      context.beginPath();
      context.arc(x ?? 0, y ?? 0, size, 0, 2 * Math.PI);
      context.fillStyle = TONES.paper;
      context.fill();
      context.strokeStyle = TONES.accent;
      context.lineWidth = 2.5 / view.scale;
      context.stroke();
    }
    if (block.picture && this.pictureOf(block.picture)) drawCross(context, size * 0.6);
  }
}

/**
 * The arms of the handle that shifts a photo within its frame.
 *
 * @param {CanvasRenderingContext2D} context
 * @param {number} arm  mm
 */
function drawCross(context, arm) {
  context.beginPath();
  context.moveTo(-arm, 0);
  context.lineTo(arm, 0);
  context.moveTo(0, -arm);
  context.lineTo(0, arm);
  context.stroke();
}

/**
 * How many px of a photo a millimetre of its frame shows.
 *
 * @param {Block} block
 * @param {{width: number, height: number}} bitmap  px
 */
function partOf({ width_mm: width, height_mm: height, picture_zoom: zoom }, bitmap) {
  return Math.min(bitmap.width / width, bitmap.height / height) / zoom;
}

/**
 * How far a photo reaches beyond its frame, both sides together.
 *
 * @param {Block} block
 * @param {{width: number, height: number}} bitmap  px
 * @returns {[number, number]} mm
 */
export function reachingBeyond(block, bitmap) {
  const part = partOf(block, bitmap);
  return [bitmap.width / part - block.width_mm, bitmap.height / part - block.height_mm];
}

/**
 * Width and height of a block in mm, a photo's mat included; the piece is as large as it is made.
 *
 * @param {Block} block
 * @param {{width: number, height: number}} piece
 * @returns {[number, number]}
 */
export function outerSize(block, piece) {
  return block.kind === "piece"
    ? [piece.width, piece.height]
    : [block.width_mm + 2 * block.mat_mm, block.height_mm + 2 * block.mat_mm];
}

/**
 * Breaks text into lines and finds the largest size at which they fit. Titles keep their lines and grow to fill
 * the block; writing is as large as a hand writes at most.
 *
 * @param {CanvasRenderingContext2D} context  has the font, FONT_PX high
 * @param {string[]} text  line by line
 * @param {boolean} isTitle
 * @param {number} width  mm
 * @param {number} height
 * @returns {{lines: string[], size: number}} size: of the font in mm
 */
function setIn(context, text, isTitle, width, height) {
  let size = isTitle ? height : Math.min(HAND_MM, height);
  const widthOf = measuring(context);
  for (;;) {
    const room = (width * FONT_PX) / size;
    const lines = isTitle ? text : text.flatMap((line) => broken(widthOf, line, room));
    const widest = lines.reduce((most, line) => Math.max(most, widthOf(line)), 0);
    if ((widest <= room && lines.length * size * LEADING <= height) || size <= LEAST_MM) return { lines, size };
    size *= 0.94;
  }
}

/**
 * A long text is set at many sizes until it fits: each of its words is measured once.
 *
 * @param {CanvasRenderingContext2D} context
 * @returns {(line: string) => number} how wide a line of words is, in px
 */
function measuring(context) {
  const space = context.measureText(" ").width;
  /** @type {Map<string, number>} */
  const widths = new Map();
  const wordWidth = (/** @type {string} */ word) => {
    const known = widths.get(word) ?? context.measureText(word).width;
    widths.set(word, known);
    return known;
  };
  return (line) => line.split(" ").reduce((width, word) => width + space + wordWidth(word), -space);
}

/**
 * @param {(line: string) => number} widthOf  px
 * @param {string} line
 * @param {number} room  px
 * @returns {string[]} the line broken between words
 */
function broken(widthOf, line, room) {
  const space = widthOf(" ");
  /** @type {string[]} */
  const lines = [];
  let [started, width] = ["", 0];
  for (const word of line.split(" ")) {
    const longer = started ? width + space + widthOf(word) : widthOf(word);
    if (started && longer > room) {
      lines.push(started);
      [started, width] = [word, widthOf(word)];
    } else [started, width] = [started ? `${started} ${word}` : word, longer];
  }
  return [...lines, started];
}

/**
 * @param {number} step
 * @param {number} below
 */
function multiples(step, below) {
  return Array.from({ length: Math.ceil(below / step) - 1 }, (_, at) => (at + 1) * step);
}

/**
 * @param {CanvasRenderingContext2D} context
 * @param {number} thick  mm
 * @param {number[]} dash
 * @param {number[]} across  x of the upright lines
 * @param {number[]} down  y of the level lines
 * @param {number} width
 * @param {number} height
 */
function lines(context, thick, dash, across, down, width, height) {
  context.lineWidth = thick;
  context.setLineDash(dash);
  context.beginPath();
  for (const x of across) {
    context.moveTo(x, 0);
    context.lineTo(x, height);
  }
  for (const y of down) {
    context.moveTo(0, y);
    context.lineTo(width, y);
  }
  context.stroke();
  context.setLineDash([]);
}
