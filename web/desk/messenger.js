import { Cancelled, Refusal, Unfetched } from "../words/refusal.js";
import { waitForEnd } from "./life-line.js";

/** @typedef {{result: any, buffers: Uint8Array[]}} Answer */
/** @typedef {{buffers?: ArrayBuffer[], progress?: (value: any) => void, signal?: AbortSignal}} Options */
/** @typedef {{call: string, args: unknown, buffers: ArrayBuffer[], id: number, tries: number,
 *   progress: (value: any) => void, resolve: (answer: Answer) => void, reject: (error: Error) => void}} Request */

/** Something broke that should not break. */
export class Fault extends Error {}

/** Python was not handed the design file that the call names. */
export class UnknownSource extends Fault {}

const MOST_TRIES = 2;

/**
 * Matches requests to the worker's replies, carries progress and cancels, and starts the worker anew after a
 * crash, replaying what `prologue` holds and what was still unanswered.
 *
 * Events: "loading" (detail: the loading progress), "ready", "broken" (detail: message), "restarted".
 */
export class Messenger extends EventTarget {
  /** @param {() => Worker} makeWorker */
  constructor(makeWorker) {
    super();
    this.makeWorker = makeWorker;
    this.ready = false;
    /** Python could not be loaded; `restart` tries again. */
    this.isBroken = false;
    /** Whether Python was ever ready; what it had computed is gone where it starts anew. */
    this.hadStarted = false;
    this.lastId = 0;
    /** @type {Map<number, Request>} */
    this.requests = new Map();
    /** Calls that a new worker must hear before any other, such as the sources in use. @type {Map<string, () => [string, unknown]>} */
    this.prologue = new Map();
    /** @type {Worker | null} */
    this.worker = null;
    /** Aborted when this page itself ends the worker. */
    this.life = new AbortController();
  }

  start() {
    this.ready = false;
    this.isBroken = false;
    const worker = this.makeWorker();
    this.worker = worker;
    this.life = new AbortController();
    worker.onmessage = ({ data }) => this.#hear(data);
    worker.onerror = (event) => {
      event.preventDefault();
      this.#crashed(event.message || "the worker stopped");
    };
    for (const make of this.prologue.values()) {
      const [call, args] = make();
      worker.postMessage({ id: ++this.lastId, call, arguments: args, buffers: [] });
    }
    for (const request of this.requests.values()) this.#send(request);
  }

  /** Stops the worker for good; what is still unanswered fails. */
  end() {
    this.life.abort();
    this.worker?.terminate();
    this.worker = null;
    for (const { call, reject } of this.requests.values()) reject(new Fault(`${call}: the worker was ended`));
    this.requests.clear();
  }

  /** Stops the worker and starts another; calls under way are asked again. */
  restart() {
    this.life.abort();
    this.worker?.terminate();
    if (this.hadStarted) this.dispatchEvent(new Event("restarted"));
    this.start();
  }

  /**
   * @param {string} call
   * @param {unknown} args
   * @param {Options} [options]
   * @returns {Promise<Answer>} rejects with Refusal, Cancelled or Fault
   */
  ask(call, args, { buffers = [], progress = () => {}, signal } = {}) {
    if (signal?.aborted) return Promise.reject(new Cancelled());
    const id = ++this.lastId;
    return new Promise((resolve, reject) => {
      /** @type {Request} */
      const request = { call, args, buffers, id, tries: 0, progress, resolve, reject };
      this.requests.set(id, request);
      signal?.addEventListener("abort", () => this.#cancel(id), { once: true });
      if (this.worker) this.#send(request);
    });
  }

  /** @param {Request} request */
  #send(request) {
    request.tries += 1;
    const { id, call, args, buffers } = request;
    this.worker?.postMessage({ id, call, arguments: args, buffers });
  }

  /** @param {number} id */
  #cancel(id) {
    const request = this.requests.get(id);
    if (!request) return;
    this.requests.delete(id);
    this.worker?.postMessage({ id, cancel: true });
    request.reject(new Cancelled());
  }

  /** @param {any} message */
  #hear(message) {
    if (message.id === undefined) {
      if (message.kind === "crashed") {
        this.#crashed(message.message, message.by);
        return;
      }
      if (message.kind === "alive") {
        waitForEnd(message.lock, this.life.signal, () => this.#crashed("the browser ended the worker"));
        return;
      }
      // What still arrives of a load that failed, or is over, must not hide that.
      if (message.kind === "loading" && (this.isBroken || this.ready)) return;
      if (message.kind === "ready") this.ready = this.hadStarted = true;
      if (message.kind === "broken") this.isBroken = true;
      this.dispatchEvent(new CustomEvent(message.kind, { detail: message }));
      return;
    }
    const request = this.requests.get(message.id);
    if (!request) return;
    const value = JSON.parse(message.json);
    if (message.kind === "progress") {
      request.progress(value);
      return;
    }
    this.requests.delete(message.id);
    if (message.kind === "result") request.resolve({ result: value, buffers: message.buffers });
    else if (message.kind === "refusal") request.reject(new Refusal(value.message));
    else if (message.kind === "unfetched") request.reject(new Unfetched(value.message));
    else if (message.kind === "unknown-source") request.reject(new UnknownSource(value.message));
    else request.reject(new Fault(`${request.call}: ${value.message}`));
  }

  /**
   * @param {string} reason
   * @param {number} [by]  the call that brought it about, where that is known
   */
  #crashed(reason, by) {
    const hadWorked = this.ready;
    for (const request of [...this.requests.values()]) {
      if (request.tries < MOST_TRIES || (by !== undefined && request.id !== by)) continue;
      this.requests.delete(request.id);
      request.reject(new Fault(`${request.call}: ${reason}`));
    }
    if (hadWorked) this.restart();
    else this.#hear({ kind: "broken", message: reason });
  }
}
