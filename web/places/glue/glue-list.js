import { make } from "../../parts/dom.js";
import { Fold } from "../../parts/fold.js";
import { swatch } from "../../parts/swatch.js";
import { sayMessage } from "../../words/messages.js";
import { say } from "../../words/words.js";
import { bitStep, motifName, partSteps } from "./glue-steps.js";
import { nameOf, notesOf } from "./step-notes.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").GlueGroup} GlueGroup */
/** @typedef {import("../../desk/types.js").LooseBit} LooseBit */
/** @typedef {import("./glue-steps.js").PartStep} PartStep */
/** @typedef {import("../../desk/types.js").Paper} Paper */

/** All pieces in the order of gluing, by paper, to tick; folded away, since the next one stands above. */
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
    this.groups = make("div", { class: "glue-groups" });
    this.fold = new Fold(say("glue.all-pieces"), this.groups);
    this.element = this.fold.element;
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
    this.fold.show(say("mats.pieces", { count: this.rows.size }));
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
    this.element.hidden = groups.length + bits.length === 0;
    this.groups.replaceChildren(...groups.map((group) => this.#group(group)), ...(bits.length > 0 ? [this.#bits(bits)] : []));
  }

  /** @param {readonly LooseBit[]} bits */
  #bits(bits) {
    const head = make("h3", {}, make("span", {}, say("glue.bits"), make("small", { class: "soft" }, say("glue.bits-last"))));
    return make(
      "section",
      { class: "glue-group" },
      head,
      make("ul", { class: "glue-chips" }, ...bits.map((bit) => this.#row(bitStep(bit)))),
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
    const alike = alikeWithin(group.steps);
    return make(
      "section",
      { class: "glue-group" },
      head,
      make("ul", { class: "glue-chips" }, ...partSteps([group], [], []).map((step) => this.#row(step))),
      alike.length > 0 ? make("p", { class: "soft small" }, sayMessage({ key: "glue.alike-sets", figures: { sets: alike } }, this.room.unit)) : null,
    );
  }

  /** @param {Paper} paper */
  #look(paper) {
    return swatch(this.room.paint, paper, 28, 28);
  }

  /** @param {PartStep} step */
  #row(step) {
    const name = [nameOf(step), ...notesOf(step)].join(". ");
    const box = make("input", { type: "checkbox", "aria-label": name, onchange: () => this.glue(step, box.checked) });
    const row = make("label", { help: "kind-tick", class: "glue-chip", title: name }, box, make("span", {}, step.key));
    this.rows.set(step.key, { row, box });
    return make("li", {}, row);
  }
}

/**
 * The sets of pieces that may take each other's places.
 *
 * @param {GlueGroup["steps"]} steps
 */
function alikeWithin(steps) {
  const here = new Set(steps.map(({ piece }) => piece));
  const sets = steps.map(({ piece, interchangeable_with: others }) =>
    [piece, ...others.filter((other) => here.has(other))].sort((one, other) => one - other),
  );
  return [...new Map(sets.map((set) => [set.join(), set])).values()].filter(({ length }) => length > 1);
}

/**
 * What is glued here: a motif, or where on the card a band lies, as seen by who glues.
 *
 * @param {GlueGroup} group
 */
function sectionName({ band, bands, ...group }) {
  if (group.motif !== null) return motifName(group);
  if (bands === 1) return "";
  if (band === 1) return say("glue.band-far");
  if (band === bands) return say("glue.band-near");
  return bands === 3 ? say("glue.band-middle") : say("glue.band", { band, bands });
}
