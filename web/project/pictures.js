import { Archive } from "./archive.js";

/**
 * The pictures of papers on this device, by key: kept in the browser's database, unpacked when first asked for.
 *
 * Events: "loaded" (a picture is at hand that was not before).
 */
export class Pictures extends EventTarget {
  constructor() {
    super();
    /** Null while it is fetched, and for good where the device has none. @type {Map<string, ImageBitmap | null>} */
    this.bitmaps = new Map();
    /** Keys of pictures that this device does not have. @type {Set<string>} */
    this.missing = new Set();
    /** @type {Promise<Archive> | null} */
    this.archive = null;
  }

  /**
   * The picture if it is at hand; else fetches it and tells when it is.
   *
   * @param {string} key
   * @returns {ImageBitmap | null}
   */
  at(key) {
    const known = this.bitmaps.get(key);
    if (known !== undefined) return known;
    this.bitmaps.set(key, null);
    void this.#fetch(key);
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
    this.bitmaps.set(key, await createImageBitmap(picture));
    const blob = await canvas.convertToBlob({ type: "image/webp", quality: 0.92 });
    try {
      await (await this.#archive()).keepPicture(key, blob);
      return { key, kept: true };
    } catch {
      return { key, kept: false };
    }
  }

  /** @param {string} key */
  async #fetch(key) {
    try {
      const blob = await (await this.#archive()).picture(key);
      if (blob) this.bitmaps.set(key, await createImageBitmap(blob));
      else this.missing.add(key);
    } catch {
      this.missing.add(key);
    }
    this.dispatchEvent(new Event("loaded"));
  }

  #archive() {
    this.archive ??= Archive.open();
    return this.archive;
  }
}
