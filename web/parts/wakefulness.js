/** Keeps the screen from going dark while hands are full of glue, where the browser can. */
export class Wakefulness {
  constructor() {
    this.wanted = false;
    /** @type {Promise<WakeLockSentinel | null> | null} */
    this.lock = null;
    document.addEventListener("visibilitychange", () => {
      // The browser lets the lock go with the page; it is asked for again once the page is seen.
      this.lock = null;
      this.#keep();
    });
  }

  /** @param {boolean} wanted */
  want(wanted) {
    if (this.wanted === wanted) return;
    this.wanted = wanted;
    if (wanted) this.#keep();
    else {
      void this.lock?.then((lock) => lock?.release());
      this.lock = null;
    }
  }

  #keep() {
    if (!this.wanted || document.hidden || !("wakeLock" in navigator)) return;
    // Refused on a low battery, say; then the screen goes dark as ever.
    this.lock ??= navigator.wakeLock.request("screen").catch(() => null);
  }
}
