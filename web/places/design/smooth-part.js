import { make, write } from "../../parts/dom.js";
import { Fold } from "../../parts/fold.js";
import { LengthField } from "../../parts/length-field.js";
import { say } from "../../words/words.js";

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
    /** What was tried last, and for which mends. @type {{tried: TriedMend, mends: readonly unknown[]} | null} */
    this.last = null;
    this.fields = /** @type {Measure[]} */ (Object.keys(FIRST)).map((name) => ({ name, field: this.#field(name) }));
    this.told = make("p", { class: "small", role: "status" });
    this.take = make("button", { help: "smooth.take", type: "button", class: "button", onclick: () => void this.#take() }, say("smooth.take"));
    this.fold = new Fold(
      say("smooth.title"),
      make("div", { class: "fields" }, ...this.fields.map(({ field }) => field.element)),
      this.told,
      this.take,
    );
    this.element = this.fold.element;
    this.element.addEventListener("toggle", () => this.#look());
  }

  update() {
    const { project, unit } = this.room;
    const count = project.mends.filter(({ change }) => change.kind === "smooth").length;
    this.fold.show(count > 0 ? String(count) : say("design.behind-none"));
    for (const { name, field } of this.fields) field.show(this.measures[name], unit, project.id);
    if (this.last && this.last.mends !== project.mends) this.#show(null);
  }

  /** What smoothing would change, while it is looked at. @returns {TriedMend | null} */
  get tried() {
    return this.last?.tried ?? null;
  }

  /** @param {Measure} name */
  #field(name) {
    return new LengthField(`smooth.${name}`, {
      read: (text) => this.room.desk.readLength(text, this.room.unit),
      step: (unit) => (unit === "in" ? STEP_IN : STEP_MM),
      change: (mm) => {
        this.measures[name] = Math.max(mm, 0);
        this.update();
        void this.#try();
      },
    });
  }

  /** What it would do is told and shown as long as the fold is open. */
  #look() {
    if (this.element.open) void this.#try();
    else this.#show(null);
  }

  async #try() {
    const { room } = this;
    const { mends } = room.project;
    try {
      const tried = await room.questions.ask("project", (project) => room.desk.tryMend(project, { kind: "smooth", ...this.measures }));
      if (room.project.mends === mends && this.element.open) this.#show({ tried, mends });
    } catch (error) {
      this.#show(null);
      room.notices.tellError(error, { unit: room.unit });
    }
  }

  /** @param {{tried: TriedMend, mends: readonly unknown[]} | null} last */
  #show(last) {
    this.last = last;
    const { points = 0, points_before: before = 0, changed_percent: percent = 0 } = last?.tried ?? {};
    write(this.told, last ? say("smooth.told", { before, after: points, percent }) : "");
    this.take.disabled = !last;
    this.room.repaint(null);
  }

  async #take() {
    const { room, last } = this;
    if (!last) return;
    const box = room.shapes?.box ?? [0, 0, 0, 0];
    await room.mend([{ edit: "add_mends", to: { mends: last.tried.mends, finding: "" } }], [{ ...last.tried, box }]);
  }
}
