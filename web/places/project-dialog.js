import { Dialog } from "../parts/dialog.js";

/** A dialog about the open project: it closes where another is opened. */
export class ProjectDialog extends Dialog {
  /**
   * @param {import("./workroom.js").Workroom} room
   * @param {string} title
   * @param {{kind?: string}} [options]
   */
  constructor({ store }, title, options) {
    super(title, options);
    const closed = new AbortController();
    const follow = (/** @type {Event} */ event) => {
      const { step } = /** @type {CustomEvent<import("../project/store.js").Change>} */ (event).detail;
      if (!step) this.close();
    };
    store.addEventListener("change", follow, { signal: closed.signal });
    this.element.addEventListener("close", () => closed.abort());
  }

  /** Whether it is still there for the person to answer. */
  get isOpen() {
    return this.element.open;
  }
}
