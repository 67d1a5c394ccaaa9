/** @typedef {import("../../desk/types.js").Design} Design */
/** @typedef {import("../../desk/types.js").Project} Project */

/** What was asked for first is answered first: questions of the page's own wait for the hand to rest. */
const REST_MS = 400;
/** What comes bit by bit is shown no oftener: each time costs the page some of its time. */
const TOLD_EVERY_MS = 200;

/**
 * Asks the package about each whole design once it has come to rest, and keeps the answer as long as it holds.
 *
 * @template Answer
 */
export class Asked {
  /**
   * @param {(project: Project, signal: AbortSignal, progress: (soFar: Answer) => void) => Promise<Answer>} ask
   * @param {(act: () => void) => void} onceReady
   * @param {() => void} heard
   * @param {(one: any, other: any) => boolean} [isSame]  whether what is asked about is still the same, but for null
   */
  constructor(ask, onceReady, heard, isSame = Object.is) {
    this.isSame = isSame;
    this.ask = ask;
    this.onceReady = onceReady;
    this.heard = heard;
    /** @type {Answer | null} */
    this.answer = null;
    /** @type {unknown} */
    this.about = undefined;
    /** Whether it was answered, or can't be. */
    this.isSettled = false;
    this.resting = 0;
    this.telling = 0;
    /** When it was told last. */
    this.told = -TOLD_EVERY_MS;
    this.asking = new AbortController();
  }

  /**
   * @param {unknown} about  the answer holds as long as this is the same; null while there is nothing to ask
   * @param {Project} project
   */
  follow(about, project) {
    const isAsked = about !== null && this.about !== null && this.about !== undefined;
    if (about === this.about || (isAsked && this.isSame(about, this.about))) return;
    this.#forget(about);
    if (about === null) return;
    this.asking = new AbortController();
    const { signal } = this.asking;
    this.onceReady(() => {
      if (!signal.aborted) this.resting = setTimeout(() => void this.#put(project, signal), REST_MS);
    });
  }

  /**
   * Takes an answer that was computed elsewhere.
   *
   * @param {unknown} about
   * @param {Answer} answer
   */
  take(about, answer) {
    this.#forget(about);
    this.answer = answer;
    this.isSettled = true;
  }

  /** @param {unknown} about  what is asked about next */
  #forget(about) {
    this.about = about;
    this.answer = null;
    this.isSettled = false;
    this.asking.abort();
    clearTimeout(this.resting);
    clearTimeout(this.telling);
    this.telling = 0;
    this.told = -TOLD_EVERY_MS;
  }

  /**
   * @param {Project} project
   * @param {AbortSignal} signal
   */
  async #put(project, signal) {
    try {
      const answer = await this.ask(project, signal, (soFar) => {
        if (signal.aborted) return;
        this.answer = soFar;
        const rest = this.told + TOLD_EVERY_MS - performance.now();
        if (rest <= 0) this.#tell();
        else this.telling ||= setTimeout(() => this.#tell(), rest);
      });
      if (!signal.aborted) this.answer = answer;
    } catch {
      // What can't be answered is not offered; a design that can't be made has said so itself.
    }
    if (signal.aborted) return;
    this.isSettled = true;
    this.#tell();
  }

  /** Tells what has come. */
  #tell() {
    clearTimeout(this.telling);
    this.telling = 0;
    this.told = performance.now();
    this.heard();
  }
}
