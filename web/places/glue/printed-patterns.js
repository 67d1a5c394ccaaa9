import { Refusal } from "../../words/refusal.js";
import { tonesOf } from "../../stage/colours.js";
import { PATTERNS } from "../../stage/patterns.js";
import { upright } from "../papers/picture-size.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Paper} Paper */
/** @typedef {{paper: string, picture: ArrayBuffer, width_mm: number}} PrintedPattern  a JPEG or PNG file of one repeat */

/** Px per mm of drawn patterns in print: 305 per inch, at which common printers show no steps (from memory). */
const PX_PER_MM = 12;
/** Repeats of a drawn pattern are printed in blocks about this wide, so that there are few seams. */
const BLOCK_MM = 96;
/** Picture files that are larger together are cut to what trims show of them: a mailbox and a copy shop take 25 MB. */
const MOST_BYTES = 18e6;
/** How far a pattern reaches past trims, and the side of a sample on the test strip, mm. */
const BLEED_MM = 2;
const SAMPLE_MM = 36;
/** At which no grain shows in print (from memory). */
const QUALITY = 0.95;

/**
 * What the printed papers of the plan are printed from, at full resolution.
 *
 * @param {Workroom} room
 * @returns {Promise<PrintedPattern[]>}
 * @throws {Refusal} where this device does not have a picture
 */
export async function printedPatterns(room) {
  const trims = (room.bench.plan?.trims ?? []).filter(({ printed }) => printed);
  const used = new Set(trims.map(({ paper }) => paper));
  /** @type {PrintedPattern[]} */
  const patterns = [];
  // One after another: a picture lies unpacked only while it is turned into what a PDF takes.
  for (const id of used) {
    const paper = room.papers.get(id);
    const pattern = paper && (paper.picture ? await ofPicture(room, paper) : await ofDrawn(paper));
    if (pattern) patterns.push(pattern);
  }
  if (patterns.reduce((sum, { picture }) => sum + picture.byteLength, 0) <= MOST_BYTES) return patterns;
  const cut = [];
  for (const pattern of patterns) cut.push(await cutTo(pattern, trims.filter(({ paper }) => paper === pattern.paper)));
  return cut;
}

/**
 * A pattern that ends where the largest trim does, which all trims show from its upper left corner.
 *
 * @param {PrintedPattern} pattern
 * @param {readonly {width_mm: number, height_mm: number}[]} trims
 * @returns {Promise<PrintedPattern>} the same one where that saves little
 */
async function cutTo(pattern, trims) {
  const bitmap = await createImageBitmap(new Blob([pattern.picture]), { imageOrientation: "from-image" });
  const perMm = bitmap.width / pattern.width_mm;
  const shown = (/** @type {"width_mm" | "height_mm"} */ side) =>
    Math.ceil(Math.max(SAMPLE_MM, ...trims.map((trim) => trim[side] + 2 * BLEED_MM)) * perMm);
  const [width, height] = [shown("width_mm"), shown("height_mm")];
  // A trim that is larger than the picture shows its next repeat, too.
  if (width > bitmap.width || height > bitmap.height) {
    bitmap.close();
    return pattern;
  }
  const canvas = new OffscreenCanvas(width, height);
  opaque(canvas, "").drawImage(bitmap, 0, 0);
  bitmap.close();
  const picture = await (await canvas.convertToBlob({ type: "image/jpeg", quality: QUALITY })).arrayBuffer();
  return picture.byteLength < pattern.picture.byteLength ? { ...pattern, picture, width_mm: width / perMm } : pattern;
}

/**
 * @param {Workroom} room
 * @param {Paper} paper
 * @returns {Promise<PrintedPattern>}
 */
async function ofPicture({ pictures }, { id, name, picture, original, picture_width_mm: across, sheet_width_mm: sheet }) {
  const file = (original && (await pictures.file(original))) || (await pictures.file(picture ?? ""));
  if (!file) throw new Refusal({ key: "take.no-picture", figures: { paper: name } });
  return { paper: id, picture: await printable(file, name), width_mm: across ?? sheet };
}

/** @param {Paper} paper  @returns {Promise<PrintedPattern | null>} null for a plain one */
async function ofDrawn({ id, name, pattern, colour }) {
  const repeat = PATTERNS[pattern ?? ""];
  if (!repeat) return null;
  const [columns, rows] = [repeat.width, repeat.height].map((side) => Math.ceil(BLOCK_MM / side));
  const width = (columns ?? 1) * repeat.width;
  const height = (rows ?? 1) * repeat.height;
  const canvas = new OffscreenCanvas(width * PX_PER_MM, height * PX_PER_MM);
  const context = opaque(canvas, name);
  context.fillStyle = colour;
  context.fillRect(0, 0, canvas.width, canvas.height);
  for (let x = 0; x < width; x += repeat.width) {
    for (let y = 0; y < height; y += repeat.height) {
      context.setTransform(PX_PER_MM, 0, 0, PX_PER_MM, x * PX_PER_MM, y * PX_PER_MM);
      const tile = new Path2D();
      tile.rect(0, 0, repeat.width, repeat.height);
      context.save();
      context.clip(tile);
      repeat.draw(/** @type {CanvasRenderingContext2D} */ (/** @type {unknown} */ (context)), tonesOf(colour));
      context.restore();
    }
  }
  const file = await canvas.convertToBlob({ type: "image/png" });
  return { paper: id, picture: await printable(file, name), width_mm: width };
}

/**
 * A picture's file where a PDF takes it as it is, else the picture anew as a fine JPEG, on white where it is
 * see-through.
 *
 * @param {Blob} file
 * @param {string} name
 */
async function printable(file, name) {
  const bytes = await file.arrayBuffer();
  if (isPlain(new DataView(bytes))) return bytes;
  const bitmap = await createImageBitmap(file, { imageOrientation: "from-image" }).catch(() => {
    throw new Refusal({ key: "photo.unreadable", figures: {} });
  });
  const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
  const context = opaque(canvas, name);
  context.fillStyle = "#ffffff";
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.drawImage(bitmap, 0, 0);
  bitmap.close();
  return (await canvas.convertToBlob({ type: "image/jpeg", quality: QUALITY })).arrayBuffer();
}

/**
 * @param {OffscreenCanvas} canvas
 * @param {string} name
 */
function opaque(canvas, name) {
  const context = canvas.getContext("2d", { alpha: false });
  if (!context) throw new Refusal({ key: "take.too-large-picture", figures: { paper: name } });
  return context;
}

/**
 * Whether a picture's file can go into a PDF byte for byte: an upright JPEG, or a PNG that is neither interlaced nor
 * see-through nor finer than 8 bits a channel (W3C PNG, 11.2.1 and 11.3.1.1).
 *
 * @param {DataView} data
 */
function isPlain(data) {
  if (data.byteLength < 33) return false;
  if (data.getUint16(0) === 0xffd8) return upright(data);
  if (data.getUint32(0) !== 0x89504e47) return false;
  const [bits, colour, interlaced] = [data.getUint8(24), data.getUint8(25), data.getUint8(28)];
  if (bits > 8 || ![0, 2, 3].includes(colour) || interlaced !== 0) return false;
  for (let at = 8; at + 12 <= data.byteLength; at += 12 + data.getUint32(at)) {
    const kind = data.getUint32(at + 4);
    if (kind === 0x74524e53) return false;
    if (kind === 0x49444154) break;
  }
  return true;
}
