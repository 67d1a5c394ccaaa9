import { make } from "./dom.js";

let count = 0;

/**
 * One of a few, side by side.
 *
 * @template {string} Value
 */
export class Choice {
  /**
   * @param {string} name  what is chosen, shown before the choices
   * @param {(value: Value) => void} choose
   */
  constructor(name, choose) {
    this.group = `choice-${++count}`;
    this.choose = choose;
    /** @type {Map<Value, HTMLInputElement>} */
    this.inputs = new Map();
    this.row = make("div", { class: "choice-row" });
    this.element = make("fieldset", { class: "choice" }, make("legend", {}, name), this.row);
  }

  /**
   * @param {readonly {value: Value, text: string, about?: string}[]} options
   * @param {Value | null} chosen
   */
  show(options, chosen) {
    const same =
      options.length === this.inputs.size && options.every(({ value }) => this.inputs.has(value));
    if (!same) this.#build(options);
    for (const [value, input] of this.inputs) input.checked = value === chosen;
  }

  /** @param {readonly {value: Value, text: string, about?: string}[]} options */
  #build(options) {
    this.inputs.clear();
    this.row.replaceChildren(
      ...options.map(({ value, text, about }) => {
        const input = make("input", {
          type: "radio",
          class: "unseen",
          name: this.group,
          onchange: () => this.choose(value),
        });
        this.inputs.set(value, input);
        return make(
          "label",
          { class: "choice-option" },
          input,
          make("span", {}, text, about ? make("small", {}, about) : null),
        );
      }),
    );
  }
}
