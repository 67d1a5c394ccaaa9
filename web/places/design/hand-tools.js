import { Choice } from "../../parts/choice.js";
import { Fold } from "../../parts/fold.js";
import { TONES } from "../../stage/colours.js";
import { say } from "../../words/words.js";
import { WidthField } from "./width-field.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Change} Change */
/** @typedef {import("../../desk/types.js").Point} Point */
/** @typedef {import("../../desk/types.js").Box} Box */
/** @typedef {import("../../parts/session.js").MendTool} MendTool */

/** Tools in the order of how often one wants them. @type {readonly MendTool[]} */
const TOOLS = ["bar", "take-bar", "fill", "rub", "shape", "outline"];
/** As the package has them. */
const SHAPES = ["circle", "square", "heart", "leaf", "drop", "star"];
const FIRST_SHAPE = "circle";
/** A hand that moves less has drawn nothing. */
const LEAST_MM = 0.5;
/** How much of what lies beneath is hidden by what a hand draws. */
const OPACITY = 0.75;

/** Mends by finger, pen, mouse and keyboard: bars drawn from card to card, rubbing out, filling, cutting openings. */
export class HandTools {
  /**
   * @param {Workroom} room
   * @param {import("./bar-hand.js").BarHand} bars
   */
  constructor(room, bars) {
    this.room = room;
    this.bars = bars;
    /** mm; null until the person sets it, then as wide as a bar should be at least. @type {number | null} */
    this.width = null;
    /** What the hand has drawn so far, in mm. @type {Point[]} */
    this.line = [];
    /** What is offered on alike places, and the mends that it goes on from. @type {{away: () => void, mends: readonly unknown[]} | null} */
    this.offered = null;
    /** Lines that the package is asked about. @type {Point[][]} */
    this.asked = [];
    /** Simple shapes to cut, from the package; none until it answered. @type {Map<string, Path2D>} */
    this.unitShapes = new Map();
    this.shape = FIRST_SHAPE;
    this.shapes = /** @type {Choice<string>} */ (
      new Choice("hand.which-shape", (shape) => {
        this.shape = shape;
        this.update();
      })
    );
    this.tools = /** @type {Choice<string>} */ (
      new Choice(null, (tool) => {
        room.session.take({ mending: tool === "none" ? null : /** @type {MendTool} */ (tool), active: null });
        this.element.scrollIntoView({ block: "nearest" });
      })
    );
    this.wide = new WidthField(room, (mm) => {
      this.width = mm;
      this.update();
      // The bar that was drawn last still has its ends in hand: it is meant, too.
      if (room.session.hand.mending === "bar") bars.widen(mm);
    });
    this.fold = new Fold(say("hand.title"), this.tools.element, this.shapes.element, this.wide.element);
    this.element = this.fold.element;
  }

  update() {
    const { session, project } = this.room;
    const { mending } = session.hand;
    // What was offered goes on from the mends as they were.
    if (this.offered && this.offered.mends !== project.mends) this.#withdraw();
    this.tools.show(
      ["none", ...TOOLS].map((tool) => ({ value: tool, text: say(/** @type {import("../../words/words.js").Key} */ (`hand.${tool}`)), help: `hand.${tool}` })),
      mending ?? "none",
    );
    this.shapes.element.hidden = mending !== "shape";
    if (mending === "shape") void this.#learnShapes();
    this.shapes.show(
      SHAPES.map((shape) => ({ value: shape, text: say(/** @type {import("../../words/words.js").Key} */ (`hand.shape-${shape}`)) })),
      this.shape,
    );
    this.fold.show(mending ? say(`hand.${mending}`) : "");
    this.wide.element.hidden = mending !== "bar" && mending !== "rub";
    this.wide.show(this.#width, project.id);
  }

  /** What a tap on an opening does by keyboard. @type {((number: number) => void) | null} */
  get give() {
    const { mending } = this.room.session.hand;
    if (mending !== "fill" && mending !== "bar") return null;
    return (number) => {
      const opening = this.room.shapes?.byNumber.get(number);
      if (!opening) return;
      const [x, y] = opening.label;
      const [, top, , bottom] = opening.box;
      const bar = { kind: "bar", line: [[x, top - LEAST_MM], [x, bottom + LEAST_MM]], width: this.#width };
      void this.#make(mending === "fill" ? { kind: "fill", at: [x, y] } : bar, null);
    };
  }

  /** What a tap anywhere does. @type {((x: number, y: number) => void) | null} */
  get tapTable() {
    const { mending } = this.room.session.hand;
    if (!mending) return null;
    return (x, y) => {
      if (mending === "fill" || mending === "take-bar") void this.#make({ kind: mending, at: [x, y] }, null);
      else if (mending === "rub") void this.#make({ kind: "rub", line: [[x, y], [x + 0.01, y]], radius: this.#width / 2 }, null);
      else this.room.notices.tell(this.hint ?? "");
    };
  }

  /** What a drag does. @returns {import("../place.js").Carrier | null} */
  get carries() {
    const { mending } = this.room.session.hand;
    if (!mending || mending === "fill" || mending === "take-bar") return null;
    return {
      hold: (x, y) => {
        this.line = [[x, y]];
        return true;
      },
      carry: (x, y) => this.#draw(x, y),
      drop: () => this.#drop(mending),
      letGo: () => this.#forget(),
    };
  }

  /** @returns {string | null} */
  get hint() {
    const { mending } = this.room.session.hand;
    return mending && say(`hand.hint-${mending}`);
  }

  /** Draws what the hand draws, and what is not made of it yet. @param {import("../../stage/stage.js").Brush} brush */
  draw({ context }) {
    const { mending } = this.room.session.hand;
    const adds = mending === "bar";
    context.save();
    context.lineCap = adds ? "butt" : "round";
    context.lineJoin = "round";
    context.globalAlpha = OPACITY;
    context.strokeStyle = context.fillStyle = adds ? TONES.added : TONES.mark;
    context.lineWidth = this.#width;
    for (const line of [this.line, ...this.asked]) {
      const path = mending === "shape" ? this.#shapeOn(line) : lineOf(line);
      if (mending === "shape" || mending === "outline") context.fill(path);
      else context.stroke(path);
    }
    context.restore();
  }

  /** The shape that a hand draws from its middle outwards. @param {readonly Point[]} line */
  #shapeOn(line) {
    const path = new Path2D();
    const [middle] = line;
    const unit = this.unitShapes.get(this.shape);
    const radius = reachOf(line);
    if (middle && unit) path.addPath(unit, new DOMMatrix([radius, 0, 0, radius, middle[0], middle[1]]));
    return path;
  }

  async #learnShapes() {
    if (this.unitShapes.size > 0) return;
    try {
      const { shapes } = await this.room.desk.cutShapes();
      this.unitShapes = new Map(shapes.map(({ shape, path }) => [shape, new Path2D(path)]));
    } catch {
      // What is drawn is not seen before it is made, that is all.
    }
  }

  get #width() {
    return this.width ?? Math.max(this.room.store.project?.limits.bar_mm ?? 1.5, 1.5);
  }

  /**
   * @param {number} x
   * @param {number} y
   */
  #draw(x, y) {
    const { mending } = this.room.session.hand;
    const [first, last] = [this.line[0], this.line.at(-1)];
    if (!first || !last || Math.hypot(x - last[0], y - last[1]) < LEAST_MM / 2) return;
    const before = this.#box(this.line);
    // A shape grows from its middle to where the hand is.
    this.line = mending === "shape" ? [first, [x, y]] : [...this.line, [x, y]];
    this.room.repaint(before);
    this.room.repaint(this.#box(this.line));
  }

  /** @param {MendTool} tool */
  #drop(tool) {
    const { line } = this;
    const [first, last] = [line[0], line.at(-1)];
    const box = this.#box(line);
    const isLong = line.length > 2 || (first && last && Math.hypot(last[0] - first[0], last[1] - first[1]) >= LEAST_MM);
    if (!isLong) {
      this.#forget();
      return;
    }
    this.line = [];
    if (tool === "bar") void this.#make({ kind: "bar", line, width: this.#width }, line);
    else if (tool === "rub") void this.#make({ kind: "rub", line, radius: this.#width / 2 }, line);
    else if (tool === "outline") void this.#make({ kind: "outline", line }, line);
    else void this.#make({ kind: "shape", shape: this.shape, middle: first, edge: last }, line);
    this.room.repaint(box);
  }

  #forget() {
    const box = this.#box(this.line);
    this.line = [];
    this.room.repaint(box);
  }

  /**
   * @param {Change} change  mm
   * @param {Point[] | null} line  as the hand drew it, shown until the card has it
   */
  async #make(change, line) {
    const { room } = this;
    this.#withdraw();
    if (line) this.asked = [...this.asked, line];
    try {
      const tried = await room.questions.ask("project", (project) => room.desk.tryMend(project, change));
      this.#answered(line);
      const around = line ? this.#box(line) : null;
      await room.mend(
        [{ edit: "add_mends", to: { mends: tried.mends, finding: "" } }],
        [{ ...tried, box: around ?? room.shapes?.box ?? [0, 0, 0, 0] }],
      );
      // A bar just drawn may be moved at its ends at once.
      const mend = room.project.mends.at(-1)?.id ?? null;
      const [placed] = tried.placed;
      if (change.kind === "bar" && mend !== null && placed) {
        this.bars.foresee({ ...placed, id: mend });
        room.session.take({ mend });
      }
      this.#offer(tried.repeats);
    } catch (error) {
      this.#answered(line);
      room.notices.tellError(error, { unit: room.unit });
      room.repaint(null);
    }
  }

  #withdraw() {
    this.offered?.away();
    this.offered = null;
  }

  /** Offers to do the same on all alike places. @param {readonly Change[]} repeats */
  #offer(repeats) {
    if (repeats.length === 0) return;
    const { room } = this;
    const { id, mends } = room.project;
    const away = room.notices.tell(say("hand.repeat-about"), {
      action: {
        name: say("hand.repeat", { count: repeats.length }),
        do: () => void (room.project.id === id && room.mend([{ edit: "add_mends", to: { mends: repeats, finding: "" } }], [])),
      },
    });
    this.offered = { away, mends };
  }

  /** @param {Point[] | null} line */
  #answered(line) {
    this.asked = this.asked.filter((each) => each !== line);
  }

  /** @param {readonly Point[]} line  @returns {Box} with all that is drawn of it */
  #box(line) {
    const { mending } = this.room.session.hand;
    const [across, down] = [line.map(([x]) => x), line.map(([, y]) => y)];
    const by = this.#width + (mending === "shape" ? reachOf(line) : 0);
    return [Math.min(...across) - by, Math.min(...down) - by, Math.max(...across) + by, Math.max(...down) + by];
  }
}

/** @param {readonly Point[]} line */
function lineOf(line) {
  const path = new Path2D();
  for (const [x, y] of line) path.lineTo(x, y);
  return path;
}

/** How far a line reaches from where it began, in mm. @param {readonly Point[]} line */
function reachOf(line) {
  const [first, last] = [line[0], line.at(-1)];
  return first && last ? Math.hypot(last[0] - first[0], last[1] - first[1]) : 0;
}
