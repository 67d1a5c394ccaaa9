import { icon, make, write } from "../../../parts/dom.js";
import { chosen } from "../../../project/edits.js";
import { say } from "../../../words/words.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */

/** After a tap on one opening, offers to do the same to those like it. */
export class AlikeChip {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    /** @type {number[]} */
    this.others = [];
    /** What the offer follows from. @type {readonly unknown[]} */
    this.of = [];
    /** The opening that was tapped and for which the offer is still to be made. @type {number | null} */
    this.tapped = null;
    this.text = make("span", {});
    this.element = make(
      "button",
      { help: "kind-alike", type: "button", class: "chip", hidden: true, onclick: () => this.#do() },
      icon("copy"),
      this.text,
    );
  }

  /** @param {number} number  the opening that was tapped */
  offer(number) {
    this.tapped = number;
    this.of = this.#now;
    requestAnimationFrame(() => setTimeout(() => this.update()));
  }

  /** Makes the offer, once the tap is seen; takes it back once something else was done or is in hand. */
  update() {
    if (this.#now.some((value, at) => value !== this.of[at])) this.hide();
    else if (this.tapped !== null) this.#show(this.tapped);
  }

  /** What was done, and what is in hand to do the same with. */
  get #now() {
    const { picked, tool } = this.room.session.hand;
    return [chosen(this.room.project), picked, tool];
  }

  /** @param {number} number */
  #show(number) {
    const { room } = this;
    const colourway = chosen(room.project);
    const locked = new Set(colourway.locked);
    const locks = locked.has(number);
    const same = (/** @type {number} */ other) =>
      room.session.hand.tool === "lock"
        ? locked.has(other) === locks
        : colourway.papers[other] === colourway.papers[number];
    this.others = room.alikeTo(number).filter((other) => !same(other));
    write(this.text, say("papers.also-alike", { count: this.others.length }));
    this.element.hidden = this.others.length === 0;
    this.tapped = null;
  }

  hide() {
    this.tapped = null;
    this.element.hidden = true;
  }

  #do() {
    const { others } = this;
    this.hide();
    this.room.handle(others);
  }
}
