import { Choice } from "../../parts/choice.js";
import { make, write } from "../../parts/dom.js";
import { Fold } from "../../parts/fold.js";
import { LengthField } from "../../parts/length-field.js";
import { writeAbout } from "../../words/lengths.js";
import { say } from "../../words/words.js";
import { TriedChange } from "./tried-change.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").TriedMend} TriedMend */
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
    this.change = new TriedChange(room, {
      change: () => ({ kind: "frame", shape: this.shape, ...this.measures }),
      isOpen: () => this.element.open,
      show: (tried) => this.#show(tried),
    });
    this.shapes = /** @type {Choice<string>} */ (
      new Choice(null, (shape) => {
        this.shape = shape;
        this.#look();
      })
    );
    this.fields = /** @type {Measure[]} */ (Object.keys(FIRST)).map((name) => ({ name, field: this.#field(name) }));
    this.told = make("p", { class: "small", role: "status" });
    this.add = make("button", { help: "frame.add", type: "button", class: "button", onclick: () => void this.change.take() }, say("frame.add"));
    this.fold = new Fold(
      say("frame.title"),
      this.shapes.element,
      make("div", { class: "fields" }, ...this.fields.map(({ field }) => field.element)),
      this.told,
      this.add,
    );
    this.element = this.fold.element;
    this.element.addEventListener("toggle", () => this.#look());
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
    this.change.update();
    for (const { name, field } of this.fields) field.show(this.measures[name], unit, project.id);
  }

  /** What the border would add, while it is looked at. @returns {TriedMend | null} */
  get tried() {
    return this.change.tried;
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
        this.#look();
      },
    });
  }

  /** Makes room on the table for what the border adds, and shows what it comes to. */
  #look() {
    const { bench } = this.room;
    const { width_mm: width, height_mm: height } = bench.design ?? { width_mm: 0, height_mm: 0 };
    if (this.element.open && width > 0) {
      const by = Math.max(this.measures.width + this.measures.margin, 0);
      this.room.lookAt([-by, -by, width + by, height + by]);
    }
    this.change.look();
  }

  /** @param {TriedMend | null} tried */
  #show(tried) {
    const { bench, unit } = this.room;
    const by = Math.max(this.measures.width + this.measures.margin, 0);
    const { width_mm: width, height_mm: height } = bench.design ?? { width_mm: 0, height_mm: 0 };
    write(this.told, tried ? say("frame.told", { size: writeAbout([width + 2 * by, height + 2 * by], unit), count: tried.openings }) : "");
    this.add.disabled = !tried;
  }
}
