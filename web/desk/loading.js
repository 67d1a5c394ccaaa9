/**
 * Loads the runtime in parallel, telling bytes and steps as they come, and opens the package's desk.
 *
 * `parts.json` in the runtime's folder lists what there is to load: name, URL, bytes, and when it is needed.
 */

/** @typedef {{step: "fetch" | "start" | "desk", bytes: number, total: number}} LoadingProgress */
/** @typedef {{kind: string, json: string, buffers: Uint8Array<ArrayBuffer>[]}} Step */
/** @typedef {{next: () => Step | null, close: () => void}} Steps */
/** @typedef {{start: (call: string, json: string, buffers: ArrayBuffer[]) => Promise<Steps>}} Python */
/** @typedef {{name: string, url: string, bytes: number, when: string}} Part */

const OPEN_DESK = `
from peekpaper.desk.desk import Desk
from pyodide.ffi import to_js

_desk = Desk()

def _start(call, arguments, buffers):
    return _desk.steps(call, arguments, [buffer.to_bytes() for buffer in buffers])

def _next(steps):
    for step in steps:
        return to_js([step.kind, step.json, [to_js(data) for data in step.buffers]])
    return None
`;

/** Calls that need packages which others do without. @type {Record<string, string>} */
const NEEDS = { sheets: "sheets", qr: "sheets" };

/**
 * @param {URL} folder  the runtime's folder
 * @param {(progress: LoadingProgress) => void} tell
 * @returns {Promise<Python>}
 */
export async function loadPython(folder, tell) {
  const answer = await fetch(new URL("parts.json", folder));
  if (!answer.ok) throw new Error(`parts.json: ${answer.status}`);
  /** @type {Part[]} */
  const parts = (await answer.json()).parts;
  await fetchParts(folder, parts.filter(({ when }) => when === "start"), tell);
  const { loadPyodide } = await import(new URL("pyodide.mjs", folder).href);
  const pyodide = await loadPyodide({
    indexURL: folder.href,
    packages: ["peekpaper"],
    stdout: () => {},
    stderr: (/** @type {string} */ line) => console.warn(line),
  });
  tell({ step: "desk", bytes: 0, total: 0 });
  pyodide.runPython(OPEN_DESK);
  return desk(pyodide, parts);
}

/**
 * Fetches parts side by side, counting, and has `fetch` answer with them when Python asks: once each.
 *
 * @param {URL} folder
 * @param {Part[]} parts
 * @param {(progress: LoadingProgress) => void} tell
 */
async function fetchParts(folder, parts, tell) {
  const total = parts.reduce((sum, { bytes }) => sum + bytes, 0);
  let bytes = 0;
  const came = (/** @type {number} */ more) => {
    bytes += more;
    tell({ step: bytes < total ? "fetch" : "start", bytes, total });
  };
  came(0);
  /** @type {Map<string, Response>} */
  const ready = new Map();
  const fetchAnew = globalThis.fetch;
  await Promise.all(
    parts.map(async (part) => {
      const url = new URL(part.url, folder).href;
      if (url.endsWith(".mjs")) {
        await import(url);
        came(part.bytes);
      } else ready.set(url, await counted(url, came));
    }),
  );
  globalThis.fetch = (input, init) => {
    const url = new URL(input instanceof Request ? input.url : input, folder).href;
    const response = ready.get(url);
    ready.delete(url);
    return response ? Promise.resolve(response) : fetchAnew(input, init);
  };
}

/**
 * @param {string} url
 * @param {(bytes: number) => void} came
 * @returns {Promise<Response>} the whole answer, already here
 */
async function counted(url, came) {
  const answer = await fetch(url);
  if (!answer.ok || !answer.body) throw new Error(`${url.split("/").at(-1)}: ${answer.status}`);
  const reader = answer.body.getReader();
  /** @type {Uint8Array<ArrayBuffer>[]} */
  const chunks = [];
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    chunks.push(value);
    came(value.byteLength);
  }
  const type = answer.headers.get("Content-Type") ?? "application/octet-stream";
  return new Response(new Blob(chunks), {
    headers: { "Content-Type": url.endsWith(".wasm") ? "application/wasm" : type },
  });
}

/**
 * @param {any} pyodide
 * @param {Part[]} parts
 * @returns {Python}
 */
function desk(pyodide, parts) {
  const begin = pyodide.globals.get("_start");
  const advance = pyodide.globals.get("_next");
  /** @type {Map<string, Promise<void>>} */
  const loaded = new Map();
  return {
    async start(call, json, buffers) {
      const group = NEEDS[call];
      if (group && !loaded.has(group)) {
        const names = parts.filter(({ when }) => when === group).map(({ name }) => name);
        loaded.set(group, pyodide.loadPackage(names, { messageCallback: () => {} }));
      }
      await loaded.get(group ?? "");
      const steps = begin(call, json, buffers);
      return {
        next() {
          const step = advance(steps);
          return step ? { kind: step[0], json: step[1], buffers: step[2] } : null;
        },
        close() {
          steps.close();
          steps.destroy();
        },
      };
    },
  };
}
