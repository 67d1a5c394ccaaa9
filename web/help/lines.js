import { isKey, say } from "../words/words.js";
import { pictureOf } from "./pictures.js";

/** @typedef {{name: string, line: string, picture: string}} Line  what a control is called and does, and its picture */

/** All that a hand can work with. */
export const CONTROLS =
  "button, a[href], select, input, textarea, summary, [role=tab], [role=listbox], label.choice-option, label.toggle, #stage";

/**
 * Finds the line about a control: by the key that it carries, or the nearest thing around it that has a line.
 *
 * @param {Element} control
 * @returns {Line | null} null where there is none
 */
export function lineOf(control) {
  for (let carrier = carrierAt(control); carrier; carrier = carrierAt(carrier.parentElement)) {
    const of = carrier.dataset["help"] ?? "";
    const key = `help.${of}`;
    if (isKey(key)) return { name: nameOf(control), line: say(key), picture: pictureOf(of, control) };
  }
  return null;
}

/** @param {Element | null} element  @returns {HTMLElement | null} */
function carrierAt(element) {
  return element?.closest("[data-help]") ?? null;
}

/**
 * What a control is called: as it tells its name, or what it shows first.
 *
 * @param {Element} control
 */
function nameOf(control) {
  const input = control instanceof HTMLLabelElement ? control.control : control;
  const label = input instanceof HTMLInputElement || input instanceof HTMLSelectElement || input instanceof HTMLTextAreaElement
    ? input.labels?.[0]
    : null;
  const shown = label ?? control;
  const names = [
    control.getAttribute("aria-label"),
    input?.getAttribute("aria-label"),
    shown.querySelector("strong, span:not(:empty)")?.textContent,
    shown.textContent,
  ];
  return names.map((name) => name?.trim()).find(Boolean) ?? "";
}
