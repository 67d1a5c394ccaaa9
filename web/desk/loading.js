/**
 * Loads the runtime, telling bytes and steps as they come, and opens the package's desk or a packer.
 */

import { Parts } from "../runtime/parts.js";

/** @typedef {{step: "fetch" | "start" | "desk", bytes: number, total: number}} LoadingProgress */
/** @typedef {{kind: string, json: string, buffers: Uint8Array<ArrayBuffer>[]}} Step */
/** @typedef {{next: () => Step | null, close: () => void}} Steps */
/** @typedef {(bytes: number, total: number) => void} TellBytes */
/**
 * `need` fetches parts that a call turns out to need, such as the reader of a kind of file.
 *
 * @typedef {{start: (call: string, json: string, buffers: ArrayBuffer[], tell: TellBytes) => Promise<Steps>,
 *   need: (part: string, tell: TellBytes) => Promise<void>}} Python
 */

/** What a call needs could not be fetched; it may be asked again once the connection is back. */
export class Unfetched extends Error {}

const OPEN_DESK = `
from peekpaper.desk.desk import Desk as Answering
`;

const OPEN_PACKER = `
from peekpaper.desk.packing import Packer as Answering
`;

const ANSWER = `
from pyodide.ffi import to_js

_answering = Answering()

def _start(call, arguments, buffers):
    return _answering.steps(call, arguments, [buffer.to_bytes() for buffer in buffers])

def _next(steps):
    for step in steps:
        return to_js([step.kind, step.json, [to_js(data) for data in step.buffers]])
    return None
`;

/** Calls that need parts which others do without. @type {Record<string, readonly string[]>} */
const NEEDS = {
  prepare_sheets: ["dxf", "sheets"],
  sheets: ["dxf", "sheets"],
  qr: ["sheets"],
  words: ["lettering"],
  letter: ["lettering"],
  look_at_picture: ["pictures"],
  picture_in: ["pictures"],
  trace_picture: ["pictures"],
  find_scrap: ["pictures"],
  measure_scrap: ["pictures"],
};

/** A letter that Latin-1 does not hold: sheets that bear one are set in a typeface that is fetched for it. */
const BEYOND_LATIN_1 = /(?![\u0000-\u00ff])[\p{L}\p{M}]/u;

/** What of the start packing takes: the interpreter, these libraries and, without what else it needs, the package. */
const PACKING_LIBRARIES = ["numpy", "shapely"];
const PACKAGE = "peekpaper";

/**
 * @param {URL} folder  the runtime's folder
 * @param {(progress: LoadingProgress) => void} tell
 * @returns {Promise<Python>} with the package's desk
 */
export async function loadDesk(folder, tell) {
  const parts = await Parts.listed(folder);
  parts.begin("start", (bytes, total) => tell({ step: bytes < total ? "fetch" : "start", bytes, total }));
  const pyodide = await loadPyodide(folder, [PACKAGE]);
  if (parts.trouble) throw parts.trouble;
  tell({ step: "desk", bytes: 0, total: 0 });
  pyodide.runPython(OPEN_DESK + ANSWER);
  return answering(pyodide, parts);
}

/**
 * @param {URL} folder  the runtime's folder
 * @returns {Promise<Python>} with a packer
 */
export async function loadPacker(folder) {
  const parts = await Parts.listed(folder);
  const wanted = new Set([...PACKING_LIBRARIES, PACKAGE]);
  parts.begin("start", () => {}, ({ name, url }) => wanted.has(name) || !url.endsWith(".whl"));
  const pyodide = await loadPyodide(folder, PACKING_LIBRARIES);
  if (parts.trouble) throw parts.trouble;
  const wheel = await fetch(new URL(parts.urlOf(PACKAGE), folder));
  pyodide.unpackArchive(await wheel.arrayBuffer(), "whl");
  pyodide.runPython(OPEN_PACKER + ANSWER);
  return answering(pyodide, parts);
}

/**
 * @param {URL} folder
 * @param {readonly string[]} packages
 * @returns {Promise<any>}
 */
async function loadPyodide(folder, packages) {
  const runtime = await import(new URL("pyodide.mjs", folder).href);
  return runtime.loadPyodide({
    indexURL: folder.href,
    packages,
    stdout: () => {},
    stderr: (/** @type {string} */ line) => console.warn(line),
  });
}

/**
 * @param {any} pyodide
 * @param {Parts} parts
 * @returns {Python}
 */
function answering(pyodide, parts) {
  const begin = pyodide.globals.get("_start");
  const advance = pyodide.globals.get("_next");
  /** @type {Map<string, {done: Promise<void>, tells: Set<TellBytes>, last: [number, number]}>} */
  const loaded = new Map();
  const load = async (/** @type {string[]} */ names) => {
    /** @type {string[]} */
    const troubles = [];
    await pyodide.loadPackage(names, {
      messageCallback: () => {},
      errorCallback: (/** @type {string} */ trouble) => void troubles.push(trouble),
    });
    const missing = names.filter((name) => !(name in pyodide.loadedPackages));
    if (missing.length > 0) throw new Error(troubles.join(" ") || missing.join(", "));
  };
  const need = async (/** @type {string} */ group, /** @type {TellBytes} */ tell) => {
    if (!loaded.has(group)) {
      /** @type {Set<TellBytes>} */
      const tells = new Set();
      /** @type {[number, number]} */
      const last = [0, 0];
      const whole = parts.begin(group, (bytes, total) => {
        last.splice(0, 2, bytes, total);
        for (const each of tells) each(bytes, total);
      });
      last.splice(0, 2, 0, whole);
      loaded.set(group, { done: load(parts.packages(group)), tells, last });
    }
    const loading = loaded.get(group);
    loading?.tells.add(tell);
    // Whoever comes while the last part is under way hears how far it is, too.
    if (loading && loading.last[0] < loading.last[1]) tell(...loading.last);
    try {
      await loading?.done;
    } catch (error) {
      loaded.delete(group);
      throw new Unfetched(String(error));
    } finally {
      loading?.tells.delete(tell);
    }
  };
  /** Fetches several parts side by side, and tells how far they are together. */
  const needAll = async (/** @type {readonly string[]} */ groups, /** @type {TellBytes} */ tell) => {
    const together = () => {
      tell(...sumOf(groups.map((group) => loaded.get(group)?.last ?? [0, 0])));
    };
    await Promise.all(groups.map((group) => need(group, together)));
  };
  return {
    need,
    async start(call, json, buffers, tell) {
      await needAll(NEEDS[call] ?? [], tell);
      // Without it the sheets come all the same, with such letters romanised.
      if (call === "sheets" && BEYOND_LATIN_1.test(json)) await need("letters", tell).catch(() => {});
      const steps = begin(call, json, buffers);
      return {
        next() {
          const step = advance(steps);
          if (step) return { kind: step[0], json: step[1], buffers: step[2] };
          steps.destroy();
          return null;
        },
        close() {
          steps.close();
          steps.destroy();
        },
      };
    },
  };
}

/** @param {[number, number][]} pairs @returns {[number, number]} */
function sumOf(pairs) {
  return pairs.reduce(([bytes, total], [more, most]) => [bytes + more, total + most], [0, 0]);
}
