import { make } from "../parts/dom.js";
import { writeAbout } from "../words/lengths.js";
import { say } from "../words/words.js";
import { STURDY } from "../stage/layers/strength-layer.js";

/** What the colours of the strength picture mean. */
export class StrengthKey {
  constructor() {
    this.words = make("div", { class: "strength-words soft" });
    this.element = make("div", { class: "strength-key" }, make("div", { class: "strength-scale", "aria-hidden": "true" }), this.words);
  }

  /**
   * @param {boolean} shown
   * @param {number} limit  mm under which a bar is thin
   * @param {string} unit
   */
  show(shown, limit, unit) {
    this.element.hidden = !shown;
    this.words.replaceChildren(
      make("span", {}, say("design.key-thin", { width: writeAbout([limit], unit) })),
      make("span", {}, say("design.key-sturdy", { width: writeAbout([STURDY * limit], unit) })),
    );
  }
}
