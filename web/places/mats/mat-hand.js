import { find } from "../../parts/dom.js";
import { isPinned, pinPiece, pinTrim, unpin } from "../../project/pins.js";
import { TONES } from "../../stage/colours.js";
import { HeldPaper } from "../../stage/held-paper.js";
import { HeldShape } from "../../stage/held-shape.js";
import { layOut } from "../../stage/layers/mats-layer.js";
import { SpotNote } from "../../stage/spot-note.js";
import { outlineOf } from "../../stage/outline.js";
import { cutsOf, drawCuts } from "../../stage/trim-paint.js";
import { TrimFinder } from "../../stage/trim-finder.js";
import { sayMessage } from "../../words/messages.js";
import {
  boxOf,
  carriedTrim,
  middleOf,
  movedPiece,
  movedTrim,
  moveOfPiece,
  moveOfTrim,
  onMat,
  placeAfter,
  topOf,
  TURN_STEP,
} from "./moved.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Plan} Plan */
/** @typedef {import("../../desk/types.js").Trim} Trim */
/** @typedef {import("../../desk/types.js").PlacedPiece} PlacedPiece */
/** @typedef {import("../../project/pins.js").Held} Held */
/** @typedef {import("./moved.js").Move} Move */
/** @typedef {{trim: Trim, piece: PlacedPiece | null}} Grasp */
/** @typedef {import("../../stage/held-paper.js").Lifted} Lifted */

const HANDLE_REACH_PX = 26;
const PIECE_REACH_PX = 12;
const KEYS_SETTLE_MS = 450;
const STAYS = { dx: 0, dy: 0, turn: 0 };
/** Shorter moves are no moves. */
const STILL_MM = 0.01;
const PIECE_STEP_MM = 1;
const PIECE_LEAP_MM = 5;

/** @type {Record<string, [number, number]>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/**
 * Lays trims and pieces by hand: takes one up, carries and turns it, puts it down on the nearest allowed place
 * and pins it there; the solver then lays the rest around it.
 */
export class MatHand {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    const stage = find("#stage", HTMLElement);
    this.paper = new HeldPaper(stage, room.view);
    this.shape = new HeldShape(stage, room.view);
    this.note = new SpotNote(stage);
    /** @type {TrimFinder | null} */
    this.finder = null;
    /** @type {Move} */
    this.move = STAYS;
    /** The part of `move` that was put down and that the next plan holds. @type {Move} */
    this.put = STAYS;
    /** Where a drag began, and whether it turns. @type {{x: number, y: number, turns: boolean} | null} */
    this.drag = null;
    this.settling = 0;
    addEventListener("keydown", (event) => this.#key(event));
  }

  /** What is in hand, as the plan has it. @returns {Grasp | null} */
  get grasp() {
    const { held } = this.room.session.hand;
    const plan = this.room.bench.plan;
    if (!held || !plan || this.room.session.hand.place !== "mats") return null;
    if (held.piece === null) {
      const trim = plan.trims.find(({ id }) => id === held.trim);
      return trim ? { trim, piece: null } : null;
    }
    for (const trim of plan.trims) {
      const piece = trim.pieces.find(({ number }) => number === held.piece);
      if (piece) return { trim, piece };
    }
    return null;
  }

  /** Brings what is seen in step with the plan and with what is in hand. */
  update() {
    const { plan } = this.room.bench;
    if (plan !== (this.finder?.plan ?? null)) {
      this.finder = plan && new TrimFinder(plan, layOut(plan.mats));
      if (this.drag || this.settling) this.#moveOn();
      else this.#rest();
    }
    if (this.room.bench.trouble.has("plan") && !this.drag && !this.settling) this.#rest();
    if (!this.grasp && this.room.session.hand.held) this.room.session.take({ held: null });
    this.#show();
  }

  /** @param {Held | null} held */
  take(held) {
    if (this.settling) void this.#putDown();
    this.#rest();
    this.room.session.take({ held });
  }

  /**
   * A tap takes up the piece there, else the trim.
   *
   * @param {number} x  mm
   * @param {number} y
   */
  tap(x, y) {
    const found = this.finder?.at(x, y);
    this.take(found ? { trim: found.trim.id, piece: found.piece } : null);
  }

  /**
   * A drag carries the piece in hand, or turns it by its handle; else it carries the trim there.
   *
   * @param {number} x
   * @param {number} y
   */
  hold(x, y) {
    const found = this.finder?.at(x, y);
    const { held } = this.room.session.hand;
    const [px, py] = this.room.view().toPx(x, y);
    const turns = this.shape.isOnHandle(px, py, HANDLE_REACH_PX);
    if (!turns) {
      if (!found) return false;
      const reach = PIECE_REACH_PX / this.room.view().scale;
      const carriesPiece = held?.piece && this.finder?.isNear(found.trim, held.piece, x, y, reach);
      if (!carriesPiece) this.take({ trim: found.trim.id, piece: null });
    }
    this.room.bench.stopPlan();
    this.drag = { x, y, turns };
    return true;
  }

  /**
   * @param {number} x
   * @param {number} y
   */
  carry(x, y) {
    if (!this.drag) return;
    this.paper.glide(false);
    if (this.drag.turns) this.#turnTowards(x, y);
    else this.move = { ...this.move, dx: x - this.drag.x, dy: y - this.drag.y };
    this.#show();
  }

  drop() {
    this.drag = null;
    void this.#putDown();
  }

  letGo() {
    this.drag = null;
    this.#rest();
    this.#show();
  }

  follow() {
    this.paper.glide(false);
    this.paper.follow();
    this.shape.follow();
  }

  /** Turns what is in hand: a trim by quarters, a piece by degrees. @param {number} by  -1 or 1 */
  turn(by) {
    const { grasp } = this;
    if (!grasp) return;
    const step = !grasp.piece ? 90 : this.#direction(grasp) === "any" ? TURN_STEP : 180;
    this.move = { ...this.move, turn: this.move.turn + by * step };
    this.#settleSoon();
  }

  /** @param {Grasp} grasp  @returns {boolean} whether its paper lets it be turned */
  canTurn(grasp) {
    const direction = this.#direction(grasp);
    return direction === "any" || (grasp.piece !== null && direction === "two-way");
  }

  /** Pins what is in hand where it lies, or takes the pin out. */
  togglePin() {
    const { grasp } = this;
    const { held } = this.room.session.hand;
    if (!grasp || !held) return;
    const { trim, piece } = grasp;
    this.room.bench.stopPlan();
    this.room.store.edit("", (project) => {
      if (isPinned(project, held)) return unpin(project, held);
      return piece ? pinPiece(project, trim.id, piece.number, piece) : pinTrim(project, trim, trim);
    });
    void this.room.bench.seekPlan();
  }

  /** @param {Grasp} grasp */
  #direction({ trim }) {
    return this.room.papers.get(trim.paper)?.direction ?? "any";
  }

  /**
   * @param {number} x
   * @param {number} y
   */
  #turnTowards(x, y) {
    const { grasp, finder } = this;
    if (!grasp?.piece || !finder) return;
    const [cx, cy] = middleOf(grasp.piece);
    const middle = finder.laid.matrixOf(grasp.trim).transformPoint({ x: cx, y: cy });
    const angle = (Math.atan2(x - middle.x, middle.y - y) * 180) / Math.PI;
    const step = this.#direction(grasp) === "any" ? TURN_STEP : 180;
    this.move = { ...this.move, turn: Math.round(angle / step) * step };
  }

  #show() {
    const { grasp, finder, move } = this;
    const lifted = grasp !== null && finder !== null && move !== STAYS;
    this.room.session.take({ lifted });
    if (!grasp || !finder) {
      this.shape.show(null);
      this.paper.show(null, new DOMMatrix());
      return;
    }
    const { trim, piece } = grasp;
    const carried = carriedBy(grasp, move, finder);
    this.paper.show(lifted ? this.#liftedOf(grasp) : null, carried);
    if (piece) {
      const handle = this.canTurn(grasp) && !lifted ? topOf(piece, carried) : null;
      this.shape.show({ path: piece.path, matrix: carried, handle });
    } else {
      const matrix = finder.laid.matrixOf({ ...trim, ...(lifted ? this.#landing(trim, finder) : {}) });
      this.shape.show({ path: trim.outline ?? `M0 0H${trim.width_mm}V${trim.height_mm}H0Z`, matrix, handle: null });
    }
  }

  /** @param {Grasp} grasp  @returns {Lifted} */
  #liftedOf({ trim, piece }) {
    const { paint, papers } = this.room;
    const paper = papers.get(trim.paper);
    const whole = outlineOf(piece ?? trim, piece?.path ?? trim.outline ?? `M0 0H${trim.width_mm}V${trim.height_mm}H0Z`).path;
    const cuts = piece ? whole : cutsOf(trim);
    return {
      key: [trim.id, piece?.number ?? "", paint.loaded].join(" "),
      box: piece ? boxOf(piece) : [0, 0, trim.width_mm, trim.height_mm],
      draw: (context, resolution) => {
        context.fillStyle = paper ? paint.of(context, paper, resolution, null) : TONES.white;
        context.fill(whole);
        context.shadowColor = "transparent";
        drawCuts(context, cuts, this.room.view().scale);
      },
    };
  }

  /**
   * Where a trim is wanted.
   *
   * @param {Trim} trim
   * @param {TrimFinder} finder
   */
  #wanted(trim, { laid, plan }) {
    return movedTrim(trim, this.move, laid, plan.mats, this.room.project.plan.mat_grid_mm);
  }

  /**
   * @param {Trim} trim
   * @param {TrimFinder} finder
   */
  #landing(trim, finder) {
    return onMat(trim, this.#wanted(trim, finder), finder.plan.mats, this.room.project.plan.mat_grid_mm);
  }

  #rest() {
    clearTimeout(this.settling);
    this.settling = 0;
    this.move = this.put = STAYS;
  }

  /** Another plan holds what was put down: what the hand did since then is counted from there. */
  #moveOn() {
    const { move, put } = this;
    if (put === STAYS) return;
    this.move = { dx: move.dx - put.dx, dy: move.dy - put.dy, turn: move.turn - put.turn };
    this.put = STAYS;
  }

  #settleSoon() {
    this.room.bench.stopPlan();
    this.#show();
    clearTimeout(this.settling);
    this.settling = setTimeout(() => void this.#putDown(), KEYS_SETTLE_MS);
  }

  async #putDown() {
    clearTimeout(this.settling);
    this.settling = 0;
    const { grasp, finder, room, move } = this;
    if (!grasp || !finder || move === STAYS) return;
    const { held } = room.session.hand;
    try {
      const { reached, why } = grasp.piece
        ? await this.#putPiece(grasp.trim, grasp.piece)
        : await this.#putTrim(grasp.trim, finder);
      if (why) this.#tell(why, carriedBy(grasp, reached ?? move, finder), grasp);
      if (reached) {
        if (room.session.hand.held === held) this.#land(move, reached);
        void room.bench.seekPlan();
        return;
      }
    } catch (error) {
      room.notices.tellError(error);
    }
    this.letGo();
  }

  /**
   * What was put down glides to where it may lie; what the hand did since then is counted from there.
   *
   * @param {Move} sent
   * @param {Move} reached
   */
  #land(sent, reached) {
    const { dx, dy, turn } = this.move;
    this.put = reached;
    this.move = { dx: reached.dx + dx - sent.dx, dy: reached.dy + dy - sent.dy, turn: reached.turn + turn - sent.turn };
    this.paper.glide(this.drag === null);
    this.#show();
  }

  /**
   * Says at the spot why something lies there and not where the hand had it.
   *
   * @param {import("../../desk/types.js").Message} why
   * @param {DOMMatrix} matrix  where it comes to lie
   * @param {Grasp} grasp
   */
  #tell(why, matrix, { trim, piece }) {
    const [cx, cy] = piece ? middleOf(piece) : [trim.width_mm / 2, trim.height_mm / 2];
    const { x, y } = matrix.transformPoint({ x: cx, y: cy });
    this.note.show(sayMessage(why, this.room.unit), ...this.room.view().toPx(x, y));
  }

  /**
   * @param {Trim} trim
   * @param {PlacedPiece} piece
   */
  async #putPiece(trim, piece) {
    const { room, move } = this;
    const wanted = placeAfter(piece, movedPiece(piece, move, trim), move.turn);
    const { place, why } = await room.questions.ask("plan", (project) =>
      room.desk.placePiece(project, trim.id, piece.number, wanted),
    );
    const reached = place && moveOfPiece(piece, place, trim);
    if (why && isStill(reached)) return { reached: null, why };
    if (place) room.store.edit("", (project) => pinPiece(project, trim.id, piece.number, place));
    return { reached, why };
  }

  /**
   * @param {Trim} trim
   * @param {TrimFinder} finder
   */
  async #putTrim(trim, finder) {
    const { room } = this;
    const wanted = this.#wanted(trim, finder);
    const landing = moveOfTrim(trim, this.#landing(trim, finder), finder.laid);
    const { place, why } = await room.questions.ask("plan", (project) => room.desk.placeTrim(project, trim.id, wanted));
    const reached = place && moveOfTrim(trim, place, finder.laid);
    if (why && (isStill(reached) || isFarther(reached, landing))) return { reached: null, why };
    if (place) room.store.edit("", (project) => pinTrim(project, trim, place));
    return { reached, why };
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const { grasp } = this;
    if (!grasp || event.ctrlKey || event.metaKey || event.altKey || document.querySelector("dialog[open]")) return;
    if (event.target instanceof HTMLInputElement || event.target instanceof HTMLSelectElement) return;
    const arrow = ARROWS[event.key];
    if (arrow) {
      const step = grasp.piece ? (event.shiftKey ? PIECE_LEAP_MM : PIECE_STEP_MM) : this.room.project.plan.mat_grid_mm;
      const { dx, dy, turn } = this.move;
      this.move = { dx: dx + arrow[0] * step, dy: dy + arrow[1] * step, turn };
      this.#settleSoon();
    } else if (event.key === "Escape") this.take(null);
    else if (!isAtHeld(event.target)) return;
    else if ((event.key === "[" || event.key === "]") && this.canTurn(grasp)) this.turn(event.key === "[" ? -1 : 1);
    else if (event.key === "p") this.togglePin();
    else return;
    event.preventDefault();
  }
}

/**
 * The map from what is in hand, in mm of its trim, to where the hand has it on the table.
 *
 * @param {Grasp} grasp
 * @param {Move} move
 * @param {TrimFinder} finder
 */
function carriedBy({ trim, piece }, move, { laid }) {
  return piece ? laid.matrixOf(trim).multiply(movedPiece(piece, move, trim)) : carriedTrim(trim, move, laid);
}

/** Whether what may not lie where it was put comes back to where it lay: then nothing is pinned. @param {Move | null} move */
function isStill(move) {
  return move !== null && Math.hypot(move.dx, move.dy) < STILL_MM && move.turn % 360 === 0;
}

/**
 * Whether the nearest place that would do lies farther from where the hand had something than from where it lay: then
 * it goes back, and the plan stays as it was.
 *
 * @param {Move | null} reached
 * @param {Move} wanted
 */
function isFarther(reached, wanted) {
  return reached !== null && Math.hypot(reached.dx - wanted.dx, reached.dy - wanted.dy) > Math.hypot(reached.dx, reached.dy);
}

/**
 * Whether the focus is at what is in hand: keys of one character act nowhere else (WCAG 2.1.4).
 *
 * @param {EventTarget | null} target
 */
function isAtHeld(target) {
  return target instanceof Element && target.closest(".held-card, .trims") !== null;
}
