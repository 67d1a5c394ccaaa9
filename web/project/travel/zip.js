import { Refusal } from "../../words/refusal.js";

/**
 * Files put together as one, as they are (PKWARE's APPNOTE.TXT 6.3.10: local headers, central directory, end
 * record), and such a file taken apart again. Neither ever holds more than one of the files in memory.
 */

/** @typedef {{name: string, blob: Blob}} Entry */
/** @typedef {{method: number, crc: number, packed: number, bytes: number, at: number}} ZipEntry  of an entry in its file */
/** @typedef {{progress?: (done: number, total: number) => void, signal?: AbortSignal}} Watch */

const LOCAL = 0x04034b50;
const CENTRAL = 0x02014b50;
const END = 0x06054b50;
const LOCAL_BYTES = 30;
const CENTRAL_BYTES = 46;
const END_BYTES = 22;
/** The end record's comment is at most this long. */
const MOST_COMMENT = 0xffff;
const VERSION_NEEDED = 20;
const NAMES_ARE_UTF8 = 0x0800;
const ENCRYPTED = 1;
const STORED = 0;
const DEFLATED = 8;
/** Counts and offsets that say "look elsewhere" (ZIP64). */
const MOST_ENTRIES = 10_000;
const MOST_DIRECTORY = 8 * 1024 * 1024;
/** More than any tablet keeps of papers; what a file claims to unpack to. */
const MOST_UNPACKED = 2 * 1024 * 1024 * 1024 - 1;

/**
 * @param {readonly Entry[]} entries  at most 10,000, of 2 GiB together
 * @param {Date} when
 * @param {Watch} [watch]
 * @returns {Promise<Blob>}
 * @throws {Refusal} where there is too much
 */
export async function zipped(entries, when, { progress = () => {}, signal } = {}) {
  const total = entries.reduce((sum, { blob }) => sum + blob.size, 0);
  if (entries.length > MOST_ENTRIES || total > MOST_UNPACKED) throw new Refusal({ key: "refusal.zip-too-much", figures: {} });
  /** @type {BlobPart[]} */
  const parts = [];
  /** @type {Uint8Array<ArrayBuffer>[]} */
  const directory = [];
  let at = 0;
  for (const [index, { name, blob }] of entries.entries()) {
    progress(index, entries.length);
    signal?.throwIfAborted();
    const crc = crc32(new Uint8Array(await blob.arrayBuffer()));
    const path = new TextEncoder().encode(name);
    const facts = factsOf(crc, blob.size, path.length, when);
    parts.push(record(LOCAL, [[VERSION_NEEDED, 2], ...facts, [0, 2]], path), blob);
    const rest = /** @type {Field[]} */ ([[0, 2], [0, 2], [0, 2], [0, 2], [0, 4], [at, 4]]);
    directory.push(record(CENTRAL, [[VERSION_NEEDED, 2], [VERSION_NEEDED, 2], ...facts, ...rest], path));
    at += LOCAL_BYTES + path.length + blob.size;
  }
  progress(entries.length, entries.length);
  const length = directory.reduce((sum, { byteLength }) => sum + byteLength, 0);
  const end = record(END, [[0, 2], [0, 2], [entries.length, 2], [entries.length, 2], [length, 4], [at, 4], [0, 2]]);
  return new Blob([...parts, ...directory, end], { type: "application/zip" });
}

/**
 * @param {Blob} file
 * @param {string} name
 * @returns {Promise<boolean>} whether it begins as a zip does
 * @throws {Refusal} where it can't be read: a folder has no bytes, nor has a file that the device can't fetch
 */
export async function isZip(file, name) {
  const head = await viewOf(file.slice(0, 4)).catch(() => null);
  if (!head) throw new Refusal({ key: "stage.unread", figures: { name } });
  return head.byteLength === 4 && [LOCAL, END].includes(head.getUint32(0, true));
}

/** A file made of files. */
export class Zip {
  /**
   * @param {Blob} file
   * @param {Map<string, ZipEntry>} places  by name
   */
  constructor(file, places) {
    this.file = file;
    this.places = places;
  }

  /**
   * @param {Blob} file
   * @returns {Promise<Zip>}
   * @throws {Refusal} where it is broken, locked, or claims to hold more than this page ever writes
   */
  static async open(file) {
    try {
      return new Zip(file, await placesIn(file));
    } catch (error) {
      throw error instanceof RangeError ? new Refusal({ key: "refusal.zip-broken", figures: {} }) : error;
    }
  }

  /** @returns {string[]} */
  get names() {
    return [...this.places.keys()];
  }

  /**
   * @param {string} name
   * @param {number} most  bytes
   * @returns {Promise<Blob>}
   * @throws {Refusal} where it is broken or larger than that
   */
  async blob(name, most) {
    const { place, packed } = await this.#packed(name);
    if (place.bytes > most) throw new Refusal({ key: "refusal.zip-too-much", figures: {} });
    const blob = place.method === STORED ? packed : await inflated(packed, place.bytes);
    const whole = blob.size === place.bytes && crc32(new Uint8Array(await blob.arrayBuffer())) === place.crc;
    if (!whole) throw new Refusal({ key: "refusal.zip-broken", figures: {} });
    return blob;
  }

  /**
   * @param {string} name
   * @param {number} bytes
   * @returns {Promise<Blob>} how an entry begins; no more than that is unpacked
   * @throws {Refusal} where it is broken
   */
  async head(name, bytes) {
    const { place, packed } = await this.#packed(name);
    return place.method === STORED ? packed.slice(0, bytes) : (await inflated(packed, place.bytes, bytes)).slice(0, bytes);
  }

  /** @param {string} name  @returns {Promise<{place: ZipEntry, packed: Blob}>} */
  async #packed(name) {
    const place = this.places.get(name);
    if (!place) throw new Refusal({ key: "refusal.zip-broken", figures: {} });
    const head = await viewOf(this.file.slice(place.at, place.at + LOCAL_BYTES));
    if (head.byteLength < LOCAL_BYTES || head.getUint32(0, true) !== LOCAL) throw new Refusal({ key: "refusal.zip-broken", figures: {} });
    const start = place.at + LOCAL_BYTES + head.getUint16(26, true) + head.getUint16(28, true);
    return { place, packed: this.file.slice(start, start + place.packed) };
  }
}

/**
 * @param {Blob} file
 * @returns {Promise<Map<string, ZipEntry>>}
 * @throws {RangeError} where it ends early
 */
async function placesIn(file) {
  const tail = await viewOf(file.slice(Math.max(0, file.size - END_BYTES - MOST_COMMENT)));
  let end = tail.byteLength - END_BYTES;
  while (end >= 0 && tail.getUint32(end, true) !== END) end -= 1;
  if (end < 0) throw new Refusal({ key: "refusal.zip-broken", figures: {} });
  const count = tail.getUint16(end + 10, true);
  const length = tail.getUint32(end + 12, true);
  const start = tail.getUint32(end + 16, true);
  if (count > MOST_ENTRIES || length > MOST_DIRECTORY) throw new Refusal({ key: "refusal.zip-too-much", figures: {} });
  const directory = await viewOf(file.slice(start, start + length));
  /** @type {Map<string, ZipEntry>} */
  const places = new Map();
  let [packed, bytes] = [0, 0];
  for (let at = 0, index = 0; index < count; index += 1) {
    if (directory.getUint32(at, true) !== CENTRAL) throw new Refusal({ key: "refusal.zip-broken", figures: {} });
    const isUtf8 = (directory.getUint16(at + 8, true) & NAMES_ARE_UTF8) !== 0;
    const name = nameOf(directory, at + CENTRAL_BYTES, directory.getUint16(at + 28, true), isUtf8);
    const place = {
      method: directory.getUint16(at + 10, true),
      crc: directory.getUint32(at + 16, true),
      packed: directory.getUint32(at + 20, true),
      bytes: directory.getUint32(at + 24, true),
      at: directory.getUint32(at + 42, true),
    };
    const isLocked = (directory.getUint16(at + 8, true) & ENCRYPTED) !== 0;
    if (isLocked || ![STORED, DEFLATED].includes(place.method)) throw new Refusal({ key: "refusal.zip-locked", figures: {} });
    if (places.has(name)) throw new Refusal({ key: "refusal.zip-broken", figures: {} });
    places.set(name, place);
    packed += place.packed;
    bytes += place.bytes;
    at += CENTRAL_BYTES + [28, 30, 32].reduce((sum, each) => sum + directory.getUint16(at + each, true), 0);
  }
  // Entries that lie over one another would unpack to far more than the file holds.
  if (packed > file.size) throw new Refusal({ key: "refusal.zip-broken", figures: {} });
  if (bytes > MOST_UNPACKED) throw new Refusal({ key: "refusal.zip-too-much", figures: {} });
  return places;
}

/**
 * @param {Blob} packed
 * @param {number} bytes  that it says it holds; not a byte more is unpacked
 * @param {number} [enough]  so many are wanted
 */
async function inflated(packed, bytes, enough = Infinity) {
  const reader = packed.stream().pipeThrough(new DecompressionStream("deflate-raw")).getReader();
  const parts = [];
  let length = 0;
  try {
    for (let step = await reader.read(); !step.done; step = await reader.read()) {
      length += step.value.byteLength;
      if (length > bytes) throw new Refusal({ key: "refusal.zip-broken", figures: {} });
      parts.push(step.value);
      if (length >= enough) break;
    }
  } catch {
    throw new Refusal({ key: "refusal.zip-broken", figures: {} });
  } finally {
    void reader.cancel().catch(() => {});
  }
  return new Blob(parts);
}

/** @typedef {[number, 2 | 4]} Field  a number and the bytes that it takes */

/**
 * What local header and directory both tell of an entry.
 *
 * @param {number} crc
 * @param {number} bytes
 * @param {number} nameBytes
 * @param {Date} when
 * @returns {Field[]}
 */
function factsOf(crc, bytes, nameBytes, when) {
  const time = (when.getHours() << 11) | (when.getMinutes() << 5) | (when.getSeconds() >> 1);
  const day = ((when.getFullYear() - 1980) << 9) | ((when.getMonth() + 1) << 5) | when.getDate();
  return [[NAMES_ARE_UTF8, 2], [STORED, 2], [time, 2], [day, 2], [crc, 4], [bytes, 4], [bytes, 4], [nameBytes, 2]];
}

/**
 * @param {number} signature
 * @param {readonly Field[]} fields
 * @param {Uint8Array} [name]
 * @returns {Uint8Array<ArrayBuffer>}
 */
function record(signature, fields, name = new Uint8Array()) {
  const length = fields.reduce((sum, [, bytes]) => sum + bytes, 4);
  const written = new Uint8Array(length + name.length);
  const view = new DataView(written.buffer);
  view.setUint32(0, signature, true);
  let at = 4;
  for (const [value, bytes] of fields) {
    if (bytes === 2) view.setUint16(at, value, true);
    else view.setUint32(at, value, true);
    at += bytes;
  }
  written.set(name, length);
  return written;
}

/** @param {Blob} blob */
async function viewOf(blob) {
  return new DataView(await blob.arrayBuffer());
}

/**
 * The name of an entry. Names in UTF-8 that are not marked so are common; others are read letter by letter, wrong
 * perhaps but each another.
 *
 * @param {DataView} view
 * @param {number} start
 * @param {number} length
 * @param {boolean} isUtf8
 */
function nameOf(view, start, length, isUtf8) {
  if (start + length > view.byteLength) throw new RangeError();
  const bytes = new Uint8Array(view.buffer, start, length);
  try {
    return new TextDecoder("utf-8", { fatal: !isUtf8 }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}

/** The remainders of single bytes by the CRC's polynomial (ISO 3309, reflected). @type {Uint32Array | null} */
let remainders = null;

/** @param {Uint8Array} data  @returns {number} its CRC-32 */
function crc32(data) {
  remainders ??= Uint32Array.from({ length: 256 }, (_, byte) => {
    let value = byte;
    for (let bit = 0; bit < 8; bit += 1) value = value & 1 ? (value >>> 1) ^ 0xedb88320 : value >>> 1;
    return value;
  });
  let crc = -1;
  for (let index = 0; index < data.length; index += 1) {
    crc = (crc >>> 8) ^ /** @type {number} */ (remainders[(crc ^ /** @type {number} */ (data[index])) & 0xff]);
  }
  return (crc ^ -1) >>> 0;
}
