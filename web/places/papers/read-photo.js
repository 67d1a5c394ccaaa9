import { Refusal } from "../../words/refusal.js";

/** @typedef {{picture: ImageData, fileWidth: number, fileHeight: number}} Photo  px of the picture, and of its file */

/**
 * Decodes a picture file, upright as its metadata says, no larger than it is of use: a picture of 50 megapixels
 * never lies in memory as a whole more than the browser itself needs.
 *
 * @param {Blob} file
 * @param {number} mostSide  px of the longer side at most
 * @returns {Promise<Photo>}
 * @throws {Refusal} where the browser can't read it
 */
export async function readPhoto(file, mostSide) {
  const { bitmap, fileWidth, fileHeight } = await decoded(file, mostSide);
  return { picture: dataOf(bitmap), fileWidth, fileHeight };
}

/**
 * A picture made smaller, to look at its colours.
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

/** @param {ImageBitmap} bitmap  is let go  @returns {ImageData} */
function dataOf(bitmap) {
  const { width, height } = bitmap;
  const context = new OffscreenCanvas(width, height).getContext("2d", { willReadFrequently: true });
  if (!context) throw new Refusal({ key: "photo.unreadable", figures: {} });
  context.drawImage(bitmap, 0, 0);
  bitmap.close();
  return context.getImageData(0, 0, width, height);
}

/**
 * @param {Blob} file
 * @param {number} mostSide
 */
async function decoded(file, mostSide) {
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
    return { bitmap, fileWidth: naturalWidth, fileHeight: naturalHeight };
  } catch (error) {
    throw error instanceof Refusal ? error : new Refusal({ key: "photo.unreadable", figures: {} });
  } finally {
    // What it unpacked would stay in memory until the browser tidies up: two dozen sheets fill a tablet.
    image.removeAttribute("src");
    URL.revokeObjectURL(url);
  }
}
