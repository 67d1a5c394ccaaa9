import { icon, make } from "./dom.js";
import { say } from "../words/words.js";

const SHORT_MS = 4500;

/** Sentences that come and go at the edge of the table: what happened, and what to do about it. */
export class Notices {
  /** @param {HTMLElement} element  a live region */
  constructor(element) {
    this.element = element;
  }

  /** Takes away what was told and asks for nothing: it was about something else. */
  clear() {
    for (const notice of [...this.element.children]) if (!notice.querySelector(".button-quiet")) notice.remove();
  }

  /**
   * @param {string} sentence
   * @param {{stays?: boolean, action?: {name: string, do: () => void}}} [options]
   * @returns {() => void} takes the notice away
   */
  tell(sentence, { stays = false, action } = {}) {
    for (const child of this.element.children) if (child.firstChild?.textContent === sentence) child.remove();
    const away = () => notice.remove();
    const notice = make(
      "div",
      { class: "notice" },
      make("p", {}, sentence),
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
      make("button", { type: "button", class: "button-icon", "aria-label": say("act.close"), onclick: away }, icon("close")),
    );
    this.element.append(notice);
    if (!stays) setTimeout(away, SHORT_MS);
    return away;
  }
}
