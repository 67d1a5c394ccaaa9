import { Refusal } from "../../words/refusal.js";
import { ENDINGS, pictureKind } from "./picture-kind.js";
import { Zip } from "./zip.js";

/**
 * What a file of ours holds when pictures go with it: `project.json`, `shelf.json` or `backup.json` as it would be
 * alone, beside it `pictures/` as they are kept here, and `small/` where only a small one is here. A picture's file
 * is named by its key.
 */

/** @typedef {"project" | "shelf" | "backup"} Kind */
/** @typedef {import("./zip.js").Entry} Entry */
/** @typedef {{pictures: Map<string, Blob>, small: Map<string, Blob>}} Carried  pictures by key, small ones for others */

const KINDS = /** @type {readonly Kind[]} */ (["backup", "project", "shelf"]);
const MOST_TEXT = 64 * 1024 * 1024;
const MOST_PICTURE = 64 * 1024 * 1024;

/**
 * @param {Carried} carried
 * @returns {Entry[]}
 */
export function pictureEntries({ pictures, small }) {
  return [...entriesIn("pictures", pictures), ...entriesIn("small", small)];
}

/**
 * @param {string} name
 * @param {string} text
 * @returns {Entry}
 */
export function textEntry(name, text) {
  return { name, blob: new Blob([text], { type: "application/json" }) };
}

/**
 * @param {string} folder
 * @param {Map<string, Blob>} pictures
 */
function entriesIn(folder, pictures) {
  return [...pictures].map(([key, blob]) => ({
    name: `${folder}/${encodeURIComponent(key)}.${ENDINGS[blob.type] ?? "webp"}`,
    blob,
  }));
}

/** A parcel that came, opened; also one that was unpacked and packed again elsewhere, in a folder of its own. */
export class Parcel {
  /**
   * @param {Zip} zip
   * @param {Kind} kind
   * @param {string} folder
   */
  constructor(zip, kind, folder) {
    this.zip = zip;
    this.kind = kind;
    this.folder = folder;
  }

  /**
   * @param {Blob} file
   * @returns {Promise<Parcel>}
   * @throws {Refusal} where it is broken or none of ours
   */
  static async open(file) {
    const zip = await Zip.open(file);
    const inOrder = zip.names.sort((one, other) => one.split("/").length - other.split("/").length);
    for (const name of inOrder) {
      const [, folder = "", kind] = /^((?:[^/]+\/)*)(\w+)\.json$/.exec(name) ?? [];
      const known = KINDS.find((each) => each === kind);
      if (known) return new Parcel(zip, known, folder);
    }
    throw new Refusal({ key: "refusal.zip-none-of-ours", figures: {} });
  }

  /** @param {string} [name]  @returns {Promise<string>} */
  async text(name = `${this.kind}.json`) {
    return (await this.zip.blob(this.folder + name, MOST_TEXT)).text();
  }

  /** @param {string} name  @returns {boolean} */
  has(name) {
    return this.zip.places.has(this.folder + name);
  }

  /**
   * @param {string} name
   * @param {number} mostPx
   * @returns {Promise<Blob | null>}  null where there is none, or it is broken, too large or no picture
   */
  async picture(name, mostPx) {
    if (!this.has(name)) return null;
    const blob = await this.zip.blob(this.folder + name, MOST_PICTURE).catch(() => null);
    const kind = blob && (await pictureKind(blob));
    return kind && kind.width * kind.height <= mostPx ? blob.slice(0, blob.size, kind.type) : null;
  }

  /**
   * @param {"pictures" | "small"} folder
   * @param {string} key
   * @param {number} mostPx
   * @returns {Promise<Blob | null>}
   */
  async pictureOf(folder, key, mostPx) {
    for (const ending of new Set([...Object.values(ENDINGS), "jpeg"])) {
      const found = await this.picture(`${folder}/${encodeURIComponent(key)}.${ending}`, mostPx);
      if (found) return found;
    }
    return null;
  }
}
