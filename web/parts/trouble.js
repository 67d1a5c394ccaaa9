import { Refusal, Unfetched } from "../words/refusal.js";
import { sentenceOf } from "../words/sentence.js";
import { say } from "../words/words.js";
import { make } from "./dom.js";

/** What each element tells of, so that a fold that the person opened stays open. @type {WeakMap<HTMLElement, unknown[]>} */
const told = new WeakMap();

/**
 * Tells in an element what went wrong, in a sentence; what only helps whoever mends it is folded away, to be copied.
 *
 * @param {HTMLElement} element
 * @param {unknown} error  null where nothing did
 * @param {string} [unit]  in which its lengths are told
 */
export function showTrouble(element, error, unit = "mm") {
  const before = told.get(element) ?? [null];
  if (before[0] === error && (error === null || before[1] === unit)) return;
  told.set(element, [error, unit]);
  element.replaceChildren(...(error === null ? [] : troubleOf(error, unit)));
}

/**
 * @param {unknown} error
 * @param {string} [unit]
 * @returns {(string | HTMLElement)[]} its sentence and, where it is our fault, a fold with the details
 */
export function troubleOf(error, unit = "mm") {
  const sentence = sentenceOf(error, unit);
  if (error instanceof Refusal || error instanceof Unfetched) return [sentence];
  console.error(error);
  const text = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  const said = make("span", { role: "status" });
  const copy = async () => {
    await navigator.clipboard.writeText(text).catch(() => getSelection()?.selectAllChildren(details));
    said.textContent = say("fault.copied");
  };
  const details = make("pre", { class: "fault-text", tabindex: "0" }, text);
  return [
    sentence,
    make(
      "details",
      { class: "fold fault" },
      make("summary", {}, say("fault.details")),
      details,
      make("button", { type: "button", class: "button", onclick: () => void copy() }, say("fault.copy")),
      said,
    ),
  ];
}
