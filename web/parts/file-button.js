import { icon, make } from "./dom.js";

/**
 * A button that asks for a file, or for several.
 *
 * @param {string} picture  a symbol of icons.svg
 * @param {string} name
 * @param {{accept: string, capture?: string, multiple?: boolean}} kind
 * @param {(file: File, all: File[]) => void} take
 */
export function fileButton(picture, name, { accept, capture, multiple = false }, take) {
  const input = make("input", {
    type: "file",
    class: "unseen",
    accept,
    capture,
    multiple,
    tabindex: "-1",
    "aria-hidden": "true",
    onchange: () => {
      const files = [...(input.files ?? [])];
      input.value = "";
      if (files[0]) take(files[0], files);
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
