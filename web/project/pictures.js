import { Lately } from "../basics/lately.js";
import { picturesOf, shownIn } from "./pictures-of.js";

/** @typedef {import("./travel/parcel.js").Carried} Carried */

/** Px of the pictures that lie unpacked, 4 bytes each. */
const MOST_PX = 24e6;
/** At which no grain shows that a print would not (from memory). */
const QUALITY = 0.92;
/** Px of the longer side of small pictures for a link: the first at which all of them fit into it. */
const SMALL_SIDES = [96, 64, 48, 32, 24];
const SMALL_QUALITY = 0.5;
/** Bytes of all small pictures in a link: with it most links stay under 10,000 characters. */
const MOST_SMALL = 5000;

/**
 * The pictures of papers on this device, by key: kept in the browser's database, unpacked as long as they are shown.
 * Of some there is only a small one, which a link brought; it stands in for the whole until that comes.
 *
 * Events: "loaded" (a picture is at hand that was not before), "replaced" (a key means another picture than it did).
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
    /** Small ones that it did not keep. @type {Map<string, Blob>} */
    this.unkeptSmall = new Map();
    /** Keys of pictures of which this device has nothing. @type {Set<string>} */
    this.missing = new Set();
    /** Keys of those of which it has only a small one. @type {Set<string>} */
    this.small = new Set();
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
    return { key, kept: await this.#store(key, await packed(canvas, QUALITY)) };
  }

  /** Keeps what the browser could not keep before. */
  async keepRest() {
    for (const [key, picture] of this.unkept) {
      if (!(await this.#store(key, picture))) return;
      this.unkept.delete(key);
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
   * Takes in a picture from elsewhere; one that is here already stays as it is.
   *
   * @param {string} key
   * @param {Blob} picture
   * @returns {Promise<string>} the key under which it is here: another where that one means another picture
   */
  async admit(key, picture) {
    const here = await this.file(key).catch(() => null);
    if (here && (await sameBytes(here, picture))) return key;
    const own = here ? await contentKey(picture) : key;
    await this.#store(own, picture);
    this.#renew(own);
    return own;
  }

  /**
   * Takes in a small picture, where there is neither the whole nor a small one.
   *
   * @param {string} key
   * @param {Blob} picture
   */
  async admitSmall(key, picture) {
    const here = (await this.file(key).catch(() => null)) ?? (await this.#packedSmall(key).catch(() => null));
    if (here) return;
    await this.archive.keepSmall(key, picture).catch(() => this.unkeptSmall.set(key, picture));
    this.#renew(key);
  }

  /**
   * What goes with a file: pictures as they are, small ones where there is nothing else.
   *
   * @param {readonly import("./pictures-of.js").Showing[]} documents
   * @returns {Promise<Carried & {lacking: number}>} and how many that are shown are not here at all
   */
  async carried(documents) {
    const shown = new Set(documents.flatMap((document) => [...shownIn(document)]));
    const { pictures, small, lacking } = await this.#gathered(documents.flatMap((each) => [...picturesOf(each)]));
    return { pictures, small, lacking: lacking.filter((key) => shown.has(key)).length };
  }

  /** @param {Iterable<string>} keys */
  async #gathered(keys) {
    /** @type {Carried & {lacking: string[]}} */
    const found = { pictures: new Map(), small: new Map(), lacking: [] };
    for (const key of new Set(keys)) {
      const whole = await this.file(key).catch(() => null);
      const other = whole ? null : await this.#packedSmall(key).catch(() => null);
      if (whole) found.pictures.set(key, whole);
      else if (other) found.small.set(key, other);
      else found.lacking.push(key);
    }
    return found;
  }

  /**
   * Small pictures for a link, as large as they fit into it together.
   *
   * @param {Iterable<string>} keys
   * @returns {Promise<Map<string, Uint8Array<ArrayBuffer>>>} those that fit, first come first
   */
  async smallOnes(keys) {
    const { pictures, small } = await this.#gathered(keys);
    const largest = SMALL_SIDES[0] ?? 0;
    /** @type {Map<string, OffscreenCanvas>} */
    const drawn = new Map();
    for (const [key, blob] of [...pictures, ...small]) {
      const bitmap = await createImageBitmap(blob).catch(() => null);
      if (bitmap) drawn.set(key, within(bitmap, largest));
      bitmap?.close();
    }
    /** @type {Map<string, Uint8Array<ArrayBuffer>>} */
    let found = new Map();
    for (const side of SMALL_SIDES) {
      found = new Map();
      for (const [key, canvas] of drawn) {
        const blob = await packed(within(canvas, side), SMALL_QUALITY);
        found.set(key, new Uint8Array(await blob.arrayBuffer()));
      }
      if (bytesOf(found) <= MOST_SMALL) break;
    }
    while (bytesOf(found) > MOST_SMALL) found.delete([...found.keys()].at(-1) ?? "");
    return found;
  }

  /**
   * What this device lacks of a document's pictures; rejects where the browser can't be asked.
   *
   * @param {import("./pictures-of.js").Showing} document
   * @returns {Promise<{lacking: number, small: number}>} how many are not here, and how many only as small ones
   */
  async shortOf(document) {
    const found = { lacking: 0, small: 0 };
    for (const key of shownIn(document)) {
      if (await this.file(key)) continue;
      if (await this.#packedSmall(key)) found.small += 1;
      else found.lacking += 1;
    }
    return found;
  }

  /** @param {string} key */
  async #packedSmall(key) {
    return this.unkeptSmall.get(key) ?? this.archive.small(key);
  }

  /**
   * @param {string} key
   * @param {Blob} picture
   * @returns {Promise<boolean>} whether the browser keeps it
   */
  async #store(key, picture) {
    try {
      await this.archive.keepPicture(key, picture);
      return true;
    } catch {
      this.unkept.set(key, picture);
      return false;
    }
  }

  /** What is shown under a key is another now. @param {string} key */
  #renew(key) {
    this.bitmaps.drop(key);
    this.missing.delete(key);
    this.small.delete(key);
    this.dispatchEvent(new Event("replaced"));
    this.dispatchEvent(new Event("loaded"));
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
      const whole = await this.file(key);
      const blob = whole ?? (await this.#packedSmall(key));
      if (blob) this.#unpacked(key, await createImageBitmap(blob));
      else this.missing.add(key);
      if (blob && !whole) this.small.add(key);
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
 * @param {number} quality
 */
async function packed(canvas, quality) {
  const blob = await canvas.convertToBlob({ type: "image/webp", quality });
  return blob.type === "image/webp" ? blob : canvas.convertToBlob({ type: "image/jpeg", quality });
}

/**
 * @param {ImageBitmap | OffscreenCanvas} picture
 * @param {number} side  px of the longer side at most
 */
function within(picture, side) {
  const part = Math.min(1, side / Math.max(picture.width, picture.height));
  const [width, height] = [picture.width, picture.height].map((each) => Math.max(1, Math.round(each * part)));
  const canvas = new OffscreenCanvas(width ?? 1, height ?? 1);
  const context = canvas.getContext("2d");
  if (context) {
    context.imageSmoothingQuality = "high";
    context.drawImage(picture, 0, 0, canvas.width, canvas.height);
  }
  return canvas;
}

/** @param {Map<string, Uint8Array>} files */
function bytesOf(files) {
  return [...files.values()].reduce((sum, { byteLength }) => sum + byteLength, 0);
}

/**
 * @param {Blob} one
 * @param {Blob} other
 */
async function sameBytes(one, other) {
  if (one.size !== other.size) return false;
  const [first, second] = await Promise.all([one, other].map((each) => contentKey(each)));
  return first === second;
}

/** @param {Blob} picture  @returns {Promise<string>} a key that no other picture has (SHA-256) */
async function contentKey(picture) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", await picture.arrayBuffer()));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
}
