import { Choice } from "../parts/choice.js";
import { make } from "../parts/dom.js";
import { tick } from "../project/edits.js";
import { NumbersLayer } from "../stage/layers/numbers-layer.js";
import { say } from "../words/words.js";
import { pieceScene } from "./front.js";
import { GlueList } from "./glue-list.js";
import { SheetsPart } from "./sheets-part.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */

/** Glue-up: which piece goes where, a list to tick, and the sheets to take away. */
export class GluePlace {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    this.name = /** @type {const} */ ("glue-up");
    this.tapTable = null;
    this.sweeps = false;
    this.side = /** @type {Choice<"back" | "front">} */ (
      new Choice(say("glue.side"), (side) => room.session.take({ mirrored: side === "back" }))
    );
    this.list = new GlueList(room);
    this.sheets = new SheetsPart(room);
    this.panel = make(
      "div",
      {},
      this.sheets.element,
      make("section", { class: "part" }, make("h2", {}, say("glue.title")), this.side.element, this.list.element),
    );
    this.foot = null;
  }

  enter() {
    const { bench } = this.room;
    if (!bench.planHolds && bench.planning === null) void bench.seekPlan();
  }

  update() {
    this.side.show(
      [
        { value: "front", text: say("glue.side-front") },
        { value: "back", text: say("glue.side-back") },
      ],
      this.room.session.hand.mirrored ? "back" : "front",
    );
    this.list.update();
    this.sheets.update();
  }

  scene() {
    const { room } = this;
    if (!room.shapes) return null;
    const numbers = new NumbersLayer(room.shapes, (number) => {
      const piece = this.list.pieceOf(number);
      if (piece === null) return null;
      const glued = room.project.ticked.includes(piece);
      return {
        text: glued ? "✓" : String(piece),
        ink: glued ? "#ffffff" : "#1f1b16",
        ground: glued ? "#1c6b57" : "rgb(255 253 248 / 92%)",
      };
    });
    return pieceScene(room, [numbers], room.session.hand.mirrored);
  }

  hint() {
    return this.room.session.hand.mirrored ? say("hint.glue") : say("hint.glue-front");
  }

  /** @param {number} number */
  give(number) {
    const piece = this.list.pieceOf(number);
    if (piece === null) return;
    const glued = this.room.project.ticked.includes(piece);
    this.room.store.edit("", (project) => tick(project, [piece], !glued));
  }
}
