import { Choice } from "../parts/choice.js";
import { make } from "../parts/dom.js";
import { LengthField } from "../parts/length-field.js";
import { writeLength, writeSize } from "../parts/lengths.js";
import { amend } from "../project/edits.js";
import { say } from "../words/words.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */
/** @typedef {import("../desk/types.js").PlanChoices} PlanChoices */

/** Mat sizes: the two usual square-foot mats, and A4 and A3 (ISO 216). @type {Record<string, [number, number]>} */
const MATS = { a: [304.8, 304.8], b: [304.8, 609.6], c: [210, 297], d: [297, 420] };

const STEPS = { in: [12.7, 6.35], mm: [10, 5] };

/** How trims and mats are laid out. */
export class MatChoices {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    this.mat = /** @type {Choice<string>} */ (
      new Choice(say("mats.mat-size"), (key) => {
        const [width, height] = MATS[key] ?? [304.8, 304.8];
        this.#choose("mat", { mat_width_mm: width, mat_height_mm: height });
      })
    );
    this.step = /** @type {Choice<string>} */ (
      new Choice(say("mats.step"), (value) =>
        this.#choose("step", { trim_step_mm: value === "free" ? null : Number(value) }),
      )
    );
    this.use = /** @type {Choice<string>} */ (
      new Choice(say("mats.use"), (mat_use) => this.#choose("use", { mat_use }))
    );
    this.spacing = this.#field("mats.spacing", "spacing_mm");
    this.margin = this.#field("mats.margin", "margin_mm");
    this.element = make(
      "section",
      { class: "part" },
      this.mat.element,
      this.step.element,
      this.use.element,
      make("div", { class: "fields" }, this.spacing.element, this.margin.element),
    );
  }

  update() {
    const { project, unit } = this.room;
    const { plan } = project;
    const key = Object.entries(MATS).find(
      ([, [width, height]]) => width === plan.mat_width_mm && height === plan.mat_height_mm,
    )?.[0];
    this.mat.show(
      Object.entries(MATS).map(([value, [width, height]]) => ({
        value,
        text: value === "c" ? "A4" : value === "d" ? "A3" : writeSize(width, height, unit),
      })),
      key ?? null,
    );
    this.step.show(
      [
        ...STEPS[unit === "mm" ? "mm" : "in"].map((mm) => ({ value: String(mm), text: writeLength(mm, unit) })),
        { value: "free", text: say("mats.free") },
      ],
      plan.trim_step_mm === null ? "free" : String(plan.trim_step_mm),
    );
    this.use.show(
      [
        { value: "together", text: say("mats.use-together") },
        { value: "sheets", text: say("mats.use-sheets") },
      ],
      plan.mat_use,
    );
    this.spacing.show(plan.spacing_mm, unit);
    this.margin.show(plan.margin_mm, unit);
  }

  /**
   * @param {import("../words/words.js").Key} name
   * @param {"spacing_mm" | "margin_mm"} field
   */
  #field(name, field) {
    return new LengthField(say(name), {
      read: (text) => this.room.desk.readLength(text, this.room.unit),
      step: (unit) => (unit === "in" ? 25.4 / 32 : 0.5),
      change: (mm) => this.#choose(name, { [field]: mm }),
    });
  }

  /**
   * @param {string} name
   * @param {Partial<PlanChoices>} change
   */
  #choose(name, change) {
    this.room.store.edit(name, (project) => amend(project, "plan", change));
  }
}
