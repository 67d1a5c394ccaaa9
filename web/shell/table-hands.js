import { Stage } from "../stage/stage.js";
import { Loupe } from "../stage/loupe.js";
import { DetailCard } from "./detail-card.js";
import { DrawnOutline } from "./drawn-outline.js";

/** @typedef {import("../places/workroom.js").Workroom} Workroom */
/** @typedef {import("../places/place.js").Place} Place */
/** @typedef {import("../stage/gestures.js").Spot} Spot */
/** @typedef {import("../stage/opening-finder.js").Found} Found */

const FINGER_PX = 22;
const POINTER_PX = 6;
const EASY_PX = 26;
/** What floats above the table, and the table, whose taps look to it themselves. */
const FLOATING = ".loupe, .detail, .stage-canvas";

/** What hands do on the table: a tap acts on the nearest opening within a finger, a sweep on each it crosses. */
export class TableHands {
  /**
   * @param {HTMLElement} element  the stage
   * @param {() => Place} place
   */
  constructor(element, place) {
    this.place = place;
    /** @type {Workroom | null} */
    this.room = null;
    /** @type {Set<number> | null} */
    this.swept = null;
    /** @type {DrawnOutline | null} */
    this.outline = null;
    this.strokes = 0;
    this.sought = { spot: /** @type {Spot | null} */ (null), found: /** @type {Found[]} */ ([]) };
    this.locks = true;
    this.stage = new Stage(element, {
      aim: (spot) => this.#found(spot)[0]?.number ?? null,
      tap: (spot) => this.#tap(spot),
      longPress: (spot) => this.#details(spot),
      hover: (spot) => this.#hover(spot),
      grab: (spot) => this.#grab(spot),
      drag: (spot, passed) => this.#drag(spot, passed),
      drop: () => this.#drop(),
      let: () => this.#letGo(),
      fingers: (count) => this.#fingers(count),
      moved: () => this.#moved(),
    });
    this.loupe = new Loupe(element, this.stage);
    this.detail = new DetailCard(element);
    // What floats above the table goes as soon as the hand is elsewhere.
    addEventListener(
      "pointerdown",
      ({ target }) => target instanceof Element && !target.closest(FLOATING) && this.#away(),
      { capture: true },
    );
    addEventListener("keydown", ({ key }) => key === "Escape" && this.#away());
  }

  /** @param {Workroom} room */
  work(room) {
    this.room = room;
  }

  /** @param {number} number  acts on an opening as a tap on it would */
  act(number) {
    const place = this.place();
    if (place.give) place.give(number);
    else this.showDetails(number);
  }

  /** Acts on all openings in the box around two of them. @param {number} from  @param {number} to */
  actBetween(from, to) {
    const box = this.room?.shapes?.boxOf([from, to]);
    if (!box || !this.place().sweeps) this.act(to);
    else {
      const [x0, y0, x1, y1] = box;
      void this.#handleWithin([[x0, y0], [x1, y0], [x1, y1], [x0, y1]]);
    }
  }

  /** @param {number} number  acts on an opening and all alike to it */
  actAlike(number) {
    this.place().giveAlike?.(number);
  }

  /** @param {number} number */
  showDetails(number) {
    const label = this.room?.shapes?.byNumber.get(number)?.label;
    if (!this.room || !label) return;
    const [x, y] = this.stage.view.toPx(label[0], label[1]);
    this.detail.show(this.room, number, { x, y });
    this.room.hints.did("hint.design");
  }

  /** @param {Spot} spot  @returns {Found[]} */
  #found(spot) {
    // A tap asks twice for its spot: what it aims at, and what it acts on.
    if (this.sought.spot === spot) return this.sought.found;
    const [x, y] = this.stage.toMm(spot);
    const px = isFine(spot) ? POINTER_PX : FINGER_PX;
    const found = this.room?.finder?.near(x, y, px / this.stage.view.scale) ?? [];
    this.sought = { spot, found };
    return found;
  }

  /** @param {Spot} spot */
  #tap(spot) {
    this.#away();
    const place = this.place();
    if (place.tapTable) {
      place.tapTable(...this.stage.toMm(spot));
      return;
    }
    const found = this.#found(spot);
    const [first] = found;
    if (!first) {
      this.room?.session.take({ active: null });
      return;
    }
    if (!isFine(spot) && found.length > 1 && this.#isCrowded(found)) {
      this.loupe.open(spot, (x, y) => this.#choose(x, y));
    } else this.act(first.number);
  }

  /** @param {number} x  mm  @param {number} y */
  #choose(x, y) {
    const [first] = this.room?.finder?.near(x, y, POINTER_PX / this.stage.view.scale) ?? [];
    if (first) this.act(first.number);
  }

  /** Whether a finger can't tell which of these it means. @param {Found[]} found */
  #isCrowded(found) {
    const [first] = found;
    const size = (/** @type {Found} */ { number }) => {
      const label = this.room?.shapes?.byNumber.get(number)?.label;
      return label ? 2 * label[2] * this.stage.view.scale : Infinity;
    };
    if (first?.inside && size(first) >= EASY_PX) return false;
    return found.slice(0, 4).some((each) => size(each) < EASY_PX);
  }

  /** @param {Spot} spot */
  #details(spot) {
    if (this.place().tapTable) {
      this.#tap(spot);
      return;
    }
    const [first] = this.#found(spot);
    if (first && this.room) this.detail.show(this.room, first.number, spot);
  }

  /** @param {Spot | null} spot */
  #hover(spot) {
    if (!this.room || (spot && spot.kind === "touch")) return;
    const place = this.place();
    const hovered = spot && !place.tapTable ? (this.#found(spot)[0]?.number ?? null) : null;
    this.stage.canvas.dataset["hand"] = hovered !== null && place.give ? "give" : "";
    this.room.session.take({ hovered });
  }

  /** @param {Spot} spot */
  #grab(spot) {
    this.#away();
    const hand = this.room?.session.hand;
    if (this.place().carries?.hold(...this.stage.toMm(spot))) return true;
    if (!this.room || !hand || !this.place().sweeps) return false;
    const { takesIn } = this.place();
    const drag = takesIn ? "ring" : hand.drag;
    if (drag === "look" || (!takesIn && hand.tool === "paper" && hand.picked === undefined)) return false;
    this.strokes += 1;
    if (drag === "ring" || drag === "box") {
      this.outline = new DrawnOutline(this.stage.element, spot, drag);
      return true;
    }
    const [first] = this.#found(spot);
    if (!first?.inside) return false;
    this.swept = new Set();
    this.locks = !this.room.areLocked([first.number]);
    this.#sweep(spot);
    return true;
  }

  /**
   * @param {Spot} spot
   * @param {readonly Spot[]} passed  an outline and a sweep go by each of them
   */
  #drag(spot, passed) {
    const { carries } = this.place();
    if (carries) carries.carry(...this.stage.toMm(spot));
    else if (this.outline) for (const each of passed) this.outline.add(each);
    else for (const each of passed) this.#sweep(each);
  }

  #drop() {
    const { outline } = this;
    this.place().carries?.drop?.();
    if (outline || this.swept) this.place().swept?.();
    this.#forget();
    if (outline) void this.#handleWithin(outline.inMm((spot) => this.stage.toMm(spot)));
  }

  #letGo() {
    this.place().carries?.letGo?.();
    this.#forget();
  }

  #forget() {
    this.swept = null;
    this.outline?.remove();
    this.outline = null;
  }

  /** Does to the openings within an outline what is in hand. @param {[number, number][]} outline  mm */
  async #handleWithin(outline) {
    const { room } = this;
    if (!room) return;
    try {
      const numbers = await room.questions.ask("design", (project) => room.desk.openingsIn(project, outline));
      const { takesIn = null } = this.place();
      if (numbers.length > 0) (takesIn ?? ((/** @type {number[]} */ all) => room.handle(all)))(numbers);
    } catch (error) {
      room.notices.tellError(error);
    }
  }

  /** @param {Spot} spot */
  #sweep(spot) {
    const [first] = this.#found(spot);
    if (!first?.inside || !this.swept || this.swept.has(first.number)) return;
    this.swept.add(first.number);
    this.room?.handle([first.number], `stroke ${this.strokes}`, this.locks);
  }

  /** @param {number} count */
  #fingers(count) {
    if (count === 2) this.room?.store.undo();
    if (count === 3) this.room?.store.redo();
  }

  #moved() {
    this.#away();
    if (this.room) this.place().carries?.follow?.();
  }

  #away() {
    this.detail?.close();
    this.loupe?.close();
  }
}

/** Whether a hand means the very spot: a pen is as fine as a mouse. @param {Spot} spot */
function isFine({ kind }) {
  return kind !== "touch";
}
