import { pictureKind } from "../../project/travel/picture-kind.js";
import { readPhoto } from "../../pictures/read-photo.js";
import { Refusal } from "../../words/refusal.js";

/** As many px along a side as show all that a blade cuts: 13 px to a mm of A4. */
const MOST_SIDE_PX = 4096;
/** More than any camera or scanner gives; none of it is unpacked. As in `py/peekpaper/pixels.py`. */
const MOST_MEGAPIXELS = 50;

/**
 * Decodes a picture that is to be traced.
 *
 * @param {Blob} file
 * @returns {Promise<import("../../pictures/read-photo.js").Photo>}
 * @throws {Refusal} where the browser can't read it, or it says that it is larger than any picture
 */
export async function readPicture(file) {
  const kind = await pictureKind(file);
  const megapixels = Math.round(((kind?.width ?? 0) * (kind?.height ?? 0)) / 1e6);
  if (megapixels > MOST_MEGAPIXELS) {
    throw new Refusal({ key: "refusal.picture-too-large", figures: { megapixels, most: MOST_MEGAPIXELS } });
  }
  return readPhoto(file, MOST_SIDE_PX);
}
