import { icon, make } from "../../../parts/dom.js";
import { LengthField } from "../../../parts/length-field.js";
import { fileButton } from "../../../parts/files/file-button.js";
import { writeAbout } from "../../../words/lengths.js";
import { refill } from "../../../parts/refill.js";
import { say } from "../../../words/words.js";
import { scrapFromPhoto } from "./scrap-dialog.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */

const FIRST_MM = { in: 76.2, mm: 80 };

/** @typedef {import("../../../desk/types.js").Scrap} Scrap */

/** The scraps left of a paper, to add by size or photo and take away. */
export class ScrapFields {
  /**
   * @param {Workroom} room
   * @param {string} paper  its id
   * @param {readonly Scrap[]} scraps  of the paper
   */
  constructor(room, paper, scraps) {
    this.room = room;
    this.paper = paper;
    /** @type {Scrap[]} */
    this.scraps = [...scraps];
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
      { class: "fold", open: this.scraps.length > 0 },
      make("summary", { help: "paper.scraps" }, say("paper.scraps")),
      this.list,
      make(
        "div",
        { class: "scrap-new" },
        this.across.element,
        this.down.element,
        make("button", { help: "paper.scrap-add", type: "button", class: "button", onclick: () => void this.#add() }, icon("plus"), say("paper.scrap-add")),
      ),
      fileButton("camera", "scrap.photo", { accept: "image/*" }, (file) => void scrapFromPhoto(room, file, (cut) => this.#put(cut))),
    );
    this.#show();
  }

  async #add() {
    if (!(await this.across.settled) || !(await this.down.settled)) return;
    this.#put({ width_mm: this.next.width, height_mm: this.next.height, outline: [] });
  }

  /** @param {Omit<Scrap, "id" | "paper">} cut */
  #put(cut) {
    this.scraps = [...this.scraps, { id: "", paper: this.paper, ...cut }];
    this.#show();
  }

  #show() {
    refill(
      this.list,
      this.scraps.map(({ width_mm, height_mm, outline }, at) =>
        make(
          "li",
          {},
          outline.length > 0 ? outlinePicture(outline, width_mm, height_mm) : null,
          make("span", {}, writeAbout([width_mm, height_mm], this.room.unit), outline.length > 0 ? ` · ${say("scrap.shaped")}` : ""),
          make(
            "button",
            {
              help: "paper.scrap-remove",
              type: "button",
              class: "button-icon",
              "aria-label": say("paper.scrap-remove"),
              onclick: () => {
                this.scraps = this.scraps.filter((_, other) => other !== at);
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

/**
 * @param {readonly import("../../../desk/types.js").Point[]} outline
 * @param {number} width
 * @param {number} height
 */
function outlinePicture(outline, width, height) {
  const picture = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  picture.setAttribute("class", "scrap-shape");
  picture.setAttribute("viewBox", `0 0 ${width} ${height}`);
  picture.setAttribute("aria-hidden", "true");
  const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
  path.setAttribute("d", `M${outline.map((place) => place.join(" ")).join("L")}Z`);
  picture.append(path);
  return picture;
}
