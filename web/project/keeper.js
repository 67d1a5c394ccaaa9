import { isFull } from "./database.js";
import { sameDesign } from "./same.js";

/** @typedef {import("./archive.js").Archive} Archive */
/** @typedef {import("./archive.js").Views} Views */
/** @typedef {import("./course.js").Step} Step */
/** @typedef {import("./store.js").Store} Store */
/** @typedef {import("../desk/types.js").Project} Project */

/** A tap that follows must not wait for what is slow to save, such as the whole history and the thumbnail. */
const REST_MS = 1500;
/** How long a step may wait to be seen before it is kept. */
const LATEST_MS = 250;
const VERSION_MS = 5 * 60 * 1000;

/**
 * Saves the open project in this browser: each step once it is seen, all that belongs to it (history, thumbnail,
 * what was computed) when the hand rests, and a version of it now and then.
 *
 * Events: "saved" (the project as a whole), "step" (something the person did, alone), "failed" (the browser keeps nothing; detail: the error).
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
    /** Steps that are not handed over yet. @type {{project: string, step: Step}[]} */
    this.waiting = [];
    store.addEventListener("change", (event) => {
      const { step } = /** @type {CustomEvent<import("./store.js").Change>} */ (event).detail;
      if (step) this.#saveStep(step);
      else this.#begin();
      this.#saveSoon();
    });
    bench.addEventListener("backing", () => this.#saveSoon());
    addEventListener("pagehide", () => void this.save());
    addEventListener("visibilitychange", () => document.hidden && void this.save());
  }

  /** Another project is open: it is saved as a whole first. */
  #begin() {
    this.#handOver();
    this.lastVersion = -Infinity;
    this.picture = null;
    this.computed = null;
    this.isPaused = false;
    // Whoever opened it tells next what was computed of it; saved without that, it would come back bare.
    queueMicrotask(() => void this.save());
  }

  #saveSoon() {
    clearTimeout(this.timer);
    this.timer = setTimeout(async () => {
      this.picture = await this.thumbnail().catch(() => null);
      await this.save();
    }, REST_MS);
  }

  /**
   * Saves a step once the frame that shows it is drawn: opening the browser's database may hold up the page.
   *
   * @param {Step} step
   */
  #saveStep(step) {
    const { project } = this.store;
    if (!project || this.isPaused) return;
    // A step does not carry the design's file: where that is another, all is saved.
    if (project.source !== this.source) {
      void this.save();
      return;
    }
    this.waiting.push({ project: project.id, step });
    if (document.hidden) this.#handOver();
    else if (this.waiting.length === 1) {
      requestAnimationFrame(() => setTimeout(() => this.#handOver()));
      // A busy device may draw late.
      setTimeout(() => this.#handOver(), LATEST_MS);
    }
  }

  /** Hands the steps that wait to the browser's database. */
  #handOver() {
    const { waiting } = this;
    this.waiting = [];
    if (this.isPaused) return;
    for (const { project, step } of waiting) void this.#try(() => this.#hand(project, step));
  }

  /**
   * @param {string} project  its id
   * @param {Step} step
   */
  async #hand(project, step) {
    const stands = await this.archive.saveStep(project, step).catch((error) => {
      // The steps to come lead on from one that is not there: the whole is saved before them.
      this.source = null;
      throw error;
    });
    this.dispatchEvent(new Event("step"));
    if (!stands && this.store.project?.id === project) await this.save();
  }

  /**
   * Saves the project as it is, with all that belongs to it, at once.
   *
   * @returns {Promise<boolean>} whether all of it is kept
   */
  async save() {
    clearTimeout(this.timer);
    this.#handOver();
    const { course } = this.store;
    if (!course) return true;
    if (this.isPaused) return false;
    const { id, name, source } = course.document;
    const saved = Date.now();
    const { picture: thumbnail } = this;
    const views = this.#views(course.document);
    return this.#try(async () => {
      await this.#keep({ id, name, saved, thumbnail, course, views, plan: this.bench.keptPlan });
      this.source = source;
      if (saved - this.lastVersion > VERSION_MS) {
        this.lastVersion = saved;
        await this.archive.keepVersion(course.document);
      }
      this.dispatchEvent(new Event("saved"));
    });
  }

  /**
   * Where there is no room left, what can be computed again stays behind; the thumbnail also where a browser keeps no
   * pictures, as in private windows of WebKit.
   *
   * @param {import("./archive.js").Kept} kept
   */
  async #keep(kept) {
    try {
      await this.archive.save(kept);
    } catch (error) {
      const views = isFull(error) ? null : kept.views;
      if (views === kept.views && !kept.thumbnail) throw error;
      await this.archive.save({ ...kept, views, plan: views && kept.plan, thumbnail: null });
    }
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

  /** @param {() => Promise<void>} save  @returns {Promise<boolean>} whether it went well */
  async #try(save) {
    try {
      await save();
      return true;
    } catch (error) {
      this.dispatchEvent(new CustomEvent("failed", { detail: error }));
      return false;
    }
  }
}
