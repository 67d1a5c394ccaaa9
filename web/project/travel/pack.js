import { picturesOf, shownIn, withKeys } from "../pictures-of.js";
import { pictureKind } from "./picture-kind.js";
import { pictureEntries, textEntry } from "./parcel.js";
import { zipped } from "./zip.js";

/** @typedef {import("./parcel.js").Parcel} Parcel */
/** @typedef {import("./parcel.js").Carried} Carried */
/** @typedef {import("../pictures.js").Pictures} Pictures */

/** Px of the largest picture that is taken to be shown: four times what is ever kept of a photo. */
const MOST_SHOWN_PX = 16_777_216;
/** Px of the largest file that is taken to print from: a sheet of 24 in at 400 px per inch. */
const MOST_PRINTED_PX = 100_000_000;
/** Px of the longer side of a small picture in a link at most. */
const MOST_SMALL_SIDE = 256;

/**
 * A document's file to take away: as it is, or packed with its pictures.
 *
 * @param {"project" | "shelf"} kind
 * @param {{name: string, text: string}} document
 * @param {Carried} carried
 * @returns {Promise<{name: string, blob: Blob}>}
 */
export async function fileOf(kind, { name, text }, carried) {
  const pictures = pictureEntries(carried);
  const alone = textEntry(`${kind}.json`, text);
  if (pictures.length === 0) return { name, blob: alone.blob };
  return { name: name.replace(/\.json$/, ".zip"), blob: await zipped([alone, ...pictures], new Date()) };
}

/**
 * Takes in the pictures of a document that came in a parcel.
 *
 * @template {import("../pictures-of.js").Showing} Document
 * @param {Parcel} parcel
 * @param {Document} document
 * @param {Pictures} pictures
 * @returns {Promise<Document>} the document with its pictures' keys as they are here
 */
export async function withPictures(parcel, document, pictures) {
  /** @type {Map<string, string>} */
  const renamed = new Map();
  const shown = shownIn(document);
  for (const key of picturesOf(document)) {
    const whole = await parcel.pictureOf("pictures", key, shown.has(key) ? MOST_SHOWN_PX : MOST_PRINTED_PX);
    const small = whole ? null : await parcel.pictureOf("small", key, MOST_SMALL_SIDE ** 2);
    if (small) await pictures.admitSmall(key, small);
    const own = whole ? await pictures.admit(key, whole) : key;
    if (own !== key) renamed.set(key, own);
  }
  return withKeys(document, renamed);
}

/**
 * Takes in the small pictures that a link brought.
 *
 * @param {Map<string, Uint8Array<ArrayBuffer>>} found
 * @param {Pictures} pictures
 */
export async function takeSmall(found, pictures) {
  for (const [key, bytes] of found) {
    const blob = new Blob([bytes]);
    const kind = await pictureKind(blob);
    if (!kind || Math.max(kind.width, kind.height) > MOST_SMALL_SIDE) continue;
    await pictures.admitSmall(key, blob.slice(0, blob.size, kind.type));
  }
}
