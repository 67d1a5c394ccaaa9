/** @typedef {import("./archive.js").Archive} Archive */
/** @typedef {import("./store.js").Store} Store */

const DELAY_MS = 150;
const VERSION_MS = 5 * 60 * 1000;

/**
 * Saves the open project in this browser on every change, and a version of it now and then.
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
    /** @type {Blob | null} */
    this.picture = null;
    this.lastVersion = -Infinity;
    store.addEventListener("change", (event) => {
      if (/** @type {CustomEvent} */ (event).detail.opened) this.lastVersion = -Infinity;
      this.#saveSoon();
    });
    bench.addEventListener("backing", () => this.#saveSoon());
    addEventListener("pagehide", () => void this.save());
    addEventListener("visibilitychange", () => document.hidden && void this.save());
  }

  #saveSoon() {
    clearTimeout(this.timer);
    this.timer = setTimeout(async () => {
      this.picture = await this.thumbnail().catch(() => null);
      await this.save();
    }, DELAY_MS);
  }

  /** Saves the project as it is, at once. */
  async save() {
    clearTimeout(this.timer);
    const { course } = this.store;
    if (!course) return;
    const { id, name } = course.document;
    const saved = Date.now();
    const { picture: thumbnail, bench } = this;
    try {
      await this.archive.save({ id, name, saved, thumbnail, course, views: bench.views });
      if (saved - this.lastVersion > VERSION_MS) {
        this.lastVersion = saved;
        await this.archive.keepVersion(course.document);
      }
      this.dispatchEvent(new Event("saved"));
    } catch (error) {
      this.dispatchEvent(new CustomEvent("failed", { detail: error }));
    }
  }
}
