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
  const { width, height, bitmap, fileWidth, fileHeight } = await decoded(file, mostSide);
  const canvas = new OffscreenCanvas(width, height);
  const context = canvas.getContext("2d", { willReadFrequently: true });
  if (!context) throw new Refusal({ key: "photo.unreadable", figures: {} });
  context.drawImage(bitmap, 0, 0);
  bitmap.close();
  return { picture: context.getImageData(0, 0, width, height), fileWidth, fileHeight };
}

/**
 * @param {Blob} file
 * @param {number} mostSide
 */
async function decoded(file, mostSide) {
  const url = URL.createObjectURL(file);
  try {
    // An image element tells the upright size before all of it is unpacked.
    const image = new Image();
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
    return { width, height, bitmap, fileWidth: naturalWidth, fileHeight: naturalHeight };
  } catch (error) {
    throw error instanceof Refusal ? error : new Refusal({ key: "photo.unreadable", figures: {} });
  } finally {
    URL.revokeObjectURL(url);
  }
}
