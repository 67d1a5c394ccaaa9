import { make } from "../parts/dom.js";
import { field } from "../parts/field.js";
import { LengthField } from "../parts/length-field.js";
import { writeAbout } from "../words/lengths.js";
import { refill } from "../parts/refill.js";
import { amend } from "../project/edits.js";
import { say } from "../words/words.js";
import { readSize } from "./read-size.js";
import { nameOf } from "./simple-shape.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */

const FORMS = /** @type {const} */ (["square", "circle", "rectangle"]);
const FIRST_MM = 25.4;

/** The punches that the person has: taken off the list or put on it. */
export class PunchesPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    this.mm = FIRST_MM;
    this.otherMm = FIRST_MM;
    /** @type {readonly unknown[]} */
    this.shown = [];
    this.list = make("ul", { class: "offers" });
    this.form = make(
      "select",
      { onchange: () => this.#showSides() },
      ...FORMS.map((form) => make("option", { value: form }, say(`design.form-${form}`))),
    );
    this.size = this.#side("design.punch-size", (mm) => {
      this.mm = mm;
    });
    this.otherSize = this.#side("design.punch-other-size", (mm) => {
      this.otherMm = mm;
    });
    const add = make(
      "button",
      { help: "design.punch-add", type: "button", class: "button", onclick: () => void this.#add() },
      say("design.punch-add"),
    );
    this.element = make(
      "details",
      { class: "fold" },
      make("summary", { help: "design.punches" }, say("design.punches")),
      make(
        "div",
        { class: "stack" },
        this.list,
        make(
          "div",
          { class: "fields" },
          field("design.punch-form", this.form),
          this.size.element,
          this.otherSize.element,
        ),
        add,
      ),
    );
    this.#showSides();
  }

  /**
   * @param {import("../words/words.js").Key} name
   * @param {(mm: number) => void} change
   */
  #side(name, change) {
    const { room } = this;
    return new LengthField(name, {
      read: (text) => readSize(room, text),
      step: (unit) => (unit === "in" ? 25.4 / 8 : 1),
      change,
    });
  }

  /** Only a rectangle has two sizes. */
  #showSides() {
    this.otherSize.element.hidden = this.form.value !== "rectangle";
  }

  update() {
    const { project, bench, unit } = this.room;
    const { punches } = project.backing;
    this.size.show(this.mm, unit);
    this.otherSize.show(this.otherMm, unit);
    const shapes = bench.backing?.shapes ?? {};
    const names = punches.map((punch) => nameOf(punch, shapes, unit));
    const seen = [punches, ...names];
    if (seen.length === this.shown.length && seen.every((value, at) => value === this.shown[at])) return;
    this.shown = seen;
    refill(
      this.list,
      punches.map((punch, at) =>
        make(
          "li",
          {},
          make("span", {}, names[at]),
          make(
            "button",
            {
              help: "design.punch-off",
              type: "button",
              class: "button",
              "aria-label": `${say("design.punch-off")}: ${names[at]}`,
              onclick: () => this.#put(this.room.project.backing.punches.filter((each) => each !== punch)),
            },
            say("design.punch-off"),
          ),
        ),
      ),
    );
  }

  async #add() {
    const sides = this.form.value === "rectangle" ? [this.size, this.otherSize] : [this.size];
    const settled = await Promise.all(sides.map((side) => side.settled));
    if (!settled.every(Boolean)) return;
    const { unit } = this.room;
    const size = exactly(this.mm, unit);
    const other = sides.length > 1 ? ` x ${exactly(this.otherMm, unit)}` : "";
    const punch = `${this.form.value} ${size}${other}`;
    const { punches } = this.room.project.backing;
    if (!punches.includes(punch)) this.#put([...punches, punch]);
  }

  /** @param {string[]} punches */
  #put(punches) {
    this.room.store.edit("", (project) => amend(project, "backing", { punches }));
  }
}

/**
 * A size as the package reads it: in inches where a ruler has it, else in mm.
 *
 * @param {number} mm
 * @param {string} unit
 */
function exactly(mm, unit) {
  const parts = (mm / 25.4) * 32;
  const isOnRuler = Math.abs(parts - Math.round(parts)) < 1e-6;
  return unit === "in" && isOnRuler ? writeAbout([mm], unit) : `${Number(mm.toFixed(3))} mm`;
}
