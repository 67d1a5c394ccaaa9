import { make } from "../parts/dom.js";
import { writeAbout, writeArea } from "../words/lengths.js";
import { say } from "../words/words.js";

/** @typedef {import("../places/workroom.js").Workroom} Workroom */

/** A small card about one opening, where it was pressed. */
export class DetailCard {
  /** @param {HTMLElement} stage */
  constructor(stage) {
    this.stage = stage;
    /** @type {HTMLElement | null} */
    this.card = null;
  }

  /**
   * @param {Workroom} room
   * @param {number} number
   * @param {{x: number, y: number}} spot
   */
  show(room, number, { x, y }) {
    this.close();
    const opening = room.shapes?.byNumber.get(number);
    if (!opening) return;
    const [x0, y0, x1, y1] = opening.box;
    const others = room.alikeTo(number).length - 1;
    const paper = room.paperOf(number);
    const piece = room.bench.backingOfDesign?.pieces.find(({ openings }) => openings.includes(number));
    const { unit } = room;
    this.card = make(
      "div",
      { class: "detail", role: "status" },
      make("h3", {}, say("detail.opening", { number })),
      make("p", {}, say("detail.size", { size: writeAbout([x1 - x0, y1 - y0], unit), area: writeArea(opening.area_mm2, unit) })),
      make("p", {}, say("detail.paper", { paper: paper?.name ?? say("stage.open") })),
      piece
        ? make("p", {}, say("detail.lip", { least: writeAbout([piece.lip_min_mm], unit), median: writeAbout([piece.lip_median_mm], unit) }))
        : null,
      make("p", { class: "soft" }, others > 0 ? say("detail.alike", { count: others }) : say("detail.unlike")),
    );
    this.stage.append(this.card);
    const { offsetWidth: width, offsetHeight: height } = this.card;
    const left = Math.min(Math.max(8, x - width / 2), this.stage.clientWidth - width - 8);
    const top = y - height - 28 > 8 ? y - height - 28 : Math.min(y + 28, this.stage.clientHeight - height - 8);
    this.card.style.setProperty("left", `${left}px`);
    this.card.style.setProperty("top", `${top}px`);
    room.session.take({ active: number });
  }

  close() {
    this.card?.remove();
    this.card = null;
  }
}
