import { make, write } from "./dom.js";

/** What one sets only sometimes, folded away; the fold's line tells how it is set now. */
export class Fold {
  /**
   * @param {string} name
   * @param {...HTMLElement} children
   */
  constructor(name, ...children) {
    this.value = make("span", { class: "fold-value" });
    this.element = make(
      "details",
      // What was folded away below the edge of the panel comes into sight.
      { class: "fold depth", ontoggle: () => this.element.open && this.element.scrollIntoView({ block: "nearest" }) },
      make("summary", { help: "kind-depth" }, make("span", {}, name), this.value),
      make("div", { class: "stack" }, ...children),
    );
  }

  /** @param {string} value  how it is set, in a word or figure */
  show(value) {
    write(this.value, value);
  }
}
