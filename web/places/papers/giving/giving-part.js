import { make, write } from "../../../parts/dom.js";
import { chosen } from "../../../project/edits.js";
import { say } from "../../../words/words.js";
import { LikenessField } from "./likeness-field.js";
import { MotifsPart } from "./motifs-part.js";
import { RowsPart } from "./rows-part.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */

/** What counts as alike, what is left open, and whole rows at once. */
export class GivingPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
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
      this.likeness.element,
      this.left,
      this.motifs.element,
      this.rows.element,
    );
  }

  update() {
    const { session, shapes, project } = this.room;
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
