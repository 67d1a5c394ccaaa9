import { icon, make } from "../parts/dom.js";
import { Tabs } from "../parts/tabs.js";
import { toTop } from "../parts/to-top.js";
import { NumbersLayer } from "../stage/layers/numbers-layer.js";
import { StepLayer } from "../stage/layers/step-layer.js";
import { say } from "../words/words.js";
import { finishedDialog } from "./finished/finished-dialog.js";
import { pieceScene, seamsLayer } from "./front.js";
import { PlanSeeker } from "./plan-seeker.js";
import { pieceKey } from "./glue/glue-steps.js";
import { GluingPart } from "./glue/gluing-part.js";
import { TakePart } from "./glue/take-part.js";
import { TONES } from "../stage/colours.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */
/** @typedef {"take" | "glue"} PartName */

/** Glue-up: the sheets to take away, then which piece goes where, one step at a time. */
export class GluePlace {
  /**
   * @param {Workroom} room
   * @param {() => void} toDesign
   * @param {{recolour: () => void, next: () => void}} ways  on from the finished work
   */
  constructor(room, toDesign, ways) {
    this.room = room;
    this.name = /** @type {const} */ ("glue-up");
    this.tapTable = null;
    this.sweeps = false;
    this.seeker = new PlanSeeker(room, this.name);
    this.take = new TakePart(room, toDesign);
    const see = () => finishedDialog(room, ways);
    this.gluing = new GluingPart(room, { see, ...ways });
    /** @type {PartName} */
    this.part = "take";
    this.tabs = /** @type {Tabs<PartName>} */ (
      new Tabs(
        say("glue.tabs"),
        [
          { name: "take", key: "glue.tab-take", panel: this.take.element },
          { name: "glue", key: "glue.tab-glue", panel: this.gluing.element },
        ],
        (part) => this.#turnTo(part),
      )
    );
    this.panel = make("div", {}, this.tabs.element);
    this.foot = make(
      "button",
      { help: "finished.see", type: "button", class: "button button-wide", onclick: see },
      icon("photo"),
      say("finished.see"),
    );
    room.session.addEventListener("change", () => this.#stayAwake());
  }

  enter() {
    const { bench } = this.room;
    if (!bench.planHolds && bench.planning === null) void bench.seekPlan();
    // Glued from behind: that is how the card lies before the person.
    if (this.part === "glue") this.room.session.take({ mirrored: true });
  }

  update() {
    this.seeker.soon();
    this.tabs.show(this.part);
    if (this.part === "take") this.take.update();
    this.gluing.update();
    // What was glued to the end leads on from there.
    this.foot.hidden = this.part === "glue" && this.gluing.isDone;
  }

  scene() {
    const { room, gluing } = this;
    if (!room.shapes) return null;
    const step = () => (this.part === "glue" ? gluing.current : null);
    const numbered = room.shapes.numberedBy(gluing.backing?.pieces ?? []);
    const numbers = new NumbersLayer(room.shapes, (number) => {
      const piece = gluing.pieceOf(number);
      if (piece === null || step()?.key === pieceKey(piece)) return null;
      if (numbered.get(piece)?.number !== number) return null;
      const glued = this.part === "glue" && room.project.ticked.includes(piece);
      return {
        text: glued ? "✓" : String(piece),
        ink: glued ? TONES.white : TONES.inkDeep,
        ground: glued ? TONES.accent : "rgb(255 253 248 / 92%)",
      };
    });
    const next = new StepLayer(room.shapes, () => {
      const current = step();
      return current && { openings: current.openings, bit: current.bit, text: current.key };
    });
    return pieceScene(room, [seamsLayer(room), numbers, next], room.session.hand.mirrored);
  }

  hint() {
    if (this.part === "take") return say("hint.take");
    return this.room.session.hand.mirrored ? say("hint.glue") : say("hint.glue-front");
  }

  /** @param {number} number */
  give(number) {
    if (this.part === "glue") this.gluing.toggle(number);
  }

  /** @param {PartName} part */
  #turnTo(part) {
    this.part = part;
    this.room.session.take({ mirrored: part === "glue" });
    this.#stayAwake();
    toTop(this.panel);
    this.update();
    this.room.repaint(null);
  }

  #stayAwake() {
    this.gluing.stayAwake(this.room.session.hand.place === "glue-up" && this.part === "glue");
  }
}
