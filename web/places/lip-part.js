import { Choice } from "../parts/choice.js";
import { make } from "../parts/dom.js";
import { Fold } from "../parts/fold.js";
import { LengthField } from "../parts/length-field.js";
import { writeAbout, writeAtLeast, writeSet } from "../words/lengths.js";
import { Toggle } from "../parts/toggle.js";
import { amend } from "../project/edits.js";
import { say } from "../words/words.js";
import { OffersPart } from "./offers-part.js";
import { PunchesPart } from "./punches-part.js";
import { StrengthKey } from "./strength-key.js";
import { WholeBackPart } from "./whole-back-part.js";
import { showTrouble } from "../parts/trouble.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */

/** Bars narrower than this are spanned by a shared piece, to start with (from memory, no published source). */
const SHARED_BAR_MM = 2;

/** What is set sometimes, each folded with its value: the lip, pieces, the whole-back; and finer settings. */
export class LipPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    this.mode = /** @type {Choice<string>} */ (
      new Choice(null, (mode) => this.#choose("lip mode", { mode }))
    );
    this.lip = this.#field("design.lip", "lip_mm");
    this.least = this.#field("design.least-lip", "least_lip_mm");
    this.gap = this.#field("design.gap", "gap_mm");
    this.clearance = this.#field("design.clearance", "clearance_mm");
    this.edge = this.#field("design.edge-margin", "edge_margin_mm");
    this.share = new Toggle("design.share", (on) => this.#choose("share", { shared_bar_mm: on ? SHARED_BAR_MM : null }));
    this.shared = this.#field("design.shared-bar", "shared_bar_mm");
    this.saved = make("p", { class: "soft", "aria-live": "polite" });
    this.joins = new Toggle("design.joins", (joins) => room.session.take({ joins, active: null }));
    this.strength = new Toggle("design.strength", (strength) => room.session.take({ strength }));
    this.key = new StrengthKey();
    this.offers = new OffersPart(room);
    this.punches = new PunchesPart(room);
    this.whole = new WholeBackPart(room);
    this.lips = new Toggle("design.lips", (lips) => room.session.take({ lips }));
    this.figures = make("dl", { class: "figures", "aria-live": "polite" });
    this.trouble = make("div", { class: "trouble", role: "alert" });
    this.lipFold = new Fold(say("design.backing"), this.lip.element, this.mode.element, this.lips.element, this.figures);
    this.pieceFold = new Fold(
      say("design.pieces"),
      this.share.element,
      this.shared.element,
      this.joins.element,
      this.saved,
      this.offers.element,
      this.punches.element,
    );
    this.wholeFold = new Fold(say("design.behind"), this.whole.element);
    this.finer = new Fold(
      say("design.settings"),
      make("div", { class: "fields" }, this.least.element, this.gap.element, this.clearance.element, this.edge.element),
      this.strength.element,
      this.key.element,
    );
    this.element = make(
      "section",
      { class: "part depths" },
      this.trouble,
      this.lipFold.element,
      this.pieceFold.element,
      this.wholeFold.element,
      this.finer.element,
    );
  }

  update() {
    const { project, bench, unit, session } = this.room;
    const choices = project.backing;
    showTrouble(this.trouble, bench.trouble.get("backing") ?? null, unit);
    this.mode.show(
      [
        { value: "fitted", text: say("design.mode-fitted"), help: "design.mode-fitted" },
        { value: "uniform", text: say("design.mode-uniform"), help: "design.mode-uniform" },
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
    this.strength.show(session.hand.strength);
    this.key.show(session.hand.strength, project.limits.bar_mm, unit);
    this.punches.update();
    this.whole.update();
    this.offers.update();
    this.lips.show(session.hand.lips);
    this.#showFigures();
    this.#showValues();
  }

  /** How all is set, in the lines of the folds. */
  #showValues() {
    const { project, bench, unit } = this.room;
    const { lip_mm: lip, least_lip_mm: least, gap_mm: gap, whole_back: whole } = project.backing;
    this.lipFold.show(writeSet(lip, unit));
    this.pieceFold.show(bench.backing ? String(bench.backing.pieces.length) : "");
    const paper = whole && this.room.papers.get(whole.paper);
    this.wholeFold.show(whole ? (paper?.name ?? "") : say("design.behind-none"));
    this.finer.show(`${writeSet(least, unit)} · ${writeSet(gap, unit)}`);
  }

  /** What the lip comes to. */
  #showFigures() {
    const { bench, unit } = this.room;
    const { backing } = bench;
    const has = backing !== null && backing.pieces.length > 0;
    this.figures.hidden = !has;
    if (!has) return;
    const least = Math.min(...backing.pieces.map((piece) => piece.lip_min_mm));
    const medians = backing.pieces.map((piece) => piece.lip_median_mm).sort((one, other) => one - other);
    const median = medians[Math.floor(medians.length / 2)] ?? 0;
    const figures = [
      [say("design.lip-narrowest"), writeAbout([least], unit)],
      [say("design.lip-usual"), writeAbout([median], unit)],
      [say("design.lip-everywhere"), writeAbout([backing.uniform_lip_mm], unit)],
      ...(backing.smallest_width_mm === null ? [] : [[say("design.smallest-width"), writeAtLeast(backing.smallest_width_mm, unit)]]),
    ];
    this.figures.replaceChildren(
      ...figures.map(([name, value]) => make("div", {}, make("dt", {}, name ?? ""), make("dd", {}, value ?? ""))),
    );
  }

  /**
   * @param {import("../words/words.js").Key} name
   * @param {"lip_mm" | "least_lip_mm" | "gap_mm" | "clearance_mm" | "edge_margin_mm" | "shared_bar_mm"} field
   */
  #field(name, field) {
    return new LengthField(name, {
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
