import { make } from "../../parts/dom.js";
import { swatch } from "../../parts/swatch.js";
import { say } from "../../words/words.js";
import { notesOf } from "./step-notes.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").GlueGroup} GlueGroup */
/** @typedef {import("../../desk/types.js").GlueStep} GlueStep */
/** @typedef {import("../../desk/types.js").Paper} Paper */

/** All pieces in the order of gluing, by paper, to tick. */
export class GlueList {
  /**
   * @param {Workroom} room
   * @param {(piece: number, glued: boolean) => void} glue
   */
  constructor(room, glue) {
    this.room = room;
    this.glue = glue;
    /** @type {Map<number, {row: HTMLElement, box: HTMLInputElement}>} */
    this.rows = new Map();
    /** The groups' headings, each of which begins with its paper's look. @type {{paper: Paper, head: HTMLElement}[]} */
    this.heads = [];
    this.pictures = 0;
    this.element = make("div", { class: "glue-groups" });
  }

  /**
   * @param {GlueStep | null} current
   * @param {ReadonlySet<number>} ticked
   */
  show(current, ticked) {
    for (const [piece, { row, box }] of this.rows) {
      box.checked = ticked.has(piece);
      if (piece === current?.piece) row.setAttribute("aria-current", "step");
      else row.removeAttribute("aria-current");
    }
    const { loaded } = this.room.paint;
    if (loaded === this.pictures) return;
    this.pictures = loaded;
    for (const { paper, head } of this.heads) head.firstElementChild?.replaceWith(this.#look(paper));
  }

  /** @param {readonly GlueGroup[]} groups */
  build(groups) {
    this.rows.clear();
    this.heads = [];
    this.element.replaceChildren(...groups.map((group) => this.#group(group)));
  }

  /** @param {GlueGroup} group */
  #group({ paper, band, bands, steps }) {
    const known = this.room.papers.get(paper);
    const name = known?.name ?? paper;
    const head = make(
      "h3",
      {},
      known && this.#look(known),
      make("span", {}, name, bands > 1 ? make("small", { class: "soft" }, bandName(band, bands)) : null),
    );
    if (known) this.heads.push({ paper: known, head });
    return make(
      "section",
      { class: "glue-group" },
      head,
      make("ul", {}, ...steps.map((step) => this.#row(step))),
    );
  }

  /** @param {Paper} paper */
  #look(paper) {
    return swatch(this.room.paint, paper, 28, 28);
  }

  /** @param {GlueStep} step */
  #row(step) {
    const box = make("input", { type: "checkbox", onchange: () => this.glue(step.piece, box.checked) });
    const notes = notesOf(step);
    const row = make(
      "label",
      { class: "glue-row" },
      box,
      make("span", {}, say("glue.piece", { number: step.piece })),
      notes.length > 0 ? make("small", { class: "soft" }, notes.join(". ")) : null,
    );
    this.rows.set(step.piece, { row, box });
    return make("li", {}, row);
  }
}

/**
 * Where on the card a band lies, as seen by who glues.
 *
 * @param {number} band  from 1 at the far edge
 * @param {number} bands
 */
function bandName(band, bands) {
  if (band === 1) return say("glue.band-far");
  if (band === bands) return say("glue.band-near");
  return bands === 3 ? say("glue.band-middle") : say("glue.band", { band, bands });
}
