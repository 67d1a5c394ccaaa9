import { icon, make } from "../../parts/dom.js";
import { LengthField } from "../../parts/length-field.js";
import { writeAbout } from "../../words/lengths.js";
import { refill } from "../../parts/refill.js";
import { say } from "../../words/words.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */

const FIRST_MM = { in: 76.2, mm: 80 };

/** The scraps left of a paper, as sizes to add and take away. */
export class ScrapFields {
  /**
   * @param {Workroom} room
   * @param {readonly import("../../desk/types.js").Scrap[]} scraps  of the paper
   */
  constructor(room, scraps) {
    this.room = room;
    /** Width and height in mm. @type {[number, number][]} */
    this.sizes = scraps.map(({ width_mm, height_mm }) => [width_mm, height_mm]);
    const first = FIRST_MM[room.unit === "mm" ? "mm" : "in"];
    this.next = { width: first, height: first };
    const ways = (/** @type {(mm: number) => void} */ change) => ({
      read: (/** @type {string} */ text) => room.desk.readLength(text, room.unit),
      step: (/** @type {string} */ unit) => (unit === "in" ? 6.35 : 5),
      change,
    });
    this.across = new LengthField("design.width", ways((mm) => (this.next.width = mm)));
    this.down = new LengthField("design.height", ways((mm) => (this.next.height = mm)));
    this.across.show(first, room.unit);
    this.down.show(first, room.unit);
    this.list = make("ul", { class: "scraps" });
    this.element = make(
      "details",
      { class: "fold", open: this.sizes.length > 0 },
      make("summary", { help: "paper.scraps" }, say("paper.scraps")),
      this.list,
      make(
        "div",
        { class: "scrap-new" },
        this.across.element,
        this.down.element,
        make("button", { help: "paper.scrap-add", type: "button", class: "button", onclick: () => void this.#add() }, icon("plus"), say("paper.scrap-add")),
      ),
    );
    this.#show();
  }

  async #add() {
    if (!(await this.across.settled) || !(await this.down.settled)) return;
    this.sizes = [...this.sizes, [this.next.width, this.next.height]];
    this.#show();
  }

  #show() {
    refill(
      this.list,
      this.sizes.map(([width, height], at) =>
        make(
          "li",
          {},
          make("span", {}, writeAbout([width, height], this.room.unit)),
          make(
            "button",
            {
              help: "paper.scrap-remove",
              type: "button",
              class: "button-icon",
              "aria-label": say("paper.scrap-remove"),
              onclick: () => {
                this.sizes = this.sizes.filter((_, other) => other !== at);
                this.#show();
              },
            },
            icon("trash"),
          ),
        ),
      ),
    );
  }
}
