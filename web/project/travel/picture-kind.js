/** @typedef {{type: string, width: number, height: number}} PictureKind  size in px */

/** So much of a file holds what stands before the picture itself. */
const HEAD_BYTES = 262_144;

/** Endings of files by what is in them. @type {Readonly<Record<string, string>>} */
export const ENDINGS = { "image/png": "png", "image/jpeg": "jpg", "image/webp": "webp" };

/**
 * What a picture file says of itself, without unpacking it: PNG (W3C PNG, 11.2.1), JPEG (ITU-T T.81, B.2.2), WebP
 * (RFC 9649, sections 2.5 to 2.7).
 *
 * @param {Blob} file
 * @returns {Promise<PictureKind | null>}  null where it is none of them
 */
export async function pictureKind(file) {
  const view = new DataView(await file.slice(0, HEAD_BYTES).arrayBuffer());
  try {
    if (view.getUint32(0) === 0x89504e47) {
      return { type: "image/png", width: view.getUint32(16), height: view.getUint32(20) };
    }
    if (view.getUint16(0) === 0xffd8) return ofJpeg(view);
    if (view.getUint32(0) === 0x52494646 && view.getUint32(8) === 0x57454250) return ofWebp(view);
  } catch {
    // A head that ends early tells nothing.
  }
  return null;
}

/** @param {DataView} view  @returns {PictureKind | null} */
function ofJpeg(view) {
  for (let at = 2; view.getUint8(at) === 0xff; at += 2 + view.getUint16(at + 2)) {
    const marker = view.getUint8(at + 1);
    const isFrame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
    if (isFrame) return { type: "image/jpeg", width: view.getUint16(at + 7), height: view.getUint16(at + 5) };
  }
  return null;
}

/** @param {DataView} view  @returns {PictureKind | null} */
function ofWebp(view) {
  const type = "image/webp";
  const form = view.getUint32(12);
  const low14 = 0x3fff;
  if (form === 0x56503820) {
    return { type, width: view.getUint16(26, true) & low14, height: view.getUint16(28, true) & low14 };
  }
  if (form === 0x5650384c) {
    const bits = view.getUint32(21, true);
    return { type, width: (bits & low14) + 1, height: ((bits >>> 14) & low14) + 1 };
  }
  if (form !== 0x56503858) return null;
  const low24 = 0xffffff;
  return { type, width: (view.getUint32(24, true) & low24) + 1, height: (view.getUint32(27, true) & low24) + 1 };
}
