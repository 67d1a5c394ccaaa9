import { icon, make } from "../dom.js";
import { say } from "../../words/words.js";

/**
 * A button that asks for a file, or for several.
 *
 * @param {string} picture  a symbol of icons.svg
 * @param {import("../../words/words.js").Key} key  of its name, and of what help tells of it
 * @param {{accept: string, capture?: string, multiple?: boolean}} kind
 * @param {(file: File, all: File[]) => void} take
 */
export function fileButton(picture, key, { accept, capture, multiple = false }, take) {
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
    { help: key, type: "button", class: "button", onclick: () => input.click() },
    icon(picture),
    make("span", {}, say(key)),
  );
  return make("span", { class: "file-button" }, button, input);
}
