import { Choice } from "../parts/choice.js";
import { make } from "../parts/dom.js";
import { LengthField } from "../parts/length-field.js";
import { writeAbout, writeAtLeast } from "../parts/lengths.js";
import { Toggle } from "../parts/toggle.js";
import { amend } from "../project/edits.js";
import { say } from "../words/words.js";
import { CheckList } from "./check-list.js";
import { OffersPart } from "./offers-part.js";
import { PunchesPart } from "./punches-part.js";
import { WholeBackPart } from "./whole-back-part.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */

/** Bars narrower than this are spanned by a shared piece, to start with (from memory, no published source). */
const SHARED_BAR_MM = 2;

/** @type {readonly import("../desk/types.js").Warning[]} */
const NONE = [];

/** The lip for the glue: how wide it should be, and what it comes to. */
export class LipPart {
  /**
   * @param {Workroom} room
   * @param {(warning: import("../desk/types.js").Warning) => import("./check-list.js").Offer[]} offers
   */
  constructor(room, offers) {
    this.room = room;
    this.mode = /** @type {Choice<string>} */ (
      new Choice("", (mode) => this.#choose("lip mode", { mode }))
    );
    this.lip = this.#field("design.lip", "lip_mm");
    this.least = this.#field("design.least-lip", "least_lip_mm");
    this.gap = this.#field("design.gap", "gap_mm");
    this.clearance = this.#field("design.clearance", "clearance_mm");
    this.edge = this.#field("design.edge-margin", "edge_margin_mm");
    this.share = new Toggle(say("design.share"), (on) => this.#choose("share", { shared_bar_mm: on ? SHARED_BAR_MM : null }));
    this.shared = this.#field("design.shared-bar", "shared_bar_mm");
    this.saved = make("p", { class: "soft", "aria-live": "polite" });
    this.joins = new Toggle(say("design.joins"), (joins) => room.session.take({ joins, active: null }));
    this.offers = new OffersPart(room);
    this.punches = new PunchesPart(room);
    this.whole = new WholeBackPart(room);
    this.cautions = new CheckList((warning, at) => this.#seeCaution(warning, at), offers);
    this.lips = new Toggle(say("design.lips"), (lips) => room.session.take({ lips }));
    this.figures = make("p", { class: "soft", "aria-live": "polite" });
    this.trouble = make("p", { class: "trouble", role: "alert" });
    this.element = make(
      "section",
      { class: "part" },
      make("h2", {}, say("design.backing")),
      this.trouble,
      this.mode.element,
      make("div", { class: "fields" }, this.lip.element, this.least.element, this.gap.element, this.clearance.element, this.edge.element),
      this.figures,
      this.lips.element,
      this.share.element,
      this.shared.element,
      this.joins.element,
      this.saved,
      this.cautions.element,
      this.offers.element,
      this.punches.element,
      this.whole.element,
    );
  }

  update() {
    const { project, bench, unit, session } = this.room;
    const choices = project.backing;
    this.trouble.textContent = bench.trouble.get("backing")?.(unit) ?? "";
    this.mode.show(
      [
        { value: "fitted", text: say("design.mode-fitted") },
        { value: "uniform", text: say("design.mode-uniform") },
      ],
      choices.mode,
    );
    this.lip.show(choices.lip_mm, unit, project.id);
    this.least.show(choices.least_lip_mm, unit, project.id);
    this.gap.show(choices.gap_mm, unit, project.id);
    this.clearance.show(choices.clearance_mm, unit, project.id);
    this.edge.show(choices.edge_margin_mm, unit, project.id);
    const shares = choices.shared_bar_mm !== null;
    this.share.show(shares);
    this.shared.element.hidden = !shares;
    this.shared.show(choices.shared_bar_mm ?? SHARED_BAR_MM, unit, project.id);
    const count = bench.backing?.pieces_saved_by_sharing ?? 0;
    this.saved.textContent = shares || count > 0 ? say("design.saved", { count }) : "";
    this.joins.show(session.hand.joins);
    this.punches.update();
    this.whole.update();
    const cautions = bench.backing?.warnings ?? NONE;
    this.cautions.element.hidden = cautions.length === 0;
    this.cautions.show(cautions, session.hand.caution, unit);
    this.offers.update();
    this.lips.show(session.hand.lips);
    this.figures.textContent = this.#figures();
  }

  /**
   * @param {import("../desk/types.js").Warning} warning
   * @param {number} at
   */
  #seeCaution({ at: [x, y] }, at) {
    this.room.session.take({ caution: at });
    this.room.lookAt([x - 4, y - 4, x + 4, y + 4]);
  }

  #figures() {
    const { bench, unit } = this.room;
    const { backing } = bench;
    if (!backing || backing.pieces.length === 0) return "";
    const least = Math.min(...backing.pieces.map((piece) => piece.lip_min_mm));
    const medians = backing.pieces.map((piece) => piece.lip_median_mm).sort((one, other) => one - other);
    const median = medians[Math.floor(medians.length / 2)] ?? 0;
    const sentences = [
      say("design.lip-figures", { least: writeAbout([least], unit), median: writeAbout([median], unit) }),
      say("design.uniform-figure", { lip: writeAbout([backing.uniform_lip_mm], unit) }),
    ];
    if (backing.under_least_lip.length > 0) {
      sentences.push(say("design.under-least", { count: backing.under_least_lip.length }));
    }
    if (backing.smallest_width_mm !== null) {
      sentences.push(say("design.smallest", { width: writeAtLeast(backing.smallest_width_mm, unit) }));
    }
    sentences.push(say("design.nodes", { before: backing.nodes_before, after: backing.nodes_after }));
    return sentences.join(" ");
  }

  /**
   * @param {import("../words/words.js").Key} name
   * @param {"lip_mm" | "least_lip_mm" | "gap_mm" | "clearance_mm" | "edge_margin_mm" | "shared_bar_mm"} field
   */
  #field(name, field) {
    return new LengthField(say(name), {
      read: (text) => this.room.desk.readLength(text, this.room.unit),
      step: (unit) => (unit === "in" ? 25.4 / 64 : 0.1),
      change: (mm) => this.#choose(name, { [field]: mm }),
    });
  }

  /**
   * @param {string} name
   * @param {Partial<import("../desk/types.js").BackingChoices>} change
   */
  #choose(name, change) {
    this.room.store.edit(name, (project) => amend(project, "backing", change));
  }
}
