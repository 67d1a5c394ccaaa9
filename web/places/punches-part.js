import { make } from "../parts/dom.js";
import { field } from "../parts/field.js";
import { LengthField } from "../parts/length-field.js";
import { writeLength } from "../parts/lengths.js";
import { amend } from "../project/edits.js";
import { say } from "../words/words.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */

const FORMS = /** @type {const} */ (["square", "circle"]);
const FIRST_MM = 25.4;

/** The punches that the person has: taken off the list or put on it. */
export class PunchesPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    this.mm = FIRST_MM;
    /** @type {readonly string[] | null} */
    this.shown = null;
    this.list = make("ul", { class: "offers" });
    this.form = make(
      "select",
      {},
      ...FORMS.map((form) => make("option", { value: form }, say(`design.form-${form}`))),
    );
    this.size = new LengthField(say("design.punch-size"), {
      read: (text) => room.desk.readLength(text, room.unit),
      step: (unit) => (unit === "in" ? 25.4 / 8 : 1),
      change: (mm) => {
        this.mm = mm;
      },
    });
    const add = make("button", { type: "button", class: "button", onclick: () => void this.#add() }, say("design.punch-add"));
    this.element = make(
      "details",
      { class: "fold" },
      make("summary", {}, say("design.punches")),
      this.list,
      make("div", { class: "fields" }, field(say("design.punch-form"), this.form), this.size.element),
      add,
    );
  }

  update() {
    const { punches } = this.room.project.backing;
    this.size.show(this.mm, this.room.unit);
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
    if (!(await this.size.settled) || this.mm <= 0) return;
    const punch = `${this.form.value} ${writeLength(this.mm, this.room.unit)}`;
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
