import { make } from "./dom.js";

/**
 * @template {string} Value
 * @typedef {{value: Value, text: string, about?: string, colour?: string}} Option
 */

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
    /** @type {readonly Option<Value>[]} */
    this.options = [];
    this.row = make("div", { class: "choice-row" });
    this.element = make("fieldset", { class: "choice" }, make("legend", {}, name), this.row);
  }

  /**
   * @param {readonly Option<Value>[]} options
   * @param {Value | null} chosen
   */
  show(options, chosen) {
    const before = this.options;
    const same =
      options.length === before.length &&
      options.every(({ value, text, about }, at) => {
        const old = before[at];
        return old && value === old.value && text === old.text && about === old.about;
      });
    if (!same) this.#build(options);
    for (const [value, input] of this.inputs) input.checked = value === chosen;
  }

  /** @param {readonly Option<Value>[]} options */
  #build(options) {
    const held = [...this.inputs].find(([, input]) => input === document.activeElement)?.[0];
    this.options = options;
    this.inputs.clear();
    this.row.replaceChildren(
      ...options.map(({ value, text, about, colour }) => {
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
          make("span", {}, colour ? patch(colour) : null, text, about ? make("small", {}, about) : null),
        );
      }),
    );
    if (held !== undefined) this.inputs.get(held)?.focus();
  }
}

/** @param {string} colour  `#rrggbb` */
function patch(colour) {
  const shown = make("i", { class: "choice-colour", "aria-hidden": "true" });
  shown.style.background = colour;
  return shown;
}
