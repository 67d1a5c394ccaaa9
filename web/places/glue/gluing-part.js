import { Choice } from "../../parts/choice.js";
import { make } from "../../parts/dom.js";
import { sentenceOf } from "../../parts/sentence.js";
import { Wakefulness } from "../../parts/wakefulness.js";
import { tick } from "../../project/edits.js";
import { say } from "../../words/words.js";
import { cautions } from "./cautions.js";
import { GlueList } from "./glue-list.js";
import { StepCard } from "./step-card.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Backing} Backing */
/** @typedef {import("../../desk/types.js").GlueGroup} GlueGroup */
/** @typedef {import("../../desk/types.js").Paper} Paper */
/** @typedef {import("../../desk/types.js").GlueStep & {paper: string}} PaperStep */

/** Gluing, one piece after another: the next one in large, all of them in order to tick. */
export class GluingPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    /** @type {Backing | null} */
    this.backing = null;
    /** The shelf's papers, whose order it follows. @type {readonly Paper[]} */
    this.papers = [];
    /** Piece numbers by opening. @type {Map<number, number>} */
    this.pieces = new Map();
    /** All steps in order, empty until they are known. @type {PaperStep[]} */
    this.steps = [];
    this.wakefulness = new Wakefulness();
    const glue = (/** @type {number} */ piece, /** @type {boolean} */ glued) => this.#glue(piece, glued);
    this.card = new StepCard(room, { glue, again: () => this.#again() });
    this.side = /** @type {Choice<"back" | "front">} */ (
      new Choice(say("glue.side"), (side) => room.session.take({ mirrored: side === "back" }))
    );
    this.list = new GlueList(room, glue);
    this.trouble = make("p", { class: "trouble", role: "alert" });
    this.element = make(
      "div",
      { class: "stack" },
      this.card.element,
      this.trouble,
      this.side.element,
      this.list.element,
      cautions("glue.caution-glue", "glue.caution-small", "glue.caution-makers"),
    );
  }

  /** The step to do next, null where all are done or none is known. @returns {PaperStep | null} */
  get current() {
    const ticked = new Set(this.room.project.ticked);
    return this.steps.find(({ piece }) => !ticked.has(piece)) ?? null;
  }

  /** The piece behind an opening, null where it stays open. @param {number} opening */
  pieceOf(opening) {
    return this.pieces.get(opening) ?? null;
  }

  /** Ticks the piece behind an opening, or takes the tick away. @param {number} opening */
  toggle(opening) {
    const piece = this.pieceOf(opening);
    if (piece !== null) this.#glue(piece, !this.room.project.ticked.includes(piece));
  }

  /** @param {boolean} wanted */
  stayAwake(wanted) {
    this.wakefulness.want(wanted);
  }

  update() {
    const { bench, project, session } = this.room;
    const { papers } = project.shelf;
    if (bench.backing !== this.backing || papers !== this.papers) void this.#order(bench.backing, papers);
    const ticked = new Set(project.ticked);
    this.card.show(this.steps, this.current, ticked);
    this.list.show(this.current, ticked);
    this.side.show(
      [
        { value: "back", text: say("glue.side-back") },
        { value: "front", text: say("glue.side-front") },
      ],
      session.hand.mirrored ? "back" : "front",
    );
  }

  /**
   * Asks for the order of gluing.
   *
   * @param {Backing | null} backing
   * @param {readonly Paper[]} papers  the shelf's, whose order it follows
   */
  async #order(backing, papers) {
    this.backing = backing;
    this.papers = papers;
    this.steps = [];
    this.trouble.textContent = "";
    this.list.build([]);
    this.pieces = new Map(
      (backing?.pieces ?? []).flatMap(({ number, openings }) =>
        openings.map((opening) => /** @type {const} */ ([opening, number])),
      ),
    );
    if (!backing || backing.pieces.length === 0) return;
    try {
      const { groups } = await this.room.desk.checklist(this.room.project);
      if (this.backing !== backing || this.papers !== papers) return;
      this.steps = groups.flatMap(({ paper, steps }) => steps.map((step) => ({ ...step, paper })));
      this.list.build(groups);
      this.update();
      this.room.repaint(null);
    } catch (error) {
      if (this.backing === backing && this.papers === papers) this.trouble.textContent = sentenceOf(error);
    }
  }

  /**
   * @param {number} piece
   * @param {boolean} glued
   */
  #glue(piece, glued) {
    this.room.store.edit("", (project) => tick(project, [piece], glued));
  }

  #again() {
    const pieces = this.steps.map(({ piece }) => piece);
    this.room.store.edit("", (project) => tick(project, pieces, false));
  }
}
