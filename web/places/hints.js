import { recall, remember } from "../basics/memory.js";
import { say } from "../words/words.js";

/** @typedef {import("../words/words.js").Key} Key */

const KEPT = "peekpaper-hints";
/** Who has done a thing so often needs no word of it any more. */
const LEARNT = 3;

/** What is written on the table of what hands do; each sentence goes once it was done a few times. */
export class Hints {
  constructor() {
    /** How often each was done. @type {Map<string, number>} */
    this.done = new Map(read());
  }

  /**
   * @param {Key} key
   * @param {Record<string, unknown>} [figures]
   * @returns {string} empty once it is learnt
   */
  of(key, figures = {}) {
    return (this.done.get(key) ?? 0) < LEARNT ? say(/** @type {any} */ (key), /** @type {any} */ (figures)) : "";
  }

  /** Notes that what a sentence tells was done. @param {Key} key */
  did(key) {
    const times = this.done.get(key) ?? 0;
    if (times >= LEARNT) return;
    this.done.set(key, times + 1);
    remember(KEPT, JSON.stringify([...this.done]));
  }
}

/** @returns {[string, number][]} */
function read() {
  try {
    const kept = JSON.parse(recall(KEPT) ?? "[]");
    return Array.isArray(kept) ? kept.filter((each) => Array.isArray(each) && typeof each[1] === "number") : [];
  } catch {
    return [];
  }
}
