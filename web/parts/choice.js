import { icon, make } from "./dom.js";
import { say } from "../words/words.js";

/**
 * @template {string} Value
 * @typedef {{value: Value, text: string, about?: string, colour?: string, icon?: string, help?: string}} Option
 *   `icon` is what is seen in place of the text; `help` is the key of what help tells of it, where it tells no more of
 *   the whole choice
 */

let count = 0;

/**
 * One of a few, side by side.
 *
 * @template {string} Value
 */
export class Choice {
  /**
   * @param {import("../words/words.js").Key | null} key  of what is chosen, shown before the choices, and of what help
   *   tells of it; null where the choices speak for themselves
   * @param {(value: Value) => void} choose
   */
  constructor(key, choose) {
    this.group = `choice-${++count}`;
    this.choose = choose;
    /** @type {Map<Value, HTMLInputElement>} */
    this.inputs = new Map();
    /** @type {readonly Option<Value>[]} */
    this.options = [];
    this.row = make("div", { class: "choice-row" });
    this.element = make("fieldset", { help: key, class: "choice" }, make("legend", {}, key && say(key)), this.row);
  }

  /**
   * @param {readonly Option<Value>[]} options
   * @param {Value | null} chosen
   */
  show(options, chosen) {
    const before = this.options;
    const same =
      options.length === before.length &&
      options.every(({ value, text, about, colour }, at) => {
        const old = before[at];
        return old && value === old.value && text === old.text && about === old.about && colour === old.colour;
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
      ...options.map(({ value, text, about, colour, icon: symbol, help }) => {
        const input = make("input", {
          type: "radio",
          class: "unseen",
          name: this.group,
          onchange: () => this.choose(value),
        });
        this.inputs.set(value, input);
        return make(
          "label",
          { help, class: "choice-option", title: symbol ? text : null },
          input,
          make(
            "span",
            {},
            colour ? patch(colour) : null,
            symbol ? icon(symbol) : null,
            symbol ? make("b", { class: "unseen" }, text) : text,
            about ? make("small", {}, about) : null,
          ),
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
