import { Choice } from "../../../parts/choice.js";
import { icon, make } from "../../../parts/dom.js";
import { refill } from "../../../parts/refill.js";
import { swatch } from "../../../parts/swatch.js";
import { say } from "../../../words/words.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */
/** @typedef {import("../../../desk/types.js").Paper} Paper */

/** Which papers a suggestion may take: the whole shelf, or those chosen, in the order in which they were. */
export class AmongPart {
  /**
   * @param {Workroom} room
   * @param {() => void} changed
   */
  constructor(room, changed) {
    this.room = room;
    this.changed = changed;
    this.isSome = false;
    /** Ids of the papers chosen. @type {readonly string[]} */
    this.chosen = [];
    this.from = /** @type {Choice<"all" | "some">} */ (
      new Choice("suggest.from", (from) => {
        this.isSome = from === "some";
        changed();
      })
    );
    this.list = make("ul", { class: "among", "aria-label": say("suggest.from-some") });
    this.turn = make(
      "button",
      { help: "suggest.turn-round", type: "button", class: "button", onclick: () => this.take([...this.chosen].reverse()) },
      icon("swap"),
      say("suggest.turn-round"),
    );
    this.none = make("p", { class: "soft" }, say("suggest.from-none"));
    this.element = make("div", { class: "stack" }, this.from.element, this.none, this.list, this.turn);
  }

  /** Ids of the papers to take, none for all. */
  get papers() {
    return this.isSome ? this.chosen : [];
  }

  /** Whether papers are to be chosen and none is yet. */
  get isOpen() {
    return this.isSome && this.chosen.length === 0;
  }

  /** @param {readonly string[]} ids  of papers on the shelf */
  take(ids) {
    this.isSome = true;
    this.chosen = ids;
    this.changed();
  }

  /** Takes the whole shelf again: another project has other papers. */
  forget() {
    this.isSome = false;
    this.chosen = [];
  }

  /** @param {boolean} isOrdered  whether the order of the papers counts */
  update(isOrdered) {
    const { papers } = this.room.project.shelf;
    this.chosen = this.chosen.filter((id) => this.room.papers.has(id));
    this.from.show(
      [
        { value: "all", text: say("suggest.from-all") },
        { value: "some", text: say("suggest.from-some") },
      ],
      this.isSome ? "some" : "all",
    );
    this.list.hidden = !this.isSome;
    this.none.hidden = !this.isOpen;
    this.turn.hidden = !isOrdered || this.papers.length < 2;
    if (this.isSome) refill(this.list, papers.map((paper) => this.#paper(paper, isOrdered)));
  }

  /**
   * @param {Paper} paper
   * @param {boolean} isOrdered
   */
  #paper(paper, isOrdered) {
    const at = this.chosen.indexOf(paper.id);
    return make(
      "li",
      {},
      make(
        "button",
        {
          help: "suggest.from-some",
          type: "button",
          class: "among-paper",
          "aria-pressed": String(at >= 0),
          "aria-label": paper.name,
          title: paper.name,
          onclick: () => {
            this.chosen = at < 0 ? [...this.chosen, paper.id] : this.chosen.filter((id) => id !== paper.id);
            this.changed();
          },
        },
        swatch(this.room.paint, paper, 48, 40),
        at < 0 ? null : make("span", { class: "among-place" }, isOrdered ? String(at + 1) : icon("check")),
      ),
    );
  }
}
