import { make } from "../parts/dom.js";
import { field } from "../parts/field.js";
import { LengthField } from "../parts/length-field.js";
import { Toggle } from "../parts/toggle.js";
import { amend } from "../project/edits.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */
/** @typedef {import("../desk/types.js").WholeBack} WholeBack */

/** How far a whole-back stays within the outside, to start with (from memory, no published source). */
const EDGE_MARGIN_MM = 2;

/** One sheet behind the whole outline: whether, of which paper, how far from the edge, and notches kept or filled. */
export class WholeBackPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    this.on = new Toggle("design.whole-back", (on) => this.#put(on ? this.#first() : null));
    this.paper = make("select", { onchange: () => this.#amend({ paper: this.paper.value }) });
    this.margin = new LengthField("design.whole-margin", {
      read: (text) => room.desk.readLength(text, room.unit),
      step: (unit) => (unit === "in" ? 25.4 / 64 : 0.1),
      change: (edge_margin_mm) => this.#amend({ edge_margin_mm }),
    });
    this.fills = new Toggle("design.whole-fills", (fills_outside_holes) => this.#amend({ fills_outside_holes }));
    this.more = make(
      "div",
      { class: "stack" },
      field("design.whole-paper", this.paper),
      this.margin.element,
      this.fills.element,
    );
    this.element = make("div", {}, this.on.element, this.more);
    /** @type {readonly unknown[] | null} */
    this.papers = null;
  }

  update() {
    const { project, unit } = this.room;
    const { papers } = project.shelf;
    const whole = project.backing.whole_back;
    this.on.show(whole !== null);
    this.on.input.disabled = whole === null && papers.length === 0;
    this.more.hidden = whole === null;
    if (papers !== this.papers) {
      this.papers = papers;
      this.paper.replaceChildren(...papers.map(({ id, name }) => make("option", { value: id }, name)));
    }
    if (!whole) return;
    this.paper.value = whole.paper;
    this.margin.show(whole.edge_margin_mm, unit, project.id);
    this.fills.show(whole.fills_outside_holes);
  }

  /** @returns {WholeBack} */
  #first() {
    return { paper: this.room.project.shelf.papers[0]?.id ?? "", edge_margin_mm: EDGE_MARGIN_MM, fills_outside_holes: false };
  }

  /** @param {Partial<WholeBack>} change */
  #amend(change) {
    this.#put({ ...(this.room.project.backing.whole_back ?? this.#first()), ...change });
  }

  /** @param {WholeBack | null} whole_back */
  #put(whole_back) {
    this.room.store.edit("", (project) => amend(project, "backing", { whole_back }));
  }
}
