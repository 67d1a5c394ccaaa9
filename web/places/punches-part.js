import { make } from "../parts/dom.js";
import { field } from "../parts/field.js";
import { LengthField } from "../parts/length-field.js";
import { writeLength } from "../parts/lengths.js";
import { amend } from "../project/edits.js";
import { say } from "../words/words.js";

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
    /** @type {readonly string[] | null} */
    this.shown = null;
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
      { type: "button", class: "button", onclick: () => void this.#add() },
      say("design.punch-add"),
    );
    this.element = make(
      "details",
      { class: "fold" },
      make("summary", {}, say("design.punches")),
      make(
        "div",
        { class: "stack" },
        this.list,
        make(
          "div",
          { class: "fields" },
          field(say("design.punch-form"), this.form),
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
    return new LengthField(say(name), {
      read: (text) => room.desk.readLength(text, room.unit),
      step: (unit) => (unit === "in" ? 25.4 / 8 : 1),
      change,
    });
  }

  /** Only a rectangle has two sizes. */
  #showSides() {
    this.otherSize.element.hidden = this.form.value !== "rectangle";
  }

  update() {
    const { punches } = this.room.project.backing;
    this.size.show(this.mm, this.room.unit);
    this.otherSize.show(this.otherMm, this.room.unit);
    if (punches === this.shown) return;
    this.shown = punches;
    this.list.replaceChildren(
      ...punches.map((punch) =>
        make(
          "li",
          {},
          make("span", {}, nameOf(punch)),
          make(
            "button",
            {
              type: "button",
              class: "button",
              "aria-label": `${say("design.punch-off")}: ${nameOf(punch)}`,
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
    if (!settled.every(Boolean) || this.mm <= 0 || this.otherMm <= 0) return;
    const { unit } = this.room;
    const size = writeLength(this.mm, unit);
    const other = sides.length > 1 ? ` x ${writeLength(this.otherMm, unit)}` : "";
    const punch = `${this.form.value} ${size}${other}`;
    const { punches } = this.room.project.backing;
    if (!punches.includes(punch)) this.#put([...punches, punch]);
  }

  /** @param {string[]} punches */
  #put(punches) {
    this.room.store.edit("", (project) => amend(project, "backing", { punches }));
  }
}

/** @param {string} punch  as the package names it  @returns {string} in the person's language */
function nameOf(punch) {
  const form = FORMS.find((each) => punch.startsWith(`${each} `));
  return form ? `${say(`design.form-${form}`)} ${punch.slice(form.length + 1)}` : punch;
}
