import { icon, make } from "../parts/dom.js";
import { refill } from "../parts/refill.js";
import { say } from "../words/words.js";
import { sayWarning } from "../words/warnings.js";

/** @typedef {import("../desk/types.js").Warning} Warning */

const AT_FIRST = 5;

/** @typedef {{words: string, act: () => void}} Offer  what one tap can do about a warning */

/** What to know before the first cut, worst first; each shows its place on the design. */
export class CheckList {
  /**
   * @param {(warning: Warning, at: number) => void} see
   * @param {(warning: Warning) => Offer[]} offers
   */
  constructor(see, offers) {
    this.see = see;
    this.offers = offers;
    /** @type {readonly Warning[] | null | undefined} */
    this.warnings = undefined;
    this.unit = "";
    this.all = false;
    this.list = make("ul", { class: "check" });
    this.more = make("button", { type: "button", class: "button-quiet", onclick: () => this.#showAll() });
    this.element = make("div", {}, this.list, this.more);
  }

  /**
   * @param {readonly Warning[] | null} warnings  null while the check is under way
   * @param {number | null} shown
   * @param {string} unit
   */
  show(warnings, shown, unit) {
    if (warnings !== this.warnings || unit !== this.unit) {
      this.warnings = warnings;
      this.unit = unit;
      this.all = false;
      this.#build();
    }
    for (const [at, row] of [...this.list.children].entries()) {
      row.firstElementChild?.setAttribute("aria-pressed", String(at === shown));
    }
  }

  #showAll() {
    this.all = true;
    this.#build();
    this.list.children[AT_FIRST]?.querySelector("button")?.focus();
  }

  #build() {
    /** @type {readonly Warning[]} */
    const warnings = this.warnings ?? [];
    const shown = this.all ? warnings : warnings.slice(0, AT_FIRST);
    const rows = shown.map((warning, at) =>
      make(
        "li",
        {},
        make(
          "button",
          {
            type: "button",
            class: "check-row",
            "data-severity": warning.severity,
            onclick: () => this.see(warning, at),
          },
          icon(warning.severity > 1 ? "warning" : "note"),
          make("span", {}, sayWarning(warning, this.unit)),
        ),
        ...this.offers(warning).map(({ words, act }) =>
          make("button", { type: "button", class: "button-quiet", onclick: act }, words),
        ),
      ),
    );
    const good = make("li", { class: "check-good" }, icon("check"), make("span", {}, say("design.check-good")));
    const busy = make("li", { class: "soft" }, say("design.checking"));
    const none = this.warnings ? good : busy;
    refill(this.list, rows.length > 0 ? rows : [none]);
    this.more.hidden = shown.length === warnings.length;
    this.more.textContent = say("design.more-warnings", { count: warnings.length - shown.length });
  }
}
