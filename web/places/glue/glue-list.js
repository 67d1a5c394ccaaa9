import { make } from "../../parts/dom.js";
import { swatch } from "../../parts/swatch.js";
import { say } from "../../words/words.js";
import { bitStep, partSteps } from "./glue-steps.js";
import { nameOf, notesOf } from "./step-notes.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").GlueGroup} GlueGroup */
/** @typedef {import("../../desk/types.js").LooseBit} LooseBit */
/** @typedef {import("./glue-steps.js").PartStep} PartStep */
/** @typedef {import("../../desk/types.js").Paper} Paper */

/** All pieces in the order of gluing, by paper, to tick. */
export class GlueList {
  /**
   * @param {Workroom} room
   * @param {(step: PartStep, glued: boolean) => void} glue
   */
  constructor(room, glue) {
    this.room = room;
    this.glue = glue;
    /** @type {Map<string, {row: HTMLElement, box: HTMLInputElement}>} */
    this.rows = new Map();
    /** The groups' headings, each of which begins with its paper's look. @type {{paper: Paper, head: HTMLElement}[]} */
    this.heads = [];
    this.pictures = 0;
    this.element = make("div", { class: "glue-groups" });
  }

  /**
   * @param {PartStep | null} current
   * @param {ReadonlySet<string>} ticked  keys
   */
  show(current, ticked) {
    for (const [key, { row, box }] of this.rows) {
      box.checked = ticked.has(key);
      if (key === current?.key) row.setAttribute("aria-current", "step");
      else row.removeAttribute("aria-current");
    }
    const { loaded } = this.room.paint;
    if (loaded === this.pictures) return;
    this.pictures = loaded;
    for (const { paper, head } of this.heads) head.firstElementChild?.replaceWith(this.#look(paper));
  }

  /**
   * @param {readonly GlueGroup[]} groups
   * @param {readonly LooseBit[]} bits
   */
  build(groups, bits) {
    this.rows.clear();
    this.heads = [];
    this.element.replaceChildren(...groups.map((group) => this.#group(group)), ...(bits.length > 0 ? [this.#bits(bits)] : []));
  }

  /** @param {readonly LooseBit[]} bits */
  #bits(bits) {
    const head = make("h3", {}, make("span", {}, say("glue.bits"), make("small", { class: "soft" }, say("glue.bits-last"))));
    return make(
      "section",
      { class: "glue-group" },
      head,
      make("ul", {}, ...bits.map((bit) => this.#row(bitStep(bit)))),
    );
  }

  /** @param {GlueGroup} group */
  #group(group) {
    const { paper } = group;
    const known = this.room.papers.get(paper);
    const name = known?.name ?? paper;
    const head = make(
      "h3",
      {},
      known && this.#look(known),
      make("span", {}, name, make("small", { class: "soft" }, sectionName(group))),
    );
    if (known) this.heads.push({ paper: known, head });
    return make(
      "section",
      { class: "glue-group" },
      head,
      make("ul", {}, ...partSteps([group], []).map((step) => this.#row(step))),
    );
  }

  /** @param {Paper} paper */
  #look(paper) {
    return swatch(this.room.paint, paper, 28, 28);
  }

  /** @param {PartStep} step */
  #row(step) {
    const box = make("input", { type: "checkbox", onchange: () => this.glue(step, box.checked) });
    const notes = notesOf(step);
    const row = make(
      "label",
      { help: "kind-tick", class: "glue-row" },
      box,
      make("span", {}, nameOf(step)),
      notes.length > 0 ? make("small", { class: "soft" }, notes.join(". ")) : null,
    );
    this.rows.set(step.key, { row, box });
    return make("li", {}, row);
  }
}

/**
 * What is glued here: a motif, or where on the card a band lies, as seen by who glues.
 *
 * @param {GlueGroup} group
 */
function sectionName({ band, bands, motif, motif_name: name }) {
  if (motif !== null) return name || say("motifs.nameless", { number: motif });
  if (bands === 1) return "";
  if (band === 1) return say("glue.band-far");
  if (band === bands) return say("glue.band-near");
  return bands === 3 ? say("glue.band-middle") : say("glue.band", { band, bands });
}
