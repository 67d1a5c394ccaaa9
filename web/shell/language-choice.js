import { Choice } from "../parts/choice.js";
import { remember } from "../parts/memory.js";
import { LANGUAGE, languages, say, spoken } from "../words/words.js";

/**
 * Chooses the language, each told in its own. All that was said is said anew by loading the page again; the
 * project is kept and comes back as it was.
 *
 * @returns {HTMLElement}
 */
export function languageChoice() {
  const choice = /** @type {Choice<string>} */ (
    new Choice(say("menu.language"), (tag) => {
      remember(LANGUAGE, tag);
      location.reload();
    })
  );
  choice.show(
    languages().map((tag) => ({ value: tag, text: new Intl.DisplayNames(tag, { type: "language" }).of(tag) ?? tag })),
    spoken(),
  );
  return choice.element;
}
