import { Choice } from "../../parts/choice.js";
import { make } from "../../parts/dom.js";
import { Fold } from "../../parts/fold.js";
import { LengthField } from "../../parts/length-field.js";
import { say } from "../../words/words.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {"width" | "margin" | "corner" | "hole"} Measure */

/** A border to begin with, in mm (from memory, no published source). */
const FIRST = { width: 10, margin: 0, corner: 5, hole: 0 };

/** A border of card around the whole design, and a hole to hang it by. */
export class FramePart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    /** @type {Record<Measure, number>} */
    this.measures = { ...FIRST };
    this.shape = "rectangle";
    this.shapes = /** @type {Choice<string>} */ (
      new Choice(null, (shape) => {
        this.shape = shape;
      })
    );
    this.fields = /** @type {Measure[]} */ (Object.keys(FIRST)).map((name) => ({ name, field: this.#field(name) }));
    this.fold = new Fold(
      say("frame.title"),
      this.shapes.element,
      make("div", { class: "fields" }, ...this.fields.map(({ field }) => field.element)),
      make("button", { help: "frame.add", type: "button", class: "button", onclick: () => void this.#add() }, say("frame.add")),
    );
    this.element = this.fold.element;
  }

  update() {
    const { project, unit } = this.room;
    const count = project.mends.filter(({ change }) => change.kind === "frame").length;
    this.fold.show(count > 0 ? String(count) : say("design.behind-none"));
    this.shapes.show(
      [
        { value: "rectangle", text: say("frame.rectangle"), help: "frame.rectangle" },
        { value: "outline", text: say("frame.outline"), help: "frame.outline" },
      ],
      this.shape,
    );
    for (const { name, field } of this.fields) field.show(this.measures[name], unit, project.id);
  }

  /** Opens the fold and brings it into view. */
  open() {
    this.element.open = true;
    this.element.scrollIntoView({ block: "nearest" });
    this.fields[0]?.field.input.focus({ preventScroll: true });
  }

  /** @param {Measure} name */
  #field(name) {
    return new LengthField(`frame.${name}`, {
      read: (text) => this.room.desk.readLength(text, this.room.unit),
      step: (unit) => (unit === "in" ? 25.4 / 16 : 1),
      change: (mm) => {
        this.measures[name] = mm;
        this.update();
      },
    });
  }

  async #add() {
    const { room } = this;
    try {
      const change = { kind: "frame", shape: this.shape, ...this.measures };
      const tried = await room.questions.ask("project", (project) => room.desk.tryMend(project, change));
      const box = room.shapes?.box ?? [0, 0, 0, 0];
      await room.mend([{ edit: "add_mends", to: { mends: tried.mends, finding: "" } }], [{ ...tried, box }]);
    } catch (error) {
      room.notices.tellError(error, { unit: room.unit });
    }
  }
}
