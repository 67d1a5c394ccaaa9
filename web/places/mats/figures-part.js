import { make } from "../../parts/dom.js";
import { Fold } from "../../parts/fold.js";
import { writeAbout, writeArea, writeMinutes } from "../../words/lengths.js";
import { own } from "../../parts/own.js";
import { swatch } from "../../parts/swatch.js";
import { sayMessage } from "../../words/messages.js";
import { say } from "../../words/words.js";
import { reorderButton } from "../papers/buying/reorder-dialog.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Plan} Plan */

/** The figures of a plan that matter: paper, trims, mats, cutting. */
export class FiguresPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    this.figures = make("dl", { class: "figures" });
    this.papers = make("ul", { class: "by-paper" });
    this.warnings = make("div", { class: "stack" });
    this.byPaper = new Fold(say("mats.by-paper"), this.papers);
    this.element = make("div", { class: "stack" }, this.warnings, this.figures, this.byPaper.element, reorderButton(room, "here"));
  }

  /** @param {Plan | null} plan */
  show(plan) {
    this.element.hidden = !plan || plan.trims.length + plan.warnings.length === 0;
    if (!plan) {
      for (const part of [this.figures, this.papers, this.warnings]) part.replaceChildren();
      return;
    }
    const { unit } = this.room;
    const sum = (/** @type {number[]} */ values) => values.reduce((total, each) => total + each, 0);
    this.warnings.replaceChildren(...plan.warnings.map((warning) => make("p", { class: "trouble" }, sayMessage(warning, unit))));
    this.figures.replaceChildren(
      figure(say("mats.area"), writeArea(sum(Object.values(plan.paper_area_mm2)), unit)),
      figure(say("mats.sheets"), String(sum(Object.values(plan.sheets)))),
      figure(say("mats.mats", { count: plan.mats.length }), say("mats.trims", { count: plan.trims.length })),
      figure(say("mats.pieces-cut"), String(sum(plan.trims.map(({ pieces }) => pieces.length)))),
      figure(say("mats.cut"), cutLength(plan.cut_length_mm, unit)),
      figure(say("mats.time"), writeMinutes(plan.seconds)),
    );
    this.byPaper.show(String(Object.keys(plan.paper_area_mm2).length));
    this.papers.replaceChildren(...Object.keys(plan.paper_area_mm2).map((id) => this.#paper(id, plan)));
  }

  /**
   * @param {string} id
   * @param {Plan} plan
   */
  #paper(id, plan) {
    const { papers, paint, unit } = this.room;
    const paper = papers.get(id);
    const sheets = own(plan.sheets, id) ?? 0;
    return make(
      "li",
      {},
      paper ? swatch(paint, paper, 28, 28) : null,
      make("span", {}, paper?.name ?? id),
      make(
        "small",
        { class: "soft" },
        say(sheets > 0 ? "mats.of-paper" : "mats.of-scraps", {
          area: writeArea(own(plan.paper_area_mm2, id) ?? 0, unit),
          count: sheets,
        }),
      ),
    );
  }
}

/**
 * @param {string} name
 * @param {string} value
 */
function figure(name, value) {
  return make("div", {}, make("dt", {}, name), make("dd", {}, value));
}

/**
 * To the inch or centimetre.
 *
 * @param {number} mm
 * @param {string} unit
 */
function cutLength(mm, unit) {
  const step = unit === "in" ? 25.4 : 10;
  return writeAbout([Math.round(mm / step) * step], unit);
}
