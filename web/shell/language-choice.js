import { Choice } from "../parts/choice.js";
import { remember } from "../basics/memory.js";
import { LANGUAGE, languages, spoken } from "../words/words.js";

/**
 * Chooses the language, each told in its own. All that was said is said anew by loading the page again; until then
 * the choice shows the language that is spoken.
 *
 * @param {(go: () => void) => void} leave  calls `go` where the page may be loaded again
 * @returns {HTMLElement}
 */
export function languageChoice(leave) {
  const choice = /** @type {Choice<string>} */ (
    new Choice("menu.language", (tag) => {
      show();
      leave(() => {
        remember(LANGUAGE, tag);
        location.reload();
      });
    })
  );
  const show = () =>
    choice.show(
      languages().map((tag) => ({ value: tag, text: new Intl.DisplayNames(tag, { type: "language" }).of(tag) ?? tag })),
      spoken(),
    );
  show();
  return choice.element;
}
