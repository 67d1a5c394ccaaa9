import { make } from "../../parts/dom.js";
import { TONES } from "../../stage/colours.js";
import { say } from "../../words/words.js";
import { WidthField } from "./width-field.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").PlacedMend} PlacedMend */
/** @typedef {import("../../desk/types.js").Point} Point */
/** @typedef {import("../../desk/types.js").Box} Box */

const HANDLE_PX = 10;
const REACH_PX = 26;
const STEP_MM = 0.5;
const LEAP_MM = 2.5;
/** Keys that follow one another are one move. */
const KEYS_SETTLE_MS = 450;
const SHADE = "rgb(47 158 111 / 60%)";

/** @type {Record<string, Point>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/** The bar that is looked at among the mends: its ends are moved by hand or by arrow keys, its width is set. */
export class BarHand {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    /** @type {readonly PlacedMend[]} */
    this.mends = [];
    /** A bar just drawn, until it is among the mends as they lie. @type {PlacedMend | null} */
    this.foreseen = null;
    /** How the bar will run, in mm, while a hand moves it and until the design has it. @type {Point[] | null} */
    this.line = null;
    /** Which end is in hand. @type {"first" | "last"} */
    this.end = "first";
    this.settling = 0;
    this.width = new WidthField(room, (mm) => this.widen(mm));
    this.ends = make(
      "div",
      { class: "stack" },
      make("p", { class: "small" }, say("mend.ends")),
      make("div", { class: "finding-doings" }, this.#endButton("first"), this.#endButton("last")),
    );
    this.element = make("div", { class: "mend-bar" }, this.ends, this.width.element);
  }

  /** @param {readonly PlacedMend[]} mends  as they lie now */
  follow(mends) {
    if (mends !== this.mends) this.line = null;
    this.mends = mends;
    if (mends.some(({ id }) => id === this.foreseen?.id)) this.foreseen = null;
    this.#showBar();
  }

  /** @param {PlacedMend} bar  that was just drawn: its ends are in hand before all mends are told anew */
  foresee(bar) {
    this.foreseen = bar;
    this.line = null;
    this.#showBar();
    this.#show(null);
  }

  #showBar() {
    const { bar } = this;
    if (!bar) return;
    this.ends.hidden = bar.kind !== "bar";
    this.width.show(bar.width_mm ?? 0, bar.id);
  }

  /** The bar that is looked at. */
  get bar() {
    const { mend } = this.room.session.hand;
    const { foreseen } = this;
    if (mend === null || !this.room.store.project?.mends.some(({ id }) => id === mend)) return null;
    return foreseen?.id === mend ? foreseen : (this.mends.find(({ id, line }) => id === mend && line) ?? null);
  }

  /** The bar whose ends may be taken: none while another tool is to work on the card there. */
  get #inHand() {
    const { mending } = this.room.session.hand;
    return (mending === null || mending === "bar") && this.bar?.kind === "bar" ? this.bar : null;
  }

  /** What a drag does to the ends of a bar. @returns {import("../place.js").Carrier | null} */
  get carries() {
    if (!this.#inHand) return null;
    return {
      hold: (x, y) => this.#hold(x, y),
      carry: (x, y) => this.#carry(x, y),
      drop: () => void this.#put(),
      letGo: () => this.#show(null),
    };
  }

  /** @param {import("../../stage/stage.js").Brush} brush */
  draw({ context, view }) {
    const bar = this.#inHand;
    if (!bar) return;
    const line = this.line ?? bar.line ?? [];
    if (this.line) {
      const path = new Path2D();
      for (const [x, y] of line) path.lineTo(x, y);
      context.lineCap = "butt";
      context.lineWidth = bar.width_mm ?? 0;
      context.strokeStyle = SHADE;
      context.stroke(path);
    }
    for (const place of [line[0], line.at(-1)]) {
      if (!place) continue;
      context.beginPath();
      context.arc(place[0], place[1], HANDLE_PX / view.scale, 0, 2 * Math.PI);
      context.fillStyle = TONES.white;
      context.fill();
      context.lineWidth = 3 / view.scale;
      context.strokeStyle = TONES.accent;
      context.stroke();
    }
  }

  /** @param {"first" | "last"} end */
  #endButton(end) {
    return make(
      "button",
      {
        help: "mend.end",
        type: "button",
        class: "button",
        onclick: () => this.room.lookAt(this.bar?.box ?? this.room.shapes?.box ?? [0, 0, 0, 0]),
        onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event, end),
      },
      say(`mend.end-${end}`),
    );
  }

  /**
   * @param {KeyboardEvent} event
   * @param {"first" | "last"} end
   */
  #key(event, end) {
    const way = ARROWS[event.key];
    const { bar } = this;
    const line = this.line ?? bar?.line;
    if (!way || !line) return;
    event.preventDefault();
    const by = event.shiftKey ? LEAP_MM : STEP_MM;
    this.end = end;
    const [x, y] = end === "first" ? (line[0] ?? [0, 0]) : (line.at(-1) ?? [0, 0]);
    this.#carry(x + by * way[0], y + by * way[1]);
    clearTimeout(this.settling);
    this.settling = setTimeout(() => void this.#put(), KEYS_SETTLE_MS);
  }

  /**
   * @param {number} x
   * @param {number} y
   */
  #hold(x, y) {
    const line = this.line ?? this.bar?.line ?? [];
    const away = (/** @type {Point | undefined} */ place) => (place ? Math.hypot(place[0] - x, place[1] - y) : Infinity);
    const [first, last] = [away(line[0]), away(line.at(-1))];
    if (Math.min(first, last) > REACH_PX / this.room.view().scale) return false;
    this.end = first < last ? "first" : "last";
    return true;
  }

  /**
   * Takes the end in hand to a place; what is between goes along, the less the nearer it is to the other end.
   *
   * @param {number} x
   * @param {number} y
   */
  #carry(x, y) {
    const line = this.line ?? this.bar?.line;
    const place = this.end === "first" ? line?.[0] : line?.at(-1);
    if (!line || !place) return;
    const [across, down] = [x - place[0], y - place[1]];
    const most = line.length - 1;
    this.#show(
      line.map(([left, top], at) => {
        const share = this.end === "first" ? 1 - at / most : at / most;
        return [left + share * across, top + share * down];
      }),
    );
  }

  /** @param {Point[] | null} line */
  #show(line) {
    const before = this.#box();
    this.line = line;
    this.room.repaint(before);
    this.room.repaint(this.#box());
  }

  /** @returns {Box | null} with all that is drawn of the bar */
  #box() {
    const line = this.line ?? this.bar?.line;
    if (!line) return null;
    const by = (this.bar?.width_mm ?? 0) + (2 * HANDLE_PX) / this.room.view().scale;
    const [across, down] = [line.map(([x]) => x), line.map(([, y]) => y)];
    return [Math.min(...across) - by, Math.min(...down) - by, Math.max(...across) + by, Math.max(...down) + by];
  }

  /** Makes the bar that is looked at as wide as told, if there is one. @param {number} mm */
  widen(mm) {
    const { bar } = this;
    if (bar?.line) void this.#ask(bar, bar.line, mm);
  }

  async #put() {
    const { bar, line } = this;
    if (bar && line) await this.#ask(bar, line, bar.width_mm ?? 0);
  }

  /**
   * @param {PlacedMend} bar
   * @param {Point[]} line  how it is to run
   * @param {number} width  mm
   */
  async #ask(bar, line, width) {
    const { room } = this;
    const change = { kind: bar.kind === "bar" ? "moved-bar" : bar.kind, line, width };
    try {
      const tried = await room.questions.ask("project", (project) => room.desk.tryMend(project, change, bar.id));
      const box = this.#box() ?? bar.box;
      await room.mend([{ edit: "change_mend", to: { id: bar.id, change: tried.mends[0] } }], [{ ...tried, box }]);
    } catch (error) {
      room.notices.tellError(error, { unit: room.unit });
      this.#show(null);
      this.follow(this.mends);
    }
  }
}
