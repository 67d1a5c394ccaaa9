import { make } from "./dom.js";
import { say } from "../words/words.js";

/** Something that is on or off. */
export class Toggle {
  /**
   * @param {import("../words/words.js").Key} key  of its name, and of what help tells of it
   * @param {(on: boolean) => void} change
   * @param {Record<string, string | number>} [values]  that its name fills in
   */
  constructor(key, change, values = {}) {
    this.input = make("input", {
      type: "checkbox",
      role: "switch",
      onchange: () => change(this.input.checked),
    });
    this.element = make("label", { help: key, class: "toggle" }, make("span", {}, say(key, values)), this.input);
  }

  /** @param {boolean} on */
  show(on) {
    this.input.checked = on;
  }
}
