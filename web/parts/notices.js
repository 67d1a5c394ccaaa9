import { Cancelled } from "../words/refusal.js";
import { icon, make } from "./dom.js";
import { troubleOf } from "./trouble.js";
import { say } from "../words/words.js";

const SHORT_MS = 4500;

/** Sentences that come and go at the edge of the table: what happened, and what to do about it. */
export class Notices {
  /** @param {HTMLElement} element  a live region */
  constructor(element) {
    this.element = element;
  }

  /** Takes away what was told about the place that is left. */
  leave() {
    for (const notice of this.element.querySelectorAll("[data-here]")) notice.remove();
  }

  /** Takes away what was told and asks for nothing: it was about something else. */
  clear() {
    for (const notice of this.element.querySelectorAll(".notice:not(:has(.button-quiet), [data-outlasts])")) notice.remove();
  }

  /**
   * Tells what went wrong; nothing of what was stopped, or was asked of what is no longer so.
   *
   * @param {unknown} error
   * @param {{stays?: boolean, unit?: string, name?: string}} [options]  `name`: of the file that it is about
   */
  tellError(error, { stays = false, unit = "mm", name } = {}) {
    if (error instanceof Cancelled) return;
    const [sentence, ...more] = troubleOf(error, unit);
    const told = name ? say("fault.about", { name, sentence: String(sentence) }) : String(sentence);
    this.tell(told, { stays: stays || more.length > 0, more });
  }

  /**
   * @param {string} sentence
   * @param {{stays?: boolean, here?: boolean, action?: {name: string, do: () => void}, outlasts?: boolean,
   *   more?: (string | HTMLElement)[]}} [options]  `here`: it goes when this place is left; `outlasts`: it stays where
   *   another project is opened
   * @returns {() => void} takes the notice away
   */
  tell(sentence, { stays = false, here = false, outlasts = false, action, more = [] } = {}) {
    for (const child of this.element.children) if (child.firstChild?.textContent === sentence) child.remove();
    const away = () => notice.remove();
    const notice = make(
      "div",
      { class: "notice" },
      make("div", { class: "notice-words" }, make("p", {}, sentence), ...more),
      action &&
        make(
          "button",
          {
            type: "button",
            class: "button-quiet",
            onclick: () => {
              away();
              action.do();
            },
          },
          action.name,
        ),
      make("button", { help: "act.close", type: "button", class: "button-icon", "aria-label": say("act.close"), onclick: away }, icon("close")),
    );
    notice.toggleAttribute("data-outlasts", outlasts);
    notice.toggleAttribute("data-here", here);
    this.element.append(notice);
    if (!stays) setTimeout(away, SHORT_MS);
    return away;
  }
}
