import { make } from "../../parts/dom.js";
import { writeAbout, writeSet } from "../../words/lengths.js";
import { refill } from "../../parts/refill.js";
import { say } from "../../words/words.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").LighterMend} LighterMend */

/** Where mending all makes another picture of the design: a larger size or thinner bars, each as it was tried. */
export class LighterPart {
  /**
   * @param {Workroom} room
   * @param {(choice: LighterMend) => void} take
   */
  constructor(room, take) {
    this.room = room;
    this.take = take;
    this.said = make("p", { class: "small" });
    this.ways = make("div", { class: "lighter-ways" });
    this.element = make("div", { class: "stack", role: "status" }, this.said, this.ways);
    this.element.hidden = true;
  }

  /**
   * @param {number | null} percent  of the card that mending all changes; null where that is little
   * @param {readonly LighterMend[] | null} choices  null while nothing was tried
   * @param {boolean} isSettled  whether all was tried
   */
  update(percent, choices, isSettled) {
    const { unit, project } = this.room;
    this.element.hidden = percent === null;
    if (percent === null) return;
    const others = (choices ?? []).filter(({ width_mm: width, bar_mm: bar }) => width !== null || bar !== null);
    const limit = writeSet(project.limits.bar_mm, unit);
    const much = Math.round(percent);
    // Thin lines are the reason where thinner ones would do.
    this.said.textContent = others.length > 0 ? say("mend.much", { percent: much, limit }) : say("mend.much-else", { percent: much });
    const buttons = others.map((choice) => make("button", { help: "kind-advice", type: "button", class: "button", onclick: () => this.take(choice) }, this.#words(choice)));
    refill(this.ways, isSettled ? buttons : [...buttons, make("p", { class: "soft" }, say("mend.lighter-seeking"))]);
  }

  /** @param {LighterMend} choice */
  #words({ width_mm: width, bar_mm: bar, changed_percent: changed }) {
    const { unit } = this.room;
    const percent = Math.max(1, Math.round(changed));
    return width === null
      ? say("mend.lighter-bar", { bar: writeSet(bar ?? 0, unit), percent })
      : say("mend.lighter-size", { width: writeAbout([width], unit), percent });
  }
}
