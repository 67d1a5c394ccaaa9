import { sayAlive } from "./life-line.js";
import { Unfetched } from "./loading.js";

/** @typedef {import("./loading.js").Python} Python */
/** @typedef {import("./loading.js").Steps} Steps */

/**
 * What a worker that holds Python does: answers the page's calls one step at a time, with a turn of the event loop
 * between steps so that a call can be stopped.
 *
 * In: `{id, call, arguments, buffers}` and `{id, cancel: true}`.
 * Out: `{kind: "alive", lock}`, `{kind: "ready"}`, `{kind: "broken", message}`,
 * `{kind: "crashed", by, message}` when Python itself ended in the call `by`, and for each call
 * `{id, kind: "progress" | "result" | "refusal" | "unknown-source" | "cancelled" | "unfetched" | "fault", json, buffers}`;
 * a progress of `{fetched: {bytes, total}}` tells of parts that the call alone needs. Python's step `needs` asks for
 * such a part before it goes on.
 *
 * @param {Promise<Python>} python
 */
export function answerCalls(python) {
  sayAlive((lock) => postMessage({ kind: "alive", lock }));
  python.then(
    () => postMessage({ kind: "ready" }),
    (error) => postMessage({ kind: "broken", message: String(error?.message ?? error) }),
  );
  addEventListener("message", ({ data }) => {
    if (data.cancel) cancel(data.id);
    else void answer(python, data.id, data.call, data.arguments, data.buffers);
  });
}

/** @type {Map<number, Steps | null>} */
const running = new Map();

const turns = new MessageChannel();

/** What a person stands waiting for; all else that is under way rests meanwhile. */
const AWAITED = new Set(["open", "open_link", "keep_source", "edit", "openings_in", "page_sizes", "start_page", "place_piece", "place_trim"]);

/** Awaited calls under way. @type {Set<number>} */
const awaited = new Set();

/** @type {{id: number, go: () => void}[]} */
const waiting = [];
turns.port1.onmessage = () => {
  const next = waiting.findIndex(({ id }) => awaited.size === 0 || awaited.has(id));
  if (next >= 0) waiting.splice(next, 1)[0]?.go();
};

/** @param {number} id  @returns {Promise<void>} resolves after other messages, and awaited calls, had their turn */
function turn(id) {
  return new Promise((go) => {
    waiting.push({ id, go });
    turns.port2.postMessage(null);
  });
}

/** Lets the others go on, each by the turn that it waits for. @param {number} id  of a call that has ended */
function giveWay(id) {
  if (!awaited.delete(id) || awaited.size > 0) return;
  for (const _ of waiting) turns.port2.postMessage(null);
}

/**
 * @param {Promise<Python>} python
 * @param {number} id
 * @param {string} call
 * @param {unknown} args
 * @param {ArrayBuffer[]} buffers
 */
async function answer(python, id, call, args, buffers) {
  running.set(id, null);
  if (AWAITED.has(call)) awaited.add(id);
  try {
    const { start, need } = await python;
    if (!running.has(id)) return;
    const tell = (/** @type {number} */ bytes, /** @type {number} */ total) =>
      postMessage({ id, kind: "progress", json: JSON.stringify({ fetched: { bytes, total } }), buffers: [] });
    const steps = await start(call, JSON.stringify(args), buffers, tell);
    if (!running.has(id)) {
      steps.close();
      return;
    }
    running.set(id, steps);
    for (;;) {
      const step = steps.next();
      if (step === null) break;
      if (step.kind === "needs") {
        await need(JSON.parse(step.json).part, tell);
        if (!running.has(id)) return;
        continue;
      }
      if (step.kind !== "breath") {
        postMessage(
          { id, ...step },
          { transfer: step.buffers.map((buffer) => buffer.buffer) },
        );
      }
      await turn(id);
      if (!running.has(id)) return;
    }
  } catch (error) {
    if (error instanceof Unfetched) {
      postMessage({ id, kind: "unfetched", json: JSON.stringify({ message: error.message }), buffers: [] });
    } else if (isPythonError(error)) {
      postMessage({ id, kind: "fault", json: JSON.stringify({ message: String(error) }), buffers: [] });
    } else postMessage({ kind: "crashed", by: id, message: String(error) });
  } finally {
    running.delete(id);
    giveWay(id);
  }
}

/**
 * Whether Python raised this itself and lives on; anything else ended Python. Where memory ran out Python lives
 * on, too, but keeps all that it took: it is better started anew.
 *
 * @param {unknown} error
 */
function isPythonError(error) {
  const { name, type } = /** @type {{name?: string, type?: string}} */ (error);
  return name === "PythonError" && type !== "MemoryError";
}

/** @param {number} id */
function cancel(id) {
  running.get(id)?.close();
  running.delete(id);
  giveWay(id);
  postMessage({ id, kind: "cancelled", json: "{}", buffers: [] });
}
