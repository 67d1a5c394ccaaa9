/** @typedef {import("./messenger.js").Messenger} Messenger */

/** As many as Python keeps; see `py/peekpaper/desk/context.py`. */
const MOST_SOURCES = 8;

/**
 * The design files that Python was handed, each once, and named by key from then on; Python started anew is handed
 * all of them again, since calls still unanswered may be about any.
 */
export class Sources {
  /** @param {Messenger} messenger */
  constructor(messenger) {
    this.messenger = messenger;
    /** By key, the one handed over first in front. @type {Map<string, string>} */
    this.kept = new Map();
    this.lastKey = 0;
  }

  /**
   * @param {string} svg
   * @returns {string} its key; hands it over where Python does not have it
   */
  keyOf(svg) {
    for (const [key, kept] of this.kept) if (kept === svg) return key;
    const key = `s${++this.lastKey}`;
    this.kept.set(key, svg);
    this.messenger.prologue.set(key, () => ["keep_source", { key, svg }]);
    for (const oldest of this.kept.keys()) {
      if (this.kept.size <= MOST_SOURCES) break;
      this.#leave(oldest);
    }
    this.messenger.ask("keep_source", { key, svg }).catch(() => {
      /* The call that needs the source fails in its turn, and says so. */
    });
    return key;
  }

  /**
   * Takes note that Python does not know a file after all: it is handed over anew, under another key.
   *
   * @param {string} svg
   */
  lose(svg) {
    for (const [key, kept] of this.kept) if (kept === svg) this.#leave(key);
  }

  /** @param {string} key */
  #leave(key) {
    this.kept.delete(key);
    this.messenger.prologue.delete(key);
  }
}
