import { icon, make } from "../parts/dom.js";
import { writeSet } from "../words/lengths.js";
import { refill } from "../parts/refill.js";
import { say } from "../words/words.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */
/** @typedef {import("../desk/types.js").Backing} Backing */

/** A lip below this is none: scissors and machines are no finer (common practice, no published source). */
const NO_LIP_MM = 0.05;
/** The codes of warnings of lips, and how much of the design is shown around one, in mm. */
const CODES = ["narrow-lip", "wanted-lip"];
const AROUND_MM = 6;

/** Says wherever papers are cut and glued which pieces have too little lip, and leads to the places. */
export class NarrowLips {
  /**
   * @param {Workroom} room
   * @param {() => void} toDesign  opens the place where lips are shown and mended
   */
  constructor(room, toDesign) {
    this.room = room;
    this.toDesign = toDesign;
    /** What it tells of. @type {readonly unknown[]} */
    this.told = [];
    this.element = make("div", { class: "narrow-lips", role: "status" });
  }

  update() {
    const { bench, project, unit } = this.room;
    const of = [bench.backing, unit, project.backing.least_lip_mm];
    if (of.every((value, at) => value === this.told[at])) return;
    this.told = of;
    const { bare, narrow } = lacking(bench.backing);
    const least = writeSet(project.backing.least_lip_mm, unit);
    const sentences = [
      bare > 0 ? say("lips.none", { count: bare }) : "",
      narrow > 0 ? say("lips.narrow", { count: narrow, least }) : "",
    ].filter(Boolean);
    const show = make(
      "button",
      { help: "lips.show", type: "button", class: "button", onclick: () => this.#show() },
      say("lips.show"),
    );
    const told = make("p", {}, sentences.join(" "));
    refill(this.element, sentences.length > 0 ? [make("span", {}, icon("warning")), told, show] : []);
  }

  #show() {
    const warning = this.room.bench.backing?.warnings.find(({ code }) => CODES.includes(code));
    this.toDesign();
    this.room.session.take({ lips: true, spot: warning ? { finding: warning.code, at: 0 } : null });
    const [x, y] = warning?.at ?? [];
    if (x === undefined || y === undefined) return;
    this.room.lookAt([x - AROUND_MM, y - AROUND_MM, x + AROUND_MM, y + AROUND_MM]);
  }
}

/**
 * How many pieces have no lip somewhere, and how many less than the least one.
 *
 * @param {Backing | null} backing
 */
function lacking(backing) {
  const under = new Set(backing?.under_least_lip ?? []);
  const pieces = (backing?.pieces ?? []).filter(({ number }) => under.has(number));
  return {
    bare: pieces.filter(({ lip_min_mm: lip }) => lip < NO_LIP_MM).length,
    narrow: pieces.filter(({ lip_min_mm: lip }) => lip >= NO_LIP_MM).length,
  };
}
