import { make } from "../../parts/dom.js";
import { LengthField } from "../../parts/length-field.js";
import { Toggle } from "../../parts/toggle.js";
import { say } from "../../words/words.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Paper} Paper */

/** What most printers leave empty at the edge, and a little more (common practice, no published source). */
const MARGIN_MM = { in: 6.35, mm: 6 };
/** What most printers take, in mm (ISO 216:2007 A4; ANSI/ASME Y14.1 size A). */
const PRINTER_SHEETS = { in: [215.9, 279.4], mm: [210, 297] };

/** Whether a paper is printed at home, and how much of the printer's sheet stays empty. */
export class PrintFields {
  /**
   * @param {Workroom} room
   * @param {Paper} paper  as it is
   * @param {(change: Partial<Paper>) => void} change
   */
  constructor(room, paper, change) {
    this.unit = room.unit === "mm" ? /** @type {const} */ ("mm") : /** @type {const} */ ("in");
    this.change = change;
    /** What it is again where it is not printed after all. */
    this.bought = {
      sheet_width_mm: paper.print_margin_mm === null ? paper.sheet_width_mm : (paper.picture_width_mm ?? 304.8),
      sheet_height_mm: paper.print_margin_mm === null ? paper.sheet_height_mm : (paper.picture_width_mm ?? 304.8),
      picture_width_mm: paper.picture_width_mm,
    };
    this.toggle = new Toggle("paper.printed", (on) => this.#turn(on));
    this.margin = new LengthField("paper.print-margin", {
      read: (text) => room.desk.readLength(text, room.unit),
      step: (unit) => (unit === "in" ? 1.5875 : 1),
      change: (print_margin_mm) => change({ print_margin_mm }),
    });
    this.more = make(
      "div",
      { class: "stack" },
      this.margin.element,
      make("p", { class: "soft small" }, say("paper.printed-about")),
    );
    this.element = make("div", { class: "print-fields" }, this.toggle.element, this.more);
  }

  /** Whether the margin is a length, once what was typed is read. */
  get settled() {
    return this.margin.settled;
  }

  /** @param {Paper} paper */
  show({ print_margin_mm: margin }) {
    this.toggle.show(margin !== null);
    this.more.hidden = margin === null;
    this.margin.show(margin ?? MARGIN_MM[this.unit], this.unit);
  }

  /** @param {boolean} on */
  #turn(on) {
    const { sheet_width_mm: across, picture_width_mm: picture } = this.bought;
    const [width = 210, height = 297] = PRINTER_SHEETS[this.unit];
    this.change(
      on
        ? {
            print_margin_mm: MARGIN_MM[this.unit],
            sheet_width_mm: width,
            sheet_height_mm: height,
            // The picture is as large as it was, whatever it is printed on.
            picture_width_mm: picture ?? across,
          }
        : { ...this.bought, print_margin_mm: null },
    );
  }
}
