import { Refusal } from "../../words/refusal.js";
import { own } from "../../parts/own.js";
import { tonesOf } from "../../stage/colours.js";
import { PATTERNS } from "../../stage/patterns.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Paper} Paper */
/** @typedef {{paper: string, picture: ArrayBuffer, pixels: ArrayBuffer, width_px: number, height_px: number, width_mm: number}} PaperLook
 *   a JPEG of one repeat and its pixels, RGBA by rows */

/** Px per mm of pictures of papers and of drawn patterns: a guide shows them, nothing is printed from them. */
const PICTURE_PX_PER_MM = 2;
const DRAWN_PX_PER_MM = 6;
/** Repeats of a drawn pattern go in blocks about this wide, so that areas need few. */
const BLOCK_MM = 48;
const QUALITY = 0.85;

/**
 * How the papers of the plan look, coarse enough to go into every picture of the sheets; without plain ones, and
 * without those whose picture this device doesn't have.
 *
 * @param {Workroom} room
 * @returns {Promise<PaperLook[]>}
 */
export async function paperLooks(room) {
  const { bench, papers, project } = room;
  const used = new Set((bench.plan?.trims ?? []).map(({ paper }) => paper));
  if (project.backing.whole_back) used.add(project.backing.whole_back.paper);
  /** @type {PaperLook[]} */
  const looks = [];
  for (const id of used) {
    const paper = papers.get(id);
    const drawn = paper && (paper.picture ? ofPicture(room, paper) : ofPattern(paper));
    if (drawn) looks.push({ paper: id, ...(await written(drawn.canvas)), width_mm: drawn.width });
  }
  return looks;
}

/**
 * @param {Workroom} room
 * @param {Paper} paper
 * @returns {{canvas: OffscreenCanvas, width: number} | null} the repeat, and how wide it really is in mm
 */
function ofPicture({ pictures }, { name, picture, picture_width_mm: across, sheet_width_mm: sheet }) {
  const bitmap = pictures.at(picture ?? "");
  if (!bitmap) return null;
  const width = across ?? sheet;
  const share = Math.min(1, (width * PICTURE_PX_PER_MM) / bitmap.width);
  const { canvas, context } = blank(bitmap.width * share, bitmap.height * share, name);
  context.imageSmoothingQuality = "high";
  context.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  return { canvas, width };
}

/** @param {Paper} paper  @returns {{canvas: OffscreenCanvas, width: number} | null} null for a plain one */
function ofPattern({ name, pattern, colour }) {
  const repeat = own(PATTERNS, pattern ?? "");
  if (!repeat) return null;
  const [columns, rows] = [repeat.width, repeat.height].map((side) => Math.ceil(BLOCK_MM / side));
  const [width, height] = [(columns ?? 1) * repeat.width, (rows ?? 1) * repeat.height];
  const { canvas, context } = blank(width * DRAWN_PX_PER_MM, height * DRAWN_PX_PER_MM, name);
  context.fillStyle = colour;
  context.fillRect(0, 0, canvas.width, canvas.height);
  const [across, down] = [canvas.width / width, canvas.height / height];
  for (let x = 0; x < width; x += repeat.width) {
    for (let y = 0; y < height; y += repeat.height) {
      context.save();
      context.setTransform(across, 0, 0, down, x * across, y * down);
      context.beginPath();
      context.rect(0, 0, repeat.width, repeat.height);
      context.clip();
      repeat.draw(/** @type {CanvasRenderingContext2D} */ (/** @type {unknown} */ (context)), tonesOf(colour));
      context.restore();
    }
  }
  return { canvas, width };
}

/**
 * @param {number} width  px
 * @param {number} height
 * @param {string} name  of the paper
 */
function blank(width, height, name) {
  const canvas = new OffscreenCanvas(Math.max(1, Math.round(width)), Math.max(1, Math.round(height)));
  const context = canvas.getContext("2d", { alpha: false });
  if (!context) throw new Refusal({ key: "take.too-large-picture", figures: { paper: name } });
  context.fillStyle = "#ffffff";
  context.fillRect(0, 0, canvas.width, canvas.height);
  return { canvas, context };
}

/** @param {OffscreenCanvas} canvas */
async function written(canvas) {
  const { width, height } = canvas;
  const pixels = canvas.getContext("2d")?.getImageData(0, 0, width, height).data.buffer ?? new ArrayBuffer(0);
  const file = await canvas.convertToBlob({ type: "image/jpeg", quality: QUALITY });
  return { picture: await file.arrayBuffer(), pixels, width_px: width, height_px: height };
}
