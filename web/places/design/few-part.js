import { make } from "../../parts/dom.js";
import { writeSet } from "../../words/lengths.js";
import { amend } from "../../project/edits.js";
import { spotPicture } from "../../stage/spot-picture.js";
import { say } from "../../words/words.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").FewerPieces} FewerPieces */

const PICTURE_PX = 88;
/** The golden angle in degrees: hues of groups that follow one another differ. */
const NEXT_HUE = 137.5;

/** Offers, where it pays, that neighbours of one paper share pieces, with a picture of who would share with whom. */
export class FewPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    /** What is shown. @type {FewerPieces | null} */
    this.offer = null;
    this.element = make("div", { class: "few" });
  }

  update() {
    const offer = this.room.bench.backing?.fewer ?? null;
    this.element.hidden = !offer;
    if (offer === this.offer) return;
    this.offer = offer;
    this.element.replaceChildren(...(offer ? this.#shown(offer) : []));
  }

  /** @param {FewerPieces} offer */
  #shown({ limit_mm: limit, pieces, shared }) {
    const { room } = this;
    const { shapes, bench, unit } = room;
    const tints = shared.flatMap((numbers, group) =>
      numbers.flatMap((number) => {
        const path = shapes?.byNumber.get(number)?.path;
        return path ? [{ path, colour: `hsl(${Math.round(group * NEXT_HUE) % 360} 55% 60%)` }] : [];
      }),
    );
    const now = bench.backing?.pieces.length ?? 0;
    return [
      shapes ? spotPicture(PICTURE_PX, shapes.card, shapes.box, tints) : "",
      make(
        "div",
        { class: "few-words" },
        make("p", {}, say("few.offer", { count: pieces, now, limit: writeSet(limit, unit) })),
        make(
          "button",
          {
            help: "few.take",
            type: "button",
            class: "button",
            onclick: () => room.store.edit("share", (project) => amend(project, "backing", { shared_bar_mm: limit })),
          },
          say("few.take"),
        ),
      ),
    ];
  }
}
