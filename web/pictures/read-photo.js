import { Refusal } from "../words/refusal.js";

/** @typedef {{picture: ImageData, fileWidth: number, fileHeight: number}} Photo  px of the picture, and of its file */

/**
 * Decodes a picture file beside the page's work, upright as its metadata says, no larger than it is of use.
 *
 * @param {Blob} file
 * @param {number} mostSide  px of the longer side at most
 * @returns {Promise<Photo>}
 * @throws {Refusal} where the browser can't read it
 */
export async function readPhoto(file, mostSide) {
  return (await decodedBeside(file, mostSide)) ?? decodedHere(file, mostSide);
}

/**
 * A smaller copy of a picture.
 *
 * @param {ImageData} picture
 * @param {number} mostSide  px of the longer side at most
 * @returns {Promise<ImageData>}
 */
export async function smaller(picture, mostSide) {
  const part = Math.min(1, mostSide / Math.max(picture.width, picture.height));
  const [width, height] = [picture.width, picture.height].map((side) => Math.max(1, Math.round(side * part)));
  const bitmap = await createImageBitmap(picture, { resizeWidth: width, resizeHeight: height, resizeQuality: "high" });
  return dataOf(bitmap);
}

/**
 * What a worker decodes; it ends with the picture, and so does all the memory that took.
 *
 * @param {Blob} file
 * @param {number} mostSide
 * @returns {Promise<Photo | null>} null where a worker can't decode it; an element of the page may
 */
function decodedBeside(file, mostSide) {
  const worker = new Worker(new URL("./decoder.js", import.meta.url), { type: "module" });
  return /** @type {Promise<Photo | null>} */ (
    new Promise((resolve) => {
      worker.onerror = () => resolve(null);
      worker.onmessage = ({ data: { failed, pixels, width, height, fileWidth, fileHeight } }) =>
        resolve(failed ? null : { picture: new ImageData(pixels, width, height), fileWidth, fileHeight });
      worker.postMessage({ file, mostSide });
    })
  ).finally(() => worker.terminate());
}

/**
 * @param {Blob} file
 * @param {number} mostSide
 * @returns {Promise<Photo>}
 */
async function decodedHere(file, mostSide) {
  const url = URL.createObjectURL(file);
  // An image element tells the upright size before all of it is unpacked.
  const image = new Image();
  try {
    image.src = url;
    await image.decode();
    const { naturalWidth, naturalHeight } = image;
    if (naturalWidth < 1 || naturalHeight < 1) throw new Refusal({ key: "photo.empty", figures: {} });
    const part = Math.min(1, mostSide / Math.max(naturalWidth, naturalHeight));
    const width = Math.max(1, Math.round(naturalWidth * part));
    const height = Math.max(1, Math.round(naturalHeight * part));
    const bitmap = await createImageBitmap(image, {
      imageOrientation: "from-image",
      resizeWidth: width,
      resizeHeight: height,
      resizeQuality: "high",
    });
    return { picture: dataOf(bitmap), fileWidth: naturalWidth, fileHeight: naturalHeight };
  } catch (error) {
    throw error instanceof Refusal ? error : new Refusal({ key: "photo.unreadable", figures: {} });
  } finally {
    // What it unpacked would stay in memory until the browser tidies up: two dozen sheets fill a tablet.
    image.removeAttribute("src");
    URL.revokeObjectURL(url);
  }
}

/** @param {ImageBitmap} bitmap  is let go  @returns {ImageData} */
function dataOf(bitmap) {
  const { width, height } = bitmap;
  const context = new OffscreenCanvas(width, height).getContext("2d", { willReadFrequently: true });
  if (!context) throw new Refusal({ key: "photo.unreadable", figures: {} });
  context.drawImage(bitmap, 0, 0);
  bitmap.close();
  return context.getImageData(0, 0, width, height);
}
