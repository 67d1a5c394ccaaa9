import { make, write } from "../../parts/dom.js";
import { Fold } from "../../parts/fold.js";
import { LengthField } from "../../parts/length-field.js";
import { say } from "../../words/words.js";
import { TriedChange } from "./tried-change.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").TriedMend} TriedMend */
/** @typedef {"tolerance" | "corner"} Measure */

/** What to begin with, in mm: as much as a coarse tracing needs, and no corners (from memory, no published source). */
const FIRST = { tolerance: 0.2, corner: 0 };
const STEP_IN = 25.4 / 128;
const STEP_MM = 0.05;

/** Smoother outlines and eased corners: what changes is shown on the card before it is done. */
export class SmoothPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    /** @type {Record<Measure, number>} */
    this.measures = { ...FIRST };
    this.change = new TriedChange(room, {
      change: () => ({ kind: "smooth", ...this.measures }),
      isOpen: () => this.element.open,
      show: (tried) => this.#show(tried),
    });
    this.fields = /** @type {Measure[]} */ (Object.keys(FIRST)).map((name) => ({ name, field: this.#field(name) }));
    this.told = make("p", { class: "small", role: "status" });
    this.take = make("button", { help: "smooth.take", type: "button", class: "button", onclick: () => void this.change.take() }, say("smooth.take"));
    this.fold = new Fold(
      say("smooth.title"),
      make("div", { class: "fields" }, ...this.fields.map(({ field }) => field.element)),
      this.told,
      this.take,
    );
    this.element = this.fold.element;
    this.element.addEventListener("toggle", () => this.change.look());
  }

  update() {
    const { project, unit } = this.room;
    const count = project.mends.filter(({ change }) => change.kind === "smooth").length;
    this.fold.show(count > 0 ? String(count) : say("design.behind-none"));
    for (const { name, field } of this.fields) field.show(this.measures[name], unit, project.id);
    this.change.update();
  }

  /** What smoothing would change, while it is looked at. @returns {TriedMend | null} */
  get tried() {
    return this.change.tried;
  }

  /** @param {Measure} name */
  #field(name) {
    return new LengthField(`smooth.${name}`, {
      read: (text) => this.room.desk.readLength(text, this.room.unit),
      step: (unit) => (unit === "in" ? STEP_IN : STEP_MM),
      change: (mm) => {
        this.measures[name] = Math.max(mm, 0);
        this.update();
        this.change.look();
      },
    });
  }

  /** @param {TriedMend | null} tried */
  #show(tried) {
    const { points = 0, points_before: before = 0, changed_percent: percent = 0 } = tried ?? {};
    write(this.told, tried ? say("smooth.told", { before, after: points, percent }) : "");
    this.take.disabled = !tried;
  }
}
