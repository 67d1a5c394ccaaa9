import { make } from "../../parts/dom.js";
import { LengthField } from "../../parts/length-field.js";
import { say } from "../../words/words.js";

const WIDEST_MM = 12;
const NARROWEST_MM = 0.5;

/** How wide a bar or the rubber is: typed, or set with a slider. */
export class WidthField {
  /**
   * @param {import("../workroom.js").Workroom} room
   * @param {(mm: number) => void} change
   */
  constructor(room, change) {
    this.room = room;
    this.of = "";
    const take = (/** @type {number} */ mm) => change(Math.min(Math.max(mm, NARROWEST_MM), 10 * WIDEST_MM));
    this.slider = make("input", {
      help: "hand.width",
      type: "range",
      min: NARROWEST_MM,
      max: WIDEST_MM,
      step: 0.1,
      class: "slider",
      "aria-label": say("hand.width"),
      oninput: () => this.field.show(this.slider.valueAsNumber, room.unit, this.of),
      onchange: () => take(this.slider.valueAsNumber),
    });
    this.field = new LengthField("hand.width", {
      read: (text) => room.desk.readLength(text, room.unit),
      step: (unit) => (unit === "in" ? 25.4 / 32 : 0.1),
      change: take,
    });
    this.element = make("div", { class: "hand-width" }, this.field.element, this.slider);
  }

  /**
   * @param {number} mm
   * @param {string} of  what is so wide
   */
  show(mm, of) {
    this.of = of;
    this.field.show(mm, this.room.unit, of);
    this.slider.value = String(mm);
  }
}
