import { make } from "./dom.js";

let count = 0;

/**
 * An input with its name before it.
 *
 * @param {string} name
 * @param {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement} input
 * @param {string} [about]
 */
export function field(name, input, about) {
  input.id ||= `field-${++count}`;
  return make(
    "div",
    { class: "field" },
    make("label", { for: input.id }, name),
    input,
    about ? make("small", { class: "soft" }, about) : null,
  );
}
