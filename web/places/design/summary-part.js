import { make } from "../../parts/dom.js";
import { finest, writeAbout } from "../../words/lengths.js";
import { say } from "../../words/words.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("./findings-part.js").FindingsPart} FindingsPart */

const MOST_PICTURES = 4;

/** A design in one line: openings, what needs mending with pictures of the spots, pieces and the smallest lip, or bars. */
export class SummaryPart {
  /**
   * @param {Workroom} room
   * @param {FindingsPart} findings
   */
  constructor(room, findings) {
    this.room = room;
    this.findings = findings;
    /** @type {readonly unknown[]} */
    this.shown = [];
    this.count = make("h2", { class: "design-count" });
    this.figures = make("dl", { class: "summary" });
    this.spots = make("div", { class: "spots" });
    this.element = make("div", { class: "stack" }, this.count, this.figures, this.spots);
  }

  /**
   * @param {boolean} withPictures  where the findings themselves are not next to it
   * @param {boolean} isSought  whether all mends are known
   */
  update(withPictures, isSought) {
    const { bench, unit } = this.room;
    const { design, backing } = bench;
    const { findings } = this.findings;
    const shown = [design, backing, findings, unit, withPictures, isSought];
    if (!design || shown.every((value, at) => value === this.shown[at])) return;
    this.shown = shown;
    this.count.textContent = say("design.count", { count: design.openings.length });
    const { worth } = this.findings;
    const mends = worth.reduce((sum, { count }) => sum + count, 0);
    const underLeast = backing?.under_least_lip.length ?? 0;
    const lips = (backing?.pieces ?? []).map(({ lip_min_mm: lip }) => lip);
    this.figures.replaceChildren(
      figure(say("summary.mends", { count: mends }), isSought ? String(mends) : "…", mends > 0),
      // Nothing is backed until papers are given: then the bars tell how fine it is.
      ...(lips.length > 0
        ? [
            figure(say("summary.pieces", { count: lips.length }), String(lips.length)),
            figure(say("summary.lip"), lipOf(Math.min(...lips), unit), underLeast > 0),
          ]
        : [figure(say("summary.bar"), design.bars.length > 0 ? writeAbout([Math.min(...design.bars.map(({ width_mm: width }) => width))], unit) : "–")]),
    );
    // The first of each kind, worst first, then the second of each.
    const places = worth.flatMap((finding) => finding.spots.slice(0, MOST_PICTURES).map((_, at) => ({ finding, at })));
    const first = places.toSorted((one, other) => one.at - other.at).slice(0, MOST_PICTURES);
    this.spots.replaceChildren(...(withPictures ? first.map(({ finding, at }) => this.findings.spotButton(finding, at)) : []));
    this.spots.hidden = this.spots.childElementCount === 0;
  }
}

/**
 * @param {number} mm
 * @param {string} unit
 */
function lipOf(mm, unit) {
  return mm < finest(unit) / 2 ? say("summary.no-lip") : writeAbout([mm], unit);
}

/**
 * @param {string} name
 * @param {string} value
 * @param {boolean} [isGrave]
 */
function figure(name, value, isGrave = false) {
  return make("div", { "data-grave": isGrave ? "" : null }, make("dt", {}, name), make("dd", {}, value));
}
