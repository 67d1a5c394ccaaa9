import { make } from "./dom.js";

/** Something that is on or off. */
export class Toggle {
  /**
   * @param {string} name
   * @param {(on: boolean) => void} change
   */
  constructor(name, change) {
    this.input = make("input", {
      type: "checkbox",
      role: "switch",
      onchange: () => change(this.input.checked),
    });
    this.element = make("label", { class: "toggle" }, make("span", {}, name), this.input);
  }

  /** @param {boolean} on */
  show(on) {
    this.input.checked = on;
  }
}
