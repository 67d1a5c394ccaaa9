import { Choice } from "../../../parts/choice.js";
import { make } from "../../../parts/dom.js";
import { say } from "../../../words/words.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */
/** @typedef {import("../../../parts/session.js").Hand} Hand */
/** @typedef {import("../../../words/words.js").Key} Key */

/** What a tap reaches and what a drag does, each with its icon. */
const TAPS = /** @type {const} */ (["one", "motif", "alike", "shape"]);
const DRAGS = /** @type {const} */ (["sweep", "ring", "box", "look"]);

/** What a tap and a drag do on the table, where hands do it. */
export class HandPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    this.gives = /** @type {Choice<Hand["gives"]>} */ (new Choice("papers.gives", (gives) => room.session.take({ gives })));
    this.drag = /** @type {Choice<Hand["drag"]>} */ (new Choice("papers.drag", (drag) => room.session.take({ drag })));
    this.element = make("div", { class: "hand-bar" }, this.gives.element, this.drag.element);
  }

  update() {
    const { gives, drag } = this.room.session.hand;
    this.gives.show(
      TAPS.map((value) => ({ value, text: say(`papers.gives-${value}`), icon: `tap-${value}` })),
      gives,
    );
    this.drag.show(
      DRAGS.map((value) => ({ value, text: say(`papers.drag-${value}`), icon: `drag-${value}` })),
      drag,
    );
  }
}
