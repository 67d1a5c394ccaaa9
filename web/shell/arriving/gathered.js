import { isZip, Zip } from "../../project/travel/zip.js";
import { Refusal } from "../../words/refusal.js";

/**
 * Files that came together, out of folders and zips, none of them read further than its beginning.
 */

/** @typedef {{path: string, size: number, head: () => Promise<Blob>, whole: () => Promise<Blob>}} Piece */
/** @typedef {{path: string, error: unknown}} Unread */
/** @typedef {{pieces: Piece[], unread: Unread[]}} Gathered */

/** So much of a file's beginning tells what it is. */
const HEAD_BYTES = 4096;
const MOST_PIECES = 2000;
const MOST_BYTES = 256 * 1024 * 1024;
/** A zip within a zip is usual with sellers, one more is not. */
const MOST_NESTED = 2;
const ZIP_NAME = /\.zip$/i;

/**
 * @param {readonly {path: string, file: File | Blob}[]} files
 * @returns {Promise<Gathered>}
 * @throws {Refusal} where there are too many
 */
export async function gathered(files) {
  /** @type {Gathered} */
  const all = { pieces: [], unread: [] };
  for (const { path, file } of files) await gather(all, path, file, 0);
  return all;
}

/**
 * @param {Gathered} all
 * @param {string} path
 * @param {Blob} file
 * @param {number} nested  in so many zips
 */
async function gather(all, path, file, nested) {
  try {
    if (nested < MOST_NESTED && (await isZip(file, path))) await unpack(all, path, file, nested);
    else add(all, { path, size: file.size, head: async () => file.slice(0, HEAD_BYTES), whole: async () => file });
  } catch (error) {
    if (all.pieces.length > MOST_PIECES) throw error;
    all.unread.push({ path, error });
  }
}

/**
 * @param {Gathered} all
 * @param {string} path
 * @param {Blob} file
 * @param {number} nested
 */
async function unpack(all, path, file, nested) {
  const zip = await Zip.open(file);
  for (const name of zip.names) {
    const within = `${path.replace(ZIP_NAME, "")}/${name.replaceAll("\\", "/")}`;
    if (within.endsWith("/")) continue;
    const whole = () => zip.blob(name, MOST_BYTES);
    if (ZIP_NAME.test(name)) await gather(all, within, await whole(), nested + 1);
    else add(all, { path: within, size: zip.places.get(name)?.bytes ?? 0, head: () => zip.head(name, HEAD_BYTES), whole });
  }
}

/**
 * @param {Gathered} all
 * @param {Piece} piece
 */
function add(all, piece) {
  all.pieces.push(piece);
  if (all.pieces.length > MOST_PIECES) throw new Refusal({ key: "refusal.bundle-too-many", figures: { most: MOST_PIECES } });
}

/** @param {DataTransfer} data  @returns {(FileSystemEntry | null)[]} */
function entriesOf(data) {
  return [...data.items].map((item) => (item.kind === "file" ? (item.webkitGetAsEntry?.() ?? null) : null));
}

/** @param {DataTransfer} data  @returns {boolean} whether a folder is among what was dropped */
export function hasFolder(data) {
  return entriesOf(data).some((entry) => entry?.isDirectory);
}

/**
 * The files in what was dropped, folders looked into. Must be called before the drop's handler ends.
 *
 * @param {DataTransfer} data
 * @returns {Promise<{path: string, file: File}[]>}
 */
export async function filesIn(data) {
  const entries = entriesOf(data);
  const plain = [...data.files].map((file) => ({ path: file.name, file }));
  if (!entries.some((entry) => entry?.isDirectory)) return plain;
  /** @type {{path: string, file: File}[]} */
  const found = [];
  for (const entry of entries) if (entry) await walk(entry, found);
  return found;
}

/**
 * @param {FileSystemEntry} entry
 * @param {{path: string, file: File}[]} found
 */
async function walk(entry, found) {
  if (found.length > MOST_PIECES) return;
  if (entry.isFile) {
    const { file } = /** @type {FileSystemFileEntry} */ (entry);
    const taken = await new Promise((take) => file.call(entry, take, () => take(null)));
    if (taken) found.push({ path: entry.fullPath.replace(/^\//, ""), file: taken });
    return;
  }
  const reader = /** @type {FileSystemDirectoryEntry} */ (entry).createReader();
  for (;;) {
    // Some browsers hand out a hundred at a time.
    const entries = await new Promise((take) => reader.readEntries(take, () => take([])));
    if (entries.length === 0) return;
    for (const each of entries) await walk(each, found);
  }
}
