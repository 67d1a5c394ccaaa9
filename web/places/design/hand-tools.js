import { Choice } from "../../parts/choice.js";
import { make } from "../../parts/dom.js";
import { Fold } from "../../parts/fold.js";
import { LengthField } from "../../parts/length-field.js";
import { sentenceOf } from "../../parts/sentence.js";
import { say } from "../../words/words.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Change} Change */
/** @typedef {import("../../desk/types.js").Place} Place */
/** @typedef {import("../../desk/types.js").Box} Box */
/** @typedef {import("../../parts/session.js").MendTool} MendTool */

/** Tools in the order of how often one wants them. @type {readonly MendTool[]} */
const TOOLS = ["bar", "fill", "rub", "circle", "square", "outline"];
const WIDEST_MM = 12;
const NARROWEST_MM = 0.5;
/** A hand that moves less has drawn nothing. */
const LEAST_MM = 0.5;
const CIRCLE_NODES = 64;
const SHADE = "rgb(47 158 111 / 80%)";

/** Mends by finger, pen, mouse and keyboard: bars drawn from card to card, rubbing out, filling, cutting openings. */
export class HandTools {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    /** mm; null until the person sets it, then as wide as a bar should be at least. @type {number | null} */
    this.width = null;
    /** What the hand has drawn so far, in mm. @type {Place[]} */
    this.line = [];
    /** Lines that the package is asked about. @type {Place[][]} */
    this.asked = [];
    this.tools = /** @type {Choice<string>} */ (
      new Choice("", (tool) => room.session.take({ mending: tool === "none" ? null : /** @type {MendTool} */ (tool), active: null }))
    );
    this.slider = make("input", {
      type: "range",
      min: NARROWEST_MM,
      max: WIDEST_MM,
      step: 0.1,
      class: "slider",
      "aria-label": say("hand.width"),
      oninput: () => this.#setWidth(this.slider.valueAsNumber),
    });
    this.field = new LengthField(say("hand.width"), {
      read: (text) => room.desk.readLength(text, room.unit),
      step: (unit) => (unit === "in" ? 25.4 / 32 : 0.1),
      change: (mm) => this.#setWidth(mm),
    });
    this.wide = make("div", { class: "hand-width" }, this.field.element, this.slider);
    this.fold = new Fold(say("hand.title"), this.tools.element, this.wide);
    this.element = this.fold.element;
  }

  update() {
    const { session, unit, project } = this.room;
    const { mending } = session.hand;
    this.tools.show(
      ["none", ...TOOLS].map((tool) => ({ value: tool, text: say(/** @type {import("../../words/words.js").Key} */ (`hand.${tool}`)) })),
      mending ?? "none",
    );
    this.fold.show(mending ? say(`hand.${mending}`) : "");
    this.wide.hidden = mending !== "bar" && mending !== "rub";
    this.field.show(this.#width, unit, project.id);
    this.slider.value = String(this.#width);
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
      if (mending === "fill") void this.#make({ kind: "fill", at: [x, y] }, null);
      else if (mending === "rub") void this.#make({ kind: "rub", line: [[x, y], [x + 0.01, y]], radius: this.#width / 2 }, null);
      else this.room.notices.tell(this.hint ?? "");
    };
  }

  /** What a drag does. @returns {import("../place.js").Carrier | null} */
  get carries() {
    const { mending } = this.room.session.hand;
    if (!mending || mending === "fill") return null;
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
    context.lineCap = "butt";
    context.lineJoin = "round";
    context.strokeStyle = SHADE;
    context.fillStyle = SHADE;
    context.lineWidth = this.#width;
    for (const line of [this.line, ...this.asked]) {
      const isArea = mending === "circle" || mending === "square" || mending === "outline";
      const path = new Path2D();
      for (const [x, y] of isArea ? outlineOf(mending, line) : line) path.lineTo(x, y);
      if (isArea) context.fill(path);
      else context.stroke(path);
    }
  }

  get #width() {
    return this.width ?? Math.max(this.room.store.project?.limits.bar_mm ?? 1.5, 1.5);
  }

  /** @param {number} mm */
  #setWidth(mm) {
    this.width = Math.min(Math.max(mm, NARROWEST_MM), 10 * WIDEST_MM);
    this.update();
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
    // Round and square ones grow from their middle to where the hand is.
    this.line = mending === "circle" || mending === "square" ? [first, [x, y]] : [...this.line, [x, y]];
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
    else void this.#make({ kind: "cut", outline: outlineOf(tool, line) }, line);
    this.room.repaint(box);
  }

  #forget() {
    const box = this.#box(this.line);
    this.line = [];
    this.room.repaint(box);
  }

  /**
   * @param {Change} change  mm
   * @param {Place[] | null} line  as the hand drew it, shown until the card has it
   */
  async #make(change, line) {
    const { room } = this;
    if (line) this.asked = [...this.asked, line];
    try {
      const tried = await room.desk.tryMend(room.project, change);
      this.#answered(line);
      const around = line ? this.#box(line) : null;
      await room.mend(
        [{ edit: "add_mends", to: { mends: tried.mends, finding: "" } }],
        [{ ...tried, box: around ?? room.shapes?.box ?? [0, 0, 0, 0] }],
      );
    } catch (error) {
      this.#answered(line);
      room.notices.tell(sentenceOf(error, room.unit));
      room.repaint(null);
    }
  }

  /** @param {Place[] | null} line */
  #answered(line) {
    this.asked = this.asked.filter((each) => each !== line);
  }

  /** @param {readonly Place[]} line  @returns {Box} with all that is drawn of it */
  #box(line) {
    const { mending } = this.room.session.hand;
    const places = mending === "circle" || mending === "square" ? outlineOf(mending, line) : line;
    const [across, down] = [places.map(([x]) => x), places.map(([, y]) => y)];
    const by = this.#width;
    return [Math.min(...across) - by, Math.min(...down) - by, Math.max(...across) + by, Math.max(...down) + by];
  }
}

/**
 * The outline that a hand means: drawn, or round or square about where it began.
 *
 * @param {MendTool} tool
 * @param {readonly Place[]} line
 * @returns {Place[]}
 */
function outlineOf(tool, line) {
  const [middle, edge] = [line[0], line.at(-1)];
  if (!middle || !edge || tool === "outline") return [...line];
  const radius = Math.max(Math.hypot(edge[0] - middle[0], edge[1] - middle[1]), LEAST_MM / 2);
  const nodes = tool === "square" ? 4 : CIRCLE_NODES;
  return Array.from({ length: nodes }, (_, at) => {
    const turn = ((at + 0.5) / nodes) * 2 * Math.PI;
    return [middle[0] + radius * Math.cos(turn), middle[1] + radius * Math.sin(turn)];
  });
}
