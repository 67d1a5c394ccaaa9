import { sameDesign } from "./same.js";

/** @typedef {import("./archive.js").Archive} Archive */
/** @typedef {import("./archive.js").Views} Views */
/** @typedef {import("./store.js").Store} Store */
/** @typedef {import("../desk/types.js").Project} Project */

/** A tap that follows must not wait for what is slow to save, such as the whole history and the thumbnail. */
const REST_MS = 1500;
const VERSION_MS = 5 * 60 * 1000;

/**
 * Saves the open project in this browser: each step at once, all that belongs to it (history, thumbnail, what was
 * computed) when the hand rests, and a version of it now and then.
 *
 * Events: "saved", "failed" (the browser keeps nothing; detail: the error).
 */
export class Keeper extends EventTarget {
  /**
   * @param {Store} store
   * @param {Archive} archive
   * @param {() => Promise<Blob | null>} thumbnail
   * @param {import("../desk/bench.js").Bench} bench
   */
  constructor(store, archive, thumbnail, bench) {
    super();
    this.store = store;
    this.archive = archive;
    this.thumbnail = thumbnail;
    this.bench = bench;
    this.timer = 0;
    /** Another tab has the project; this one keeps nothing. */
    this.isPaused = false;
    /** @type {Blob | null} */
    this.picture = null;
    /** The design's file that stands in the archive. @type {unknown} */
    this.source = null;
    /** What was computed last, and for which document. @type {{of: Project, views: Views} | null} */
    this.computed = null;
    this.lastVersion = -Infinity;
    store.addEventListener("change", (event) => {
      const { step } = /** @type {CustomEvent<import("./store.js").Change>} */ (event).detail;
      if (step) void this.#saveStep(step);
      else this.#begin();
      this.#saveSoon();
    });
    bench.addEventListener("backing", () => this.#saveSoon());
    addEventListener("pagehide", () => void this.save());
    addEventListener("visibilitychange", () => document.hidden && void this.save());
  }

  /** Another project is open: it is saved as a whole first. */
  #begin() {
    this.lastVersion = -Infinity;
    this.picture = null;
    this.computed = null;
    this.isPaused = false;
    void this.save();
  }

  #saveSoon() {
    clearTimeout(this.timer);
    this.timer = setTimeout(async () => {
      this.picture = await this.thumbnail().catch(() => null);
      await this.save();
    }, REST_MS);
  }

  /** @param {import("./course.js").Step} step */
  async #saveStep(step) {
    const { project } = this.store;
    if (!project || this.isPaused) return;
    // A step does not carry the design's file: where that is another, all is saved.
    if (project.source !== this.source) await this.save();
    else await this.#try(() => this.archive.saveStep(project.id, step));
  }

  /** Saves the project as it is, with all that belongs to it, at once. */
  async save() {
    clearTimeout(this.timer);
    const { course } = this.store;
    if (!course || this.isPaused) return;
    const { id, name, source } = course.document;
    const saved = Date.now();
    const { picture: thumbnail } = this;
    const views = this.#views(course.document);
    await this.#try(async () => {
      await this.archive.save({ id, name, saved, thumbnail, course, views });
      this.source = source;
      if (saved - this.lastVersion > VERSION_MS) {
        this.lastVersion = saved;
        await this.archive.keepVersion(course.document);
      }
    });
  }

  /**
   * What was computed for the document, or else for one with the same design: that can be shown until the rest is
   * computed anew.
   *
   * @param {Project} document
   */
  #views(document) {
    const { views } = this.bench;
    if (views) this.computed = { of: document, views };
    return this.computed && sameDesign(this.computed.of, document) ? this.computed.views : null;
  }

  /** @param {() => Promise<void>} save */
  async #try(save) {
    try {
      await save();
      this.dispatchEvent(new Event("saved"));
    } catch (error) {
      this.dispatchEvent(new CustomEvent("failed", { detail: error }));
    }
  }
}
