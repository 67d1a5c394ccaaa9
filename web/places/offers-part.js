import { make } from "../parts/dom.js";
import { refill } from "../parts/refill.js";
import { amend } from "../project/edits.js";
import { say } from "../words/words.js";
import { nameOf, sizeOf } from "./simple-shape.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */
/** @typedef {import("../desk/types.js").Offer} Offer */

/** Punches and rectangles that would do instead of cut pieces; each may be taken or given back. */
export class OffersPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    /** @type {readonly unknown[]} */
    this.shown = [];
    this.count = make("summary", { help: "kind-offers" });
    this.list = make("ul", { class: "offers" });
    this.element = make("details", { class: "fold" }, this.count, this.list);
  }

  update() {
    const { bench, project, unit } = this.room;
    const offers = (bench.backing?.offers ?? []).filter(({ cut_in }) => cut_in === null || cut_in === unit);
    const taken = project.backing.simple_shapes;
    const shapes = bench.backing?.shapes ?? {};
    this.element.hidden = offers.length + taken.length === 0;
    const seen = [bench.backing, taken, unit];
    if (seen.every((value, at) => value === this.shown[at])) return;
    this.shown = seen;
    this.count.textContent = say("design.offers", { count: offers.length + taken.length });
    const isTaken = (/** @type {Offer} */ { piece }) => taken.some(([opening]) => opening === this.#openingOf(piece));
    refill(this.list, [
      ...taken.map(([opening, name]) => this.#row(say("design.punched", { opening, name: nameOf(name, shapes, unit) }), "design.punch-back", () => this.#put(opening, null))),
      ...offers
        .filter((offer) => !isTaken(offer))
        .map((offer) => {
          const opening = this.#openingOf(offer.piece);
          const key = /** @type {const} */ (`design.offer-${offer.cut_in === null ? offer.shape.form : "cuts"}`);
          const sentence = say(key, { opening, size: sizeOf(offer.shape, unit) });
          return this.#row(sentence, "design.punch-take", () => this.#put(opening, offer.name));
        }),
    ]);
  }

  /** @param {number} piece */
  #openingOf(piece) {
    return this.room.bench.backing?.pieces.find(({ number }) => number === piece)?.openings[0] ?? piece;
  }

  /**
   * @param {string} sentence
   * @param {import("../words/words.js").Key} key
   * @param {() => void} act
   */
  #row(sentence, key, act) {
    return make(
      "li",
      {},
      make("span", {}, sentence),
      make("button", { help: "kind-offer", type: "button", class: "button", "aria-label": `${say(key)}: ${sentence}`, onclick: act }, say(key)),
    );
  }

  /**
   * @param {number} opening
   * @param {string | null} name  of the shape; null for a cut piece
   */
  #put(opening, name) {
    this.room.store.edit("", (project) => {
      const others = project.backing.simple_shapes.filter(([number]) => number !== opening);
      return amend(project, "backing", { simple_shapes: name === null ? others : [...others, [opening, name]] });
    });
  }
}
