import { Choice } from "../../parts/choice.js";
import { make } from "../../parts/dom.js";
import { showTrouble } from "../../parts/trouble.js";
import { Wakefulness } from "../../parts/wakefulness.js";
import { tick } from "../../project/edits.js";
import { say } from "../../words/words.js";
import { cautions } from "./cautions.js";
import { GlueList } from "./glue-list.js";
import { gluedKeys, numbersOf, partSteps } from "./glue-steps.js";
import { StepCard } from "./step-card.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Backing} Backing */
/** @typedef {import("../../desk/types.js").GlueGroup} GlueGroup */
/** @typedef {import("../../desk/types.js").Paper} Paper */
/** @typedef {import("./glue-steps.js").PartStep} PartStep */

/** How parts of the card are joined, by their joint. */
const JOINTS = /** @type {const} */ ({ tab: "print.join-tabs", edge: "print.join-edges" });

/** Gluing, one piece after another: the next one in large, all of them in order to tick. */
export class GluingPart {
  /**
   * @param {Workroom} room
   * @param {{see: () => void, recolour: () => void, next: () => void}} ways  on from the finished work
   */
  constructor(room, ways) {
    this.room = room;
    /** @type {Backing | null} */
    this.backing = null;
    /** The shelf's papers, whose order it follows. @type {readonly Paper[]} */
    this.papers = [];
    /** What else tells the steps: whether they go by motif, and the person's own motifs. @type {readonly unknown[]} */
    this.by = [];
    /** Piece numbers by opening. @type {Map<number, number>} */
    this.pieces = new Map();
    /** How many loose bits are glued on. */
    this.bits = 0;
    /** All steps in order, empty until they are known. @type {PartStep[]} */
    this.steps = [];
    this.wakefulness = new Wakefulness();
    const glue = (/** @type {PartStep} */ step, /** @type {boolean} */ glued) => this.#glue(step, glued);
    this.card = new StepCard(room, { glue, again: () => this.#again(), ...ways });
    this.side = /** @type {Choice<"back" | "front">} */ (
      new Choice("glue.side", (side) => room.session.take({ mirrored: side === "back" }))
    );
    this.order = /** @type {Choice<"paper" | "motif">} */ (
      new Choice("glue.by", (by) => room.store.edit("", (project) => ({ ...project, glue_by_motif: by === "motif" })))
    );
    this.list = new GlueList(room, glue);
    /** How the parts of a card go together that is cut in several. */
    this.joining = make("p", { class: "small", hidden: true });
    this.trouble = make("div", { class: "trouble", role: "alert" });
    this.element = make(
      "div",
      { class: "stack" },
      this.joining,
      this.card.element,
      this.trouble,
      this.side.element,
      this.order.element,
      this.list.element,
      cautions("glue.caution-glue", "glue.caution-small", "glue.caution-makers"),
    );
  }

  /** The step to do next, null where all are done or none is known. @returns {PartStep | null} */
  get current() {
    const glued = gluedKeys(this.room.project, this.steps);
    return this.steps.find(({ key }) => !glued.has(key)) ?? null;
  }

  /** Whether every step is done. */
  get isDone() {
    return this.steps.length > 0 && this.current === null;
  }

  /** The piece behind an opening, null where it stays open. @param {number} opening */
  pieceOf(opening) {
    return this.pieces.get(opening) ?? null;
  }

  /** Ticks the piece behind an opening, or takes the tick away. @param {number} opening */
  toggle(opening) {
    const piece = this.pieceOf(opening);
    const step = this.steps.find((other) => other.piece !== null && other.piece === piece);
    if (step) this.#glue(step, !gluedKeys(this.room.project, [step]).has(step.key));
  }

  /** @param {boolean} wanted */
  stayAwake(wanted) {
    this.wakefulness.want(wanted);
  }

  update() {
    const { bench, project, session } = this.room;
    const { papers } = project.shelf;
    const { backingOfDesign: backing } = bench;
    const by = [project.glue_by_motif, project.motifs];
    const isOther = by.some((value, at) => value !== this.by[at]);
    this.by = by;
    if (isOther || backing !== this.backing || papers !== this.papers) void this.#order(backing, papers);
    const { division } = bench.design ?? { division: null };
    this.joining.hidden = !division;
    if (division) this.joining.textContent = say(JOINTS[division.joint], { first: division.parts.length });
    const ticked = gluedKeys(project, this.steps);
    this.card.show(this.steps, this.current, ticked);
    this.list.show(this.current, ticked);
    this.side.show(
      [
        { value: "back", text: say("glue.side-back") },
        { value: "front", text: say("glue.side-front") },
      ],
      session.hand.mirrored ? "back" : "front",
    );
    this.order.show(
      [
        { value: "paper", text: say("glue.by-paper") },
        { value: "motif", text: say("glue.by-motif") },
      ],
      project.glue_by_motif ? "motif" : "paper",
    );
  }

  /**
   * Asks for the order of gluing.
   *
   * @param {Backing | null} backing
   * @param {readonly Paper[]} papers  the shelf's, whose order it follows
   */
  async #order(backing, papers) {
    const { by } = this;
    const isAsked = () => this.backing === backing && this.papers === papers && this.by.every((value, at) => value === by[at]);
    this.backing = backing;
    this.papers = papers;
    showTrouble(this.trouble, null);
    const pieces = new Map(
      (backing?.pieces ?? []).flatMap(({ number, openings }) =>
        openings.map((opening) => /** @type {const} */ ([opening, number])),
      ),
    );
    const bits = this.room.bench.design?.loose_bits ?? [];
    // Steps to the same pieces stay at hand until their order is known anew, so that no tap is lost meanwhile.
    if (!isSame(pieces, this.pieces) || bits.length !== this.bits) {
      this.steps = [];
      this.list.build([], []);
    }
    this.pieces = pieces;
    this.bits = bits.length;
    if (!backing || backing.pieces.length + bits.length === 0) return;
    try {
      const { groups } = await this.room.questions.ask("backing", (project) => this.room.desk.checklist(project));
      if (!isAsked()) return;
      this.steps = partSteps(groups, bits, this.room.project.motifs);
      this.list.build(groups, bits);
      this.update();
      this.room.repaint(null);
    } catch (error) {
      if (isAsked()) showTrouble(this.trouble, error);
    }
  }

  /**
   * @param {PartStep} step
   * @param {boolean} glued
   */
  #glue(step, glued) {
    const before = this.current;
    this.room.store.edit("", (project) => tick(project, numbersOf([step]), glued));
    const { current } = this;
    // Pieces are glued from behind and loose bits from the front, where the finished work is looked at, too.
    const isBehind = (/** @type {PartStep | null} */ each) => each !== null && each.bit === null;
    if (isBehind(before) !== isBehind(current)) this.room.session.take({ mirrored: isBehind(current) });
  }

  #again() {
    this.room.store.edit("", (project) => tick(project, numbersOf(this.steps), false));
    this.room.session.take({ mirrored: this.current?.bit === null });
  }
}

/** @param {ReadonlyMap<number, number>} some  @param {ReadonlyMap<number, number>} others */
function isSame(some, others) {
  return some.size === others.size && [...some].every(([opening, piece]) => others.get(opening) === piece);
}
