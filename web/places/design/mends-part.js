import { icon, make } from "../../parts/dom.js";
import { Fold } from "../../parts/fold.js";
import { refill } from "../../parts/refill.js";
import { spotPicture } from "../../stage/spot-picture.js";
import { keyOf, say } from "../../words/words.js";
import { BarHand } from "./bar-hand.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").PlacedMend} PlacedMend */

const PICTURE_PX = 44;
const MOST = 40;

/** The mends that were made: each may be looked at or taken back, or all of them. */
export class MendsPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    this.bars = new BarHand(room);
    /** @type {readonly unknown[]} */
    this.shown = [];
    /** How many of the newest are listed. */
    this.most = MOST;
    this.list = make("ul", { class: "mends" });
    this.more = make("button", { help: "mend.more", type: "button", class: "button-quiet", onclick: () => this.#listMore() });
    this.back = make(
      "button",
      { help: "mend.as-it-came", type: "button", class: "button", onclick: () => void room.change([{ edit: "clear_mends", to: {} }]) },
      icon("undo"),
      say("mend.as-it-came"),
    );
    this.fold = new Fold(say("mend.made"), this.list, this.more, this.back);
    this.element = this.fold.element;
  }

  /** @param {readonly PlacedMend[] | null} mends */
  update(mends) {
    const { project, shapes } = this.room;
    this.element.hidden = project.mends.length === 0;
    this.fold.show(String(project.mends.length));
    if (!mends) return;
    this.bars.follow(mends);
    const { mend: looked } = this.room.session.hand;
    const seen = [mends, looked, this.most];
    if (seen.every((value, at) => value === this.shown[at])) return;
    this.shown = seen;
    this.more.hidden = mends.length <= this.most;
    this.more.textContent = say("mend.more", { count: mends.length - this.most });
    this.room.repaint(null);
    const card = shapes?.card ?? new Path2D();
    refill(
      this.list,
      mends.slice(-this.most).map(({ id, kind, finding, box, is_lost: isLost }) => {
        const name = nameOf(kind, finding);
        return make(
          "li",
          { class: "mend", "aria-current": id === looked ? "true" : null },
          make(
            "button",
            { type: "button", help: "kind-mend-see", class: "mend-see", onclick: () => this.#look(id, box) },
            spotPicture(PICTURE_PX, card, box, []),
            make("span", {}, isLost ? say("mend.lost", { name }) : name),
          ),
          make(
            "button",
            { help: "mend.remove", type: "button", class: "button-icon", "aria-label": say("mend.remove"), onclick: () => void this.room.change([{ edit: "remove_mends", to: { ids: [id] } }]) },
            icon("trash"),
          ),
          this.bars.bar?.id === id ? this.bars.element : null,
        );
      }),
    );
  }

  #listMore() {
    this.most += MOST;
    this.room.session.dispatchEvent(new Event("change"));
  }

  /**
   * @param {string} id
   * @param {import("../../desk/types.js").Box} box
   */
  #look(id, box) {
    this.room.session.take({ mend: id });
    this.room.lookAt(box);
  }
}

/**
 * @param {string} kind
 * @param {string} finding  the code of what it answers
 */
function nameOf(kind, finding) {
  const found = keyOf("finding-name.", finding);
  if (kind === "leave" && found) return say("mend.kind-left", { name: say(found) });
  return say(keyOf("mend.kind-", kind) ?? "mend.kind-other");
}
