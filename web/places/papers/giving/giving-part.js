import { Choice } from "../../../parts/choice.js";
import { make, write } from "../../../parts/dom.js";
import { chosen } from "../../../project/edits.js";
import { say } from "../../../words/words.js";
import { LikenessField } from "./likeness-field.js";
import { MotifsPart } from "./motifs-part.js";
import { RowsPart } from "./rows-part.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */
/** @typedef {import("../../../parts/session.js").Hand} Hand */

/** How hands give: what a tap reaches, what a drag does, and whole rows at once. */
export class GivingPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    this.gives = /** @type {Choice<Hand["gives"]>} */ (
      new Choice("papers.gives", (gives) => room.session.take({ gives }))
    );
    this.drag = /** @type {Choice<Hand["drag"]>} */ (
      new Choice("papers.drag", (drag) => room.session.take({ drag }))
    );
    this.drag.element.classList.add("choice-pairs");
    this.rows = new RowsPart(room, {
      fold: "papers.rows",
      give: "papers.row-give",
      groups: () => room.likeness.groups(),
      name: (_group, count) => say("papers.row", { count }),
    });
    this.motifs = new MotifsPart(room);
    this.likeness = new LikenessField(room, () => this.rows.update());
    this.left = make("p", { class: "soft small", "aria-live": "polite" });
    this.element = make(
      "div",
      { class: "stack" },
      this.gives.element,
      this.likeness.element,
      make("div", {}, this.drag.element, make("p", { class: "soft small" }, say("papers.drag-about"))),
      this.left,
      this.motifs.element,
      this.rows.element,
    );
  }

  update() {
    const { session, shapes, project } = this.room;
    this.gives.show(
      [
        { value: "one", text: say("papers.gives-one") },
        { value: "motif", text: say("papers.gives-motif") },
        { value: "alike", text: say("papers.gives-alike") },
        { value: "shape", text: say("papers.gives-shape") },
      ],
      session.hand.gives,
    );
    this.drag.show(
      [
        { value: "sweep", text: say("papers.drag-sweep") },
        { value: "ring", text: say("papers.drag-ring") },
        { value: "box", text: say("papers.drag-box") },
        { value: "look", text: say("papers.drag-look") },
      ],
      session.hand.drag,
    );
    const all = shapes?.openings.length ?? 0;
    const open = all - Object.keys(chosen(project).papers).length;
    const left = open > 0 ? say("papers.open-count", { count: open }) : say("papers.all-backed");
    write(this.left, all > 0 ? left : say("papers.no-openings"));
    this.likeness.update();
    if (session.hand.gives !== "alike") this.likeness.element.hidden = true;
    this.motifs.update();
    this.rows.update();
  }
}
