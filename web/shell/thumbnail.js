import { pieceScene } from "../places/front.js";
import { paintRegion } from "../stage/picture.js";
import { View } from "../stage/view.js";

const THUMBNAIL_PX = 240;
/** Drawn one after another, so that no hand waits for the whole. */
const STRIPS = 8;

/**
 * A small picture of the open project's front, for the list of those that are kept.
 *
 * @param {import("../places/workroom.js").Workroom} room
 * @returns {Promise<Blob | null>}
 */
export async function thumbnailOf(room) {
  const scene = pieceScene(room, [], false);
  if (!scene) return null;
  const [, , width, height] = scene.box;
  const scale = THUMBNAIL_PX / Math.max(width, height);
  const canvas = new OffscreenCanvas(Math.ceil(width * scale), Math.ceil(height * scale));
  const context = /** @type {CanvasRenderingContext2D | null} */ (
    /** @type {unknown} */ (canvas.getContext("2d"))
  );
  if (!context) return null;
  const view = new View(scale, 0, 0);
  const shown = { ...scene, layers: scene.layers.slice(0, 2) };
  for (let strip = 0; strip < STRIPS; strip += 1) {
    const [top, bottom] = [strip, strip + 1].map((each) => (each * height) / STRIPS);
    paintRegion(context, view, 1, shown, [0, top ?? 0, width, bottom ?? height]);
    await new Promise((next) => setTimeout(next));
  }
  return canvas.convertToBlob({ type: "image/webp" });
}
