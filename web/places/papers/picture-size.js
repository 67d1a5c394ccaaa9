/** What a picture file says of itself: px per inch where it tells, and whether a camera took it. */

/** @typedef {{perInch: number | null, isPhoto: boolean}} PictureFacts */
/** @typedef {{width: number, height: number}} SheetMm */

const MM_PER_INCH = 25.4;
/** So much of a file holds what stands before the picture itself. */
const HEAD_BYTES = 262_144;
/** Screens, and programs that know nothing better, write 72 or 96: that tells no size. */
const LEAST_PER_INCH = 140;
const MOST_PER_INCH = 2400;
/** Sides of sheets to print that a picture is believed, mm: a small card to a poster (common practice, no published source). */
const LEAST_SHEET_MM = 50;
const MOST_SHEET_MM = 1000;
/** Papers to print are made at this resolution (common practice, no published source). */
const USUAL_PER_INCH = 300;
/** The least side of a square picture that is taken for a whole sheet though it tells no resolution. */
const LEAST_SIDE_PX = 1200;
/** Sides of whole sheets to print, inches (common practice, no published source). */
const USUAL_INCHES = [6, 8, 12];

/**
 * The size of the sheet that a picture shows as a whole, null where it is more likely a photo of a paper.
 *
 * Resolution: PNG pHYs (W3C PNG, 11.3.4.3), JFIF density (ITU-T T.871); a camera names itself in EXIF (CIPA
 * DC-008, tags 271 and 272).
 *
 * @param {Blob} file
 * @param {number} width  px
 * @param {number} height
 * @returns {Promise<SheetMm | null>}
 */
export async function wholeSheet(file, width, height) {
  const { perInch, isPhoto } = factsOf(new DataView(await file.slice(0, HEAD_BYTES).arrayBuffer()));
  if (isPhoto) return null;
  if (perInch !== null && perInch >= LEAST_PER_INCH && perInch <= MOST_PER_INCH) {
    const sheet = { width: (width / perInch) * MM_PER_INCH, height: (height / perInch) * MM_PER_INCH };
    // Some programs write whatever resolution they please: a sheet as large as a stamp is none.
    if (Math.min(sheet.width, sheet.height) >= LEAST_SHEET_MM && Math.max(sheet.width, sheet.height) <= MOST_SHEET_MM) return sheet;
  }
  if (width !== height || width < LEAST_SIDE_PX) return null;
  const inches = USUAL_INCHES.find((side) => side * USUAL_PER_INCH === width) ?? 12;
  return { width: inches * MM_PER_INCH, height: inches * MM_PER_INCH };
}

/** Whether a camera took a picture. @param {Blob} file */
export async function isByCamera(file) {
  return factsOf(new DataView(await file.slice(0, HEAD_BYTES).arrayBuffer())).isPhoto;
}

/**
 * @param {DataView} data  the head of a file
 * @returns {PictureFacts}
 */
export function factsOf(data) {
  try {
    if (data.getUint32(0) === 0x89504e47) return ofPng(data);
    if (data.getUint16(0) === 0xffd8) return ofJpeg(data);
  } catch {
    // A head that ends early tells nothing more.
  }
  return { perInch: null, isPhoto: false };
}

/** @param {DataView} data  @returns {PictureFacts} */
function ofPng(data) {
  for (let at = 8; at + 12 <= data.byteLength; at += 12 + data.getUint32(at)) {
    if (data.getUint32(at + 4) === 0x70485973) {
      const perMetre = data.getUint32(at + 8);
      return { perInch: data.getUint8(at + 16) === 1 ? perMetre * 0.0254 : null, isPhoto: false };
    }
    if (data.getUint32(at + 4) === 0x49444154) break;
  }
  return { perInch: null, isPhoto: false };
}

/**
 * Whether a JPEG's px stand upright as they are stored: EXIF tag 274 (orientation) is 1 or missing.
 *
 * @param {DataView} data
 */
export function upright(data) {
  try {
    return ofJpeg(data).isUpright;
  } catch {
    // A part that ends early tells of no turn.
    return true;
  }
}

/** @param {DataView} data  @returns {PictureFacts & {isUpright: boolean}} */
function ofJpeg(data) {
  /** @type {number | null} */
  let perInch = null;
  let isPhoto = false;
  let isUpright = true;
  for (let at = 2; at + 4 <= data.byteLength && data.getUint8(at) === 0xff; at += 2 + data.getUint16(at + 2)) {
    const marker = data.getUint8(at + 1);
    if (marker === 0xda) break;
    if (marker === 0xe0 && data.getUint32(at + 4) === 0x4a464946) {
      const [unit, density] = [data.getUint8(at + 11), data.getUint16(at + 12)];
      perInch = unit === 1 ? density : unit === 2 ? density * 2.54 : null;
    }
    if (marker === 0xe1 && data.getUint32(at + 4) === 0x45786966) {
      const tags = exifTags(data, at + 10);
      isPhoto = tags.has(271) || tags.has(272);
      isUpright = (tags.get(274) ?? 1) === 1;
    }
  }
  return { perInch, isPhoto, isUpright };
}

/**
 * @param {DataView} data
 * @param {number} start  of the TIFF header in the EXIF part
 * @returns {Map<number, number>} the tags there, with what each holds if it is one short number
 */
function exifTags(data, start) {
  const little = data.getUint16(start) === 0x4949;
  const directory = start + data.getUint32(start + 4, little);
  const count = data.getUint16(directory, little);
  /** @type {Map<number, number>} */
  const tags = new Map();
  for (let entry = 0; entry < count; entry += 1) {
    const at = directory + 2 + 12 * entry;
    tags.set(data.getUint16(at, little), data.getUint16(at + 8, little));
  }
  return tags;
}
