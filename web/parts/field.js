import { make } from "./dom.js";
import { say } from "../words/words.js";

let count = 0;

/**
 * An input with its name before it.
 *
 * @param {import("../words/words.js").Key} key  of its name, and of what help tells of it
 * @param {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement} input
 * @param {string} [about]
 */
export function field(key, input, about) {
  input.id ||= `field-${++count}`;
  return make(
    "div",
    { help: key, class: "field" },
    make("label", { for: input.id }, say(key)),
    input,
    about ? make("small", { class: "soft" }, about) : null,
  );
}
