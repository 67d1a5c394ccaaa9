import { pictureKind } from "../../project/travel/picture-kind.js";
import { Refusal } from "../../words/refusal.js";
import { readPhoto } from "../papers/read-photo.js";

/** @typedef {import("../papers/read-photo.js").Photo} Photo */

/** As many px along a side as show all that a blade cuts: 13 px to a mm of A4. */
const MOST_SIDE_PX = 4096;
/** More than any camera or scanner gives; none of it is unpacked. As in `py/peekpaper/pixels.py`. */
const MOST_MEGAPIXELS = 50;

/**
 * Decodes a picture that is to be traced.
 *
 * @param {Blob} file
 * @returns {Promise<Photo>}
 * @throws {Refusal} where the browser can't read it, or it says that it is larger than any picture
 */
export async function readPicture(file) {
  const kind = await pictureKind(file);
  const megapixels = Math.round(((kind?.width ?? 0) * (kind?.height ?? 0)) / 1e6);
  if (megapixels > MOST_MEGAPIXELS) {
    throw new Refusal({ key: "refusal.picture-too-large", figures: { megapixels, most: MOST_MEGAPIXELS } });
  }
  return (await decoded(file)) ?? readPhoto(file, MOST_SIDE_PX);
}

/**
 * A smaller copy of a picture.
 *
 * @param {ImageData} picture
 * @param {number} mostSide  px of its longer side at most
 */
export async function smaller(picture, mostSide) {
  const part = Math.min(1, mostSide / Math.max(picture.width, picture.height));
  const width = Math.max(1, Math.round(picture.width * part));
  const height = Math.max(1, Math.round(picture.height * part));
  const options = /** @type {const} */ ({ resizeWidth: width, resizeHeight: height, resizeQuality: "high" });
  const bitmap = await createImageBitmap(picture, options);
  const context = new OffscreenCanvas(width, height).getContext("2d", { willReadFrequently: true });
  if (!context) throw new Refusal({ key: "photo.unreadable", figures: {} });
  context.drawImage(bitmap, 0, 0);
  bitmap.close();
  return context.getImageData(0, 0, width, height);
}

/**
 * @param {Blob} file
 * @returns {Promise<Photo | null>} null where a worker can't decode it; an element of the page may
 */
function decoded(file) {
  const worker = new Worker(new URL("./decoder.js", import.meta.url), { type: "module" });
  return /** @type {Promise<Photo | null>} */ (
    new Promise((resolve) => {
      worker.onerror = () => resolve(null);
      worker.onmessage = ({ data: { failed, pixels, width, height, fileWidth, fileHeight } }) =>
        resolve(failed ? null : { picture: new ImageData(pixels, width, height), fileWidth, fileHeight });
      worker.postMessage({ file, mostSide: MOST_SIDE_PX });
    })
  ).finally(() => worker.terminate());
}
