import { Choice } from "../../parts/choice.js";
import { make } from "../../parts/dom.js";
import { Fold } from "../../parts/fold.js";
import { LengthField } from "../../parts/length-field.js";
import { amend } from "../../project/edits.js";
import { writeAbout, writeSet } from "../../words/lengths.js";
import { say } from "../../words/words.js";
import { MATS, nameOfMat } from "./mat-sizes.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").PlanChoices} PlanChoices */
/** @typedef {"spacing_mm" | "margin_mm" | "mat_width_mm" | "mat_height_mm" | "mat_rim_mm" | "least_scrap_mm"} LengthName */

/** What stands for a mat of another size. */
const CUSTOM = "custom";

const STEPS = [12.7, 6.35, 10, 5];
const GRIDS = [25.4, 12.7, 10, 5];

/** How trims and mats are laid out. */
export class MatChoices {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    this.asks = false;
    this.mat = this.#choice("mats.mat-size", (key) => this.#size(key));
    this.width = this.#field("mats.mat-width", "mat_width_mm");
    this.height = this.#field("mats.mat-height", "mat_height_mm");
    this.grid = this.#choice("mats.grid", (value) => this.#choose("grid", { mat_grid_mm: Number(value) }));
    this.step = this.#choice("mats.step", (value) =>
      this.#choose("step", { trim_step_mm: value === "free" ? null : Number(value) }),
    );
    this.shape = this.#choice("mats.shape", (trim_shape) => this.#choose("shape", { trim_shape }));
    this.use = this.#choice("mats.use", (mat_use) => this.#choose("use", { mat_use }));
    this.spacing = this.#field("mats.spacing", "spacing_mm");
    this.margin = this.#field("mats.margin", "margin_mm");
    this.rim = this.#field("mats.rim", "mat_rim_mm", true);
    this.scrap = this.#field("mats.least-scrap", "least_scrap_mm");
    this.custom = make("div", { class: "fields" }, this.width.element, this.height.element);
    this.matFold = new Fold(say("mats.mat-size"), this.mat.element, this.custom, this.grid.element);
    this.trimFold = new Fold(say("mats.trims-kind"), this.step.element, this.shape.element, this.use.element);
    this.finer = new Fold(
      say("design.settings"),
      make("div", { class: "fields" }, this.spacing.element, this.margin.element, this.rim.element, this.scrap.element),
    );
    this.element = make(
      "section",
      { class: "part depths" },
      this.matFold.element,
      this.trimFold.element,
      this.finer.element,
    );
  }

  update() {
    const { project, unit } = this.room;
    const { plan } = project;
    const known = Object.entries(MATS).find(
      ([, [width, height]]) => width === plan.mat_width_mm && height === plan.mat_height_mm,
    )?.[0];
    const isCustom = this.asks || known === undefined;
    this.mat.show(
      [
        ...Object.keys(MATS).map((value) => ({ value, text: nameOfMat(value, unit) })),
        { value: CUSTOM, text: say("mats.custom") },
      ],
      isCustom ? CUSTOM : (known ?? CUSTOM),
    );
    this.custom.hidden = !isCustom;
    const lengths = (/** @type {number[]} */ values) =>
      values.map((mm) => ({ value: String(mm), text: mm % 5 === 0 ? writeSet(mm, "mm") : writeSet(mm, "in") }));
    this.grid.show(lengths(GRIDS), String(plan.mat_grid_mm));
    this.step.show(
      [...lengths(STEPS), { value: "free", text: say("mats.free") }],
      plan.trim_step_mm === null ? "free" : String(plan.trim_step_mm),
    );
    this.shape.show(
      [
        { value: "any", text: say("mats.shape-any") },
        { value: "square", text: say("mats.shape-square") },
        { value: "long", text: say("mats.shape-long") },
      ],
      plan.trim_shape,
    );
    this.use.show(
      [
        { value: "together", text: say("mats.use-together") },
        { value: "sheets", text: say("mats.use-sheets") },
      ],
      plan.mat_use,
    );
    this.width.show(plan.mat_width_mm, unit, project.id);
    this.height.show(plan.mat_height_mm, unit, project.id);
    this.spacing.show(plan.spacing_mm, unit, project.id);
    this.margin.show(plan.margin_mm, unit, project.id);
    this.rim.show(plan.mat_rim_mm, unit, project.id);
    this.scrap.show(plan.least_scrap_mm, unit, project.id);
    this.matFold.show(writeAbout([plan.mat_width_mm, plan.mat_height_mm], unit));
    this.trimFold.show(plan.trim_step_mm === null ? say("mats.free") : writeSet(plan.trim_step_mm, unit));
    this.finer.show(`${writeSet(plan.spacing_mm, unit)} · ${writeSet(plan.margin_mm, unit)}`);
  }

  /** @param {string} key  of a mat */
  #size(key) {
    const size = MATS[key];
    this.asks = !size;
    if (size) this.#choose("mat", { mat_width_mm: size[0], mat_height_mm: size[1] });
    else this.update();
  }

  /**
   * @param {import("../../words/words.js").Key} name
   * @param {(value: string) => void} choose
   */
  #choice(name, choose) {
    return /** @type {Choice<string>} */ (new Choice(name, choose));
  }

  /**
   * @param {import("../../words/words.js").Key} name
   * @param {LengthName} field
   * @param {boolean} [none]  whether it may be zero
   */
  #field(name, field, none = false) {
    return new LengthField(name, {
      read: (text) => (none && text.trim() === "0" ? Promise.resolve(0) : this.room.desk.readLength(text, this.room.unit)),
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
