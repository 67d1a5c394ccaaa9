import { make, write } from "../../../parts/dom.js";
import { say } from "../../../words/words.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */
/** @typedef {import("../../../words/words.js").Key} Key */

/** How alike openings must be to count as alike: a slider that lights up a group on the table as it moves. */
export class LikenessField {
  /**
   * @param {Workroom} room
   * @param {() => void} changed  once others count as alike
   */
  constructor(room, changed) {
    this.room = room;
    this.changed = changed;
    this.said = make("output", { class: "soft small", "aria-live": "polite" });
    this.slider = make("input", {
      help: "likeness",
      type: "range",
      min: 0,
      step: 1,
      class: "slider",
      "aria-label": say("likeness"),
      oninput: () => this.#light(),
      onchange: () => this.#set(),
      onblur: () => room.session.take({ likened: null }),
    });
    this.element = make(
      "div",
      { class: "likeness" },
      make("p", { class: "soft small", "aria-hidden": "true" }, say("likeness.title")),
      make("div", { class: "likeness-ends", "aria-hidden": "true" }, make("span", {}, say("likeness.same")), make("span", {}, say("likeness.rough"))),
      this.slider,
      this.said,
    );
  }

  update() {
    const { likeness } = this.room;
    void likeness.seek(() => {
      this.update();
      this.changed();
    });
    this.element.hidden = !likeness.known;
    if (!likeness.known) return;
    this.slider.max = String(likeness.known.groups.length - 1);
    if (this.room.session.hand.likened === null) this.slider.value = String(likeness.degree);
    this.#tell(this.slider.valueAsNumber);
  }

  #light() {
    const degree = this.slider.valueAsNumber;
    this.room.session.take({ likened: degree });
    this.#tell(degree);
  }

  #set() {
    const likeness = this.slider.valueAsNumber;
    this.room.store.edit("likeness", (project) => ({ ...project, likeness }));
    this.changed();
  }

  /** @param {number} degree */
  #tell(degree) {
    const groups = this.room.likeness.groups(degree);
    const figures = { count: groups.length, groups: new Set(groups).size };
    const said = `${say(/** @type {Key} */ (`likeness.${degree}`))} ${say("likeness.count", figures)}`;
    this.slider.setAttribute("aria-valuetext", said);
    write(this.said, said);
  }
}
