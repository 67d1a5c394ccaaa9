import { make } from "../parts/dom.js";
import { sentenceOf } from "../parts/sentence.js";
import { swatch } from "../parts/swatch.js";
import { tick } from "../project/edits.js";
import { say } from "../words/words.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */
/** @typedef {import("../desk/types.js").Checklist} Checklist */
/** @typedef {import("../desk/types.js").GlueStep} GlueStep */
/** @typedef {import("../desk/types.js").Backing} Backing */

/** The pieces in the order of gluing, by paper, to tick while gluing. */
export class GlueList {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    /** @type {Backing | null} */
    this.backing = null;
    /** @type {Map<number, number>} */
    this.pieces = new Map();
    this.ordering = false;
    /** @type {Map<number, HTMLInputElement>} */
    this.boxes = new Map();
    this.progress = make("p", { class: "soft", role: "status" });
    this.bar = make("progress", { class: "bar", "aria-label": say("glue.title") });
    this.groups = make("div", { class: "glue-groups" });
    this.element = make("div", { class: "glue" }, this.progress, this.bar, this.groups, make("p", { class: "soft small" }, say("glue.caution")));
  }

  /** The piece behind an opening, null where it stays open. @param {number} opening */
  pieceOf(opening) {
    return this.pieces.get(opening) ?? null;
  }

  update() {
    const { bench, project } = this.room;
    if (bench.backing !== this.backing) this.renew();
    const ticked = new Set(project.ticked);
    for (const [piece, box] of this.boxes) box.checked = ticked.has(piece);
    if (this.ordering) {
      this.bar.removeAttribute("value");
      this.progress.textContent = say("glue.ordering");
      return;
    }
    const count = this.boxes.size;
    const done = [...this.boxes.keys()].filter((piece) => ticked.has(piece)).length;
    this.bar.max = Math.max(1, count);
    this.bar.value = done;
    this.progress.textContent =
      count > 0 && done === count ? say("glue.all-done") : say("glue.progress", { done, count });
  }

  /** Asks for the order anew. */
  renew() {
    const { bench, desk, project } = this.room;
    const { backing } = bench;
    this.backing = backing;
    this.boxes.clear();
    this.groups.replaceChildren();
    if (!backing) return;
    this.ordering = true;
    this.pieces = new Map(
      backing.pieces.flatMap((piece) => piece.openings.map((opening) => /** @type {const} */ ([opening, piece.number]))),
    );
    desk.checklist(project).then(
      (checklist) => {
        if (this.room.bench.backing !== backing) return;
        this.ordering = false;
        this.#build(checklist);
      },
      (error) => {
        this.ordering = false;
        this.progress.textContent = sentenceOf(error);
      },
    );
  }

  /** @param {Checklist} checklist */
  #build({ groups }) {
    this.boxes.clear();
    this.groups.replaceChildren(
      ...groups.map(({ paper, band, bands, steps }) => {
        const known = this.room.papers.get(paper);
        const name = known?.name ?? paper;
        return make(
          "section",
          { class: "glue-group" },
          make(
            "h3",
            {},
            known ? swatch(this.room.paint, known, 28, 28) : null,
            bands > 1 ? say("glue.band", { paper: name, band, bands }) : name,
          ),
          make("ul", {}, ...steps.map((step) => this.#row(step))),
        );
      }),
    );
    this.update();
    this.room.repaint(null);
  }

  /** @param {GlueStep} step */
  #row({ piece, openings, interchangeable_with: others, lets_set: letsSet }) {
    const box = make("input", {
      type: "checkbox",
      onchange: () => this.room.store.edit("", (project) => tick(project, [piece], box.checked)),
    });
    this.boxes.set(piece, box);
    const notes = [
      letsSet ? say("glue.lets-set") : "",
      openings.length > 1 ? say("glue.behind", { openings: openings.join(", ") }) : "",
      others.length > 0 ? say("glue.swap", { others: others.join(", ") }) : "",
    ].filter(Boolean);
    return make(
      "li",
      {},
      make(
        "label",
        { class: "glue-row" },
        box,
        make("span", {}, say("glue.piece", { number: piece })),
        notes.length > 0 ? make("small", { class: "soft" }, notes.join("; ")) : null,
      ),
    );
  }
}
