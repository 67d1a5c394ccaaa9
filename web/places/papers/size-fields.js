import { make } from "../../parts/dom.js";
import { field } from "../../parts/field.js";
import { LengthField } from "../../parts/length-field.js";
import { isolated, say } from "../../words/words.js";
import { SHEET_SIZES, sheetSize } from "./sheet-sizes.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */

const CUSTOM = "custom";

/** How large a sheet is: one of the usual sizes, or any width and height. */
export class SizeFields {
  /**
   * @param {Workroom} room
   * @param {import("../../words/words.js").Key} key  of its name, and of what help tells of it
   * @param {(width: number, height: number) => void} change  takes mm
   */
  constructor(room, key, change) {
    this.room = room;
    this.change = change;
    this.width = 0;
    this.height = 0;
    this.usual = make(
      "select",
      { onchange: () => this.#choose() },
      ...SHEET_SIZES.map((size, at) => make("option", { value: String(at) }, isolated(size.name))),
      make("option", { value: CUSTOM }, say("paper.size-custom")),
    );
    const ways = (/** @type {(mm: number) => void} */ take) => ({
      read: (/** @type {string} */ text) => room.desk.readLength(text, room.unit),
      step: (/** @type {string} */ unit) => (unit === "in" ? 6.35 : 5),
      change: take,
    });
    this.across = new LengthField("design.width", ways((mm) => this.#set(mm, this.height)));
    this.down = new LengthField("design.height", ways((mm) => this.#set(this.width, mm)));
    this.sides = make("div", { class: "fields" }, this.across.element, this.down.element);
    this.element = make("div", { class: "size-fields" }, field(key, this.usual), this.sides);
  }

  /**
   * @param {number} width  mm
   * @param {number} height
   */
  show(width, height) {
    this.width = width;
    this.height = height;
    const at = sheetSize(width, height);
    if (this.usual.value !== CUSTOM || at < 0) this.usual.value = at < 0 ? CUSTOM : String(at);
    this.across.show(width, this.room.unit, this.usual.value);
    this.down.show(height, this.room.unit, this.usual.value);
    this.sides.hidden = this.usual.value !== CUSTOM;
  }

  /** Whether both sides are lengths, once what was typed is read. */
  async settled() {
    return (await this.across.settled) && (await this.down.settled);
  }

  #choose() {
    const size = SHEET_SIZES[Number(this.usual.value)];
    if (size) this.#set(size.width, size.height);
    else this.show(this.width, this.height);
  }

  /**
   * @param {number} width
   * @param {number} height
   */
  #set(width, height) {
    this.show(width, height);
    this.change(width, height);
  }
}
