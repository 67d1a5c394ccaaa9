import { icon, make } from "../parts/dom.js";
import { swatch } from "../parts/swatch.js";
import { chosen } from "../project/edits.js";
import { say } from "../words/words.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */
/** @typedef {import("../desk/types.js").Paper} Paper */

/** The papers at hand as sheets on a shelf; the picked one is lifted a little. */
export class PaperShelf {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    /** @type {readonly Paper[] | null} */
    this.papers = null;
    /** @type {Map<string | null, {button: HTMLButtonElement, used: HTMLElement}>} */
    this.sheets = new Map();
    this.element = make("ul", { class: "sheets" });
  }

  update() {
    const { project, session } = this.room;
    if (project.shelf.papers !== this.papers) this.#build(project.shelf.papers);
    const uses = new Map();
    for (const id of Object.values(chosen(project).papers)) uses.set(id, (uses.get(id) ?? 0) + 1);
    for (const [id, { button, used }] of this.sheets) {
      button.setAttribute("aria-pressed", String(id === session.hand.picked));
      const count = uses.get(id) ?? 0;
      if (id === null) continue;
      used.textContent = count > 0 ? String(count) : "";
      used.title = count > 0 ? say("papers.used", { count }) : "";
    }
  }

  /** @param {readonly Paper[]} papers */
  #build(papers) {
    this.papers = papers;
    this.sheets.clear();
    this.element.replaceChildren(
      ...papers.map((paper, at) =>
        this.#sheet(paper.id, swatch(this.room.paint, paper, 96, 64), paper.name, String(at + 1)),
      ),
      this.#sheet(null, make("span", { class: "swatch swatch-open" }, icon("hole")), say("papers.leave"), ""),
    );
  }

  /**
   * @param {string | null} id
   * @param {HTMLElement} picture
   * @param {string} name
   * @param {string} number
   */
  #sheet(id, picture, name, number) {
    const used = make("span", { class: "sheet-used" });
    const button = make(
      "button",
      { type: "button", class: "sheet", onclick: () => this.room.session.take({ picked: id }) },
      picture,
      make(
        "span",
        { class: "sheet-name" },
        number ? make("span", { class: "sheet-number" }, number) : null,
        make("span", {}, name),
      ),
      used,
    );
    this.sheets.set(id, { button, used });
    return make("li", {}, button);
  }
}
