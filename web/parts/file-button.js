import { icon, make } from "./dom.js";

/**
 * A button that asks for a file.
 *
 * @param {string} picture  a symbol of icons.svg
 * @param {string} name
 * @param {{accept: string, capture?: string}} kind
 * @param {(file: File) => void} take
 */
export function fileButton(picture, name, { accept, capture }, take) {
  const input = make("input", {
    type: "file",
    class: "unseen",
    accept,
    capture,
    tabindex: "-1",
    "aria-hidden": "true",
    onchange: () => {
      const file = input.files?.[0];
      input.value = "";
      if (file) take(file);
    },
  });
  const button = make(
    "button",
    { type: "button", class: "button", onclick: () => input.click() },
    icon(picture),
    make("span", {}, name),
  );
  return make("span", { class: "file-button" }, button, input);
}
