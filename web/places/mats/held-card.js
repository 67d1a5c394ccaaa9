import { find, icon, make } from "../../parts/dom.js";
import { writeAbout } from "../../words/lengths.js";
import { give } from "../../project/edits.js";
import { isPinned } from "../../project/pins.js";
import { say } from "../../words/words.js";
import { sizeToCut } from "./trim-size.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("./mat-hand.js").MatHand} MatHand */
/** @typedef {import("./mat-hand.js").Grasp} Grasp */

/** What is in hand on the mats, where it lies, and what can be done with it. */
export class HeldCard {
  /**
   * @param {Workroom} room
   * @param {MatHand} hand
   * @param {import("./motifs-part.js").MotifsPart} motifs
   */
  constructor(room, hand, motifs) {
    this.room = room;
    this.hand = hand;
    this.motifs = motifs;
    this.title = make("strong", {});
    this.about = make("small", { class: "soft" });
    this.left = tool("turn", "mats.turn-left", () => hand.turn(-1));
    this.right = tool("turn-right", "mats.turn-right", () => hand.turn(1));
    this.pin = tool("pin", "mats.pin", () => hand.togglePin());
    this.whole = make(
      "button",
      { help: "mats.whole-trim", type: "button", class: "button-quiet", onclick: () => this.#wholeTrim() },
      say("mats.whole-trim"),
    );
    this.paper = make("select", { help: "mats.to-paper", "aria-label": say("mats.to-paper"), onchange: () => this.#give() });
    this.element = make(
      "div",
      { class: "held-card", role: "group", "aria-label": say("mats.in-hand"), hidden: true },
      make("div", { class: "held-words" }, this.title, this.about),
      make(
        "div",
        { class: "held-tools" },
        this.left,
        this.right,
        this.pin,
        this.whole,
        this.paper,
        tool("close", "mats.let-go", () => hand.take(null)),
      ),
    );
  }

  update() {
    const { grasp, room } = this.hand;
    this.element.hidden = !grasp;
    if (!grasp) return;
    const { trim, piece } = grasp;
    const { unit } = room;
    const name = room.papers.get(trim.paper)?.name ?? "";
    this.title.textContent = piece
      ? say("mats.piece-in", { number: piece.number, paper: name })
      : say("mats.trim", { paper: name, size: sizeToCut(trim, unit) });
    const place = say("mats.on-mat", { mat: trim.mat, x: writeAbout([trim.x_mm], unit), y: writeAbout([trim.y_mm], unit) });
    this.about.textContent = [piece ? this.motifs.nameOf(piece.number) : "", place].filter(Boolean).join(" · ");
    for (const button of [this.left, this.right]) button.hidden = !this.hand.canTurn(grasp);
    this.left.hidden ||= !piece;
    const pinned = isPinned(room.project, { trim: trim.id, piece: piece?.number ?? null });
    this.pin.setAttribute("aria-pressed", String(pinned));
    const act = say(pinned ? "mats.unpin" : "mats.pin");
    this.pin.setAttribute("aria-label", act);
    this.pin.title = act;
    this.whole.hidden = this.paper.hidden = !piece;
    if (piece) this.#papers(trim.paper);
    this.#makeRoom();
  }

  /** Goes to the top of the table where it would cover more of what is in hand at the bottom. */
  #makeRoom() {
    if (this.hand.drag) return;
    const card = this.element.getBoundingClientRect();
    const held = this.hand.shape.line.getBoundingClientRect();
    const table = find("#stage", HTMLElement).getBoundingClientRect();
    const isHigh = this.element.hasAttribute("data-high");
    const away = isHigh ? card.bottom - table.top : table.bottom - card.top;
    const low = held.bottom - (table.bottom - away);
    const high = table.top + away - held.top;
    if (low > 0 || high > 0) this.element.toggleAttribute("data-high", low > high);
  }

  /** @param {string} chosen */
  #papers(chosen) {
    if (document.activeElement === this.paper) return;
    this.paper.replaceChildren(
      ...this.room.project.shelf.papers.map(({ id, name }) =>
        make("option", { value: id }, `${this.room.shelfNumber(id)}. ${name}`),
      ),
    );
    this.paper.value = chosen;
  }

  #give() {
    const { grasp, room } = this.hand;
    const piece = room.bench.backing?.pieces.find(({ number }) => number === grasp?.piece?.number);
    const paper = this.paper.value;
    this.paper.blur();
    if (piece) room.store.edit("", (project) => give(project, piece.openings, paper));
  }

  #wholeTrim() {
    const { grasp } = this.hand;
    if (grasp) this.hand.take({ trim: grasp.trim.id, piece: null });
  }
}

/**
 * @param {string} picture
 * @param {import("../../words/words.js").Key} key
 * @param {() => void} act
 */
function tool(picture, key, act) {
  const name = say(key);
  return make("button", { help: key, type: "button", class: "button-icon", "aria-label": name, title: name, onclick: act }, icon(picture));
}
