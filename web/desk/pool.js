import { Fault, Messenger } from "./messenger.js";

/** More workers than that would rather heat a device than help. */
const MOST_WORKERS = 6;
/** Where the device does not tell its memory: some browsers that keep that to themselves end heavy pages. */
const FEW_WORKERS = 2;
/** What a worker takes with Python, its libraries and the demo's papers (measured in Chromium). */
const WORKER_MB = 120;
/** All workers together take no more of the device's memory than that. */
const MOST_OF_MEMORY = 1 / 8;
/** Workers that nobody asks anything of give their memory back. */
const IDLE_MS = 60_000;

/**
 * How many workers pack beside the one that answers all other calls; none where there is but one core.
 *
 * @param {{hardwareConcurrency?: number, deviceMemory?: number}} device
 * @returns {number}
 */
export function poolSize({ hardwareConcurrency = 1, deviceMemory }) {
  if (hardwareConcurrency < 2) return 0;
  const room = deviceMemory ? Math.max(1, Math.floor((deviceMemory * 1000 * MOST_OF_MEMORY) / WORKER_MB)) : FEW_WORKERS;
  return Math.min(hardwareConcurrency, room, MOST_WORKERS);
}

/** The workers that pack papers: started when packing is near, ended once it is long over. */
export class Pool {
  /**
   * @param {() => Worker} makeWorker
   * @param {number} size  how many workers there may be
   */
  constructor(makeWorker, size) {
    this.makeWorker = makeWorker;
    /** None where they could not be started: then packing is left to the one that answers all. */
    this.size = size;
    /** @type {Messenger[]} */
    this.workers = [];
    this.asked = 0;
    this.idle = 0;
  }

  /**
   * Starts workers unless they are; they end by themselves where nothing is asked of them.
   *
   * @param {number} wanted  there is work for no more of them
   */
  wake(wanted) {
    while (this.workers.length < Math.min(wanted, this.size)) {
      const worker = new Messenger(this.makeWorker);
      worker.addEventListener("broken", () => this.#giveUp());
      this.workers.push(worker);
      worker.start();
    }
    this.#restIfIdle();
  }

  /**
   * Asks several at once, the first worker the first of them, and so on.
   *
   * @param {string} call
   * @param {readonly unknown[]} args  no more of them than there are workers
   * @param {(value: any) => void} progress  of each of them
   * @param {AbortSignal} signal
   * @returns {Promise<any[]>} rejects with Cancelled, or with Fault where a worker can't go on
   */
  async ask(call, args, progress, signal) {
    this.wake(args.length);
    if (this.workers.length < args.length) throw new Fault(`${call}: no workers`);
    this.asked += 1;
    clearTimeout(this.idle);
    const end = new AbortController();
    signal.addEventListener("abort", () => end.abort(), { once: true, signal: end.signal });
    if (signal.aborted) end.abort();
    try {
      const answers = args.map((each, at) => this.workers[at]?.ask(call, each, { progress, signal: end.signal }));
      return (await Promise.all(answers)).map((answer) => answer?.result);
    } finally {
      // Where one can't go on, nobody waits for the others.
      end.abort();
      this.asked -= 1;
      this.#restIfIdle();
    }
  }

  #restIfIdle() {
    clearTimeout(this.idle);
    if (this.asked === 0) this.idle = setTimeout(() => this.#end(), IDLE_MS);
  }

  #end() {
    for (const worker of this.workers) worker.end();
    this.workers = [];
  }

  #giveUp() {
    this.size = 0;
    this.#end();
  }
}
