import { Lately } from "../parts/lately.js";
import { shownIn } from "./pictures-of.js";

/** Px of the pictures that lie unpacked, 4 bytes each. */
const MOST_PX = 24e6;
/** At which no grain shows that a print would not (from memory). */
const QUALITY = 0.92;

/**
 * The pictures of papers on this device, by key: kept in the browser's database, unpacked as long as they are shown.
 *
 * Events: "loaded" (a picture is at hand that was not before).
 */
export class Pictures extends EventTarget {
  /** @param {import("./archive.js").Archive} archive */
  constructor(archive) {
    super();
    this.archive = archive;
    /** @type {Lately<ImageBitmap>} */
    this.bitmaps = new Lately(MOST_PX, (bitmap) => bitmap.close());
    /** Keys of those that are being fetched. @type {Set<string>} */
    this.coming = new Set();
    /** Packed pictures that the browser did not keep. @type {Map<string, Blob>} */
    this.unkept = new Map();
    /** Keys of pictures that this device does not have. @type {Set<string>} */
    this.missing = new Set();
  }

  /**
   * The picture if it is at hand; else fetches it and tells when it is.
   *
   * @param {string} key
   * @returns {ImageBitmap | null}
   */
  at(key) {
    const known = this.bitmaps.get(key);
    if (known) return known;
    if (!this.coming.has(key) && !this.missing.has(key)) {
      this.coming.add(key);
      void this.#fetch(key);
    }
    return null;
  }

  /**
   * Keeps a picture under a key of its own.
   *
   * @param {ImageData} picture
   * @returns {Promise<{key: string, kept: boolean}>} the key, and whether it outlives this page
   */
  async keep(picture) {
    const key = crypto.randomUUID();
    const canvas = new OffscreenCanvas(picture.width, picture.height);
    canvas.getContext("2d")?.putImageData(picture, 0, 0);
    this.#unpacked(key, await createImageBitmap(picture));
    const blob = await packed(canvas);
    try {
      await this.archive.keepPicture(key, blob);
      return { key, kept: true };
    } catch {
      this.unkept.set(key, blob);
      return { key, kept: false };
    }
  }

  /**
   * Keeps a picture's file as it came, to be printed from.
   *
   * @param {Blob} file
   * @returns {Promise<string | null>} its key; null where the browser has no room for it
   */
  async keepFile(file) {
    const key = crypto.randomUUID();
    try {
      await this.archive.keepPicture(key, file);
      return key;
    } catch {
      return null;
    }
  }

  /** @param {string} key  @returns {Promise<Blob | null>} a picture's file; null where this device does not have it */
  async file(key) {
    return this.unkept.get(key) ?? (await this.archive.picture(key));
  }

  /**
   * How many of a document's pictures this device does not have.
   *
   * @param {Pick<import("../desk/types.js").Project, "shelf" | "page">} document
   * @returns {Promise<number>}
   */
  async lacking(document) {
    const keys = [...shownIn(document)].filter((key) => !this.unkept.has(key));
    const found = await Promise.all(keys.map((key) => this.archive.picture(key)));
    return found.filter((picture) => picture === null).length;
  }

  /**
   * @param {string} key
   * @param {ImageBitmap} bitmap
   */
  #unpacked(key, bitmap) {
    this.bitmaps.set(key, bitmap, bitmap.width * bitmap.height);
  }

  /** @param {string} key */
  async #fetch(key) {
    try {
      const blob = this.unkept.get(key) ?? (await this.archive.picture(key));
      if (blob) this.#unpacked(key, await createImageBitmap(blob));
      else this.missing.add(key);
    } catch {
      // The database could not be asked: nothing is known to be missing, and whatever is drawn next asks anew.
      return;
    } finally {
      this.coming.delete(key);
    }
    this.dispatchEvent(new Event("loaded"));
  }
}

/**
 * A picture as a small file: WebP, or JPEG where the browser writes none and would give PNG, ten times as large.
 *
 * @param {OffscreenCanvas} canvas
 */
async function packed(canvas) {
  const blob = await canvas.convertToBlob({ type: "image/webp", quality: QUALITY });
  return blob.type === "image/webp" ? blob : canvas.convertToBlob({ type: "image/jpeg", quality: QUALITY });
}
