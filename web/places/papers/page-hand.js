import { blockAt } from "./page-scene.js";
import { linedUp } from "./page-room.js";
import { outerSize, reachingBeyond } from "../../stage/layers/page-layer.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Block} Block */
/** @typedef {import("./block-part.js").BlockPart} BlockPart */
/** @typedef {import("./page-room.js").Line} Line */

/** How far from a handle's middle a finger takes it, and how near things line up, in CSS px. */
const HANDLE_PX = 26;
const LINE_UP_PX = 9;
const LEAST_MM = 10;
const SIXTEENTH_MM = 25.4 / 16;
/** Corners in halves of the sides. */
const CORNERS = /** @type {const} */ ([[-1, -1], [1, -1], [1, 1], [-1, 1]]);

/** What hands do to what lies on the page: move it, size it by its corners, shift a photo within its frame. */
export class PageHand {
  /**
   * @param {Workroom} room
   * @param {{picked: () => BlockPart | null, pick: (at: number | null) => void}} ways
   */
  constructor(room, { picked, pick }) {
    this.room = room;
    this.picked = picked;
    this.pick = pick;
    this.strokes = 0;
    /** What it lines up with at the moment. @type {Line[]} */
    this.lines = [];
    /** @type {{x: number, y: number, from: Block, act: (x: number, y: number) => Partial<Block>} | null} */
    this.carried = null;
  }

  /** Takes hold of a handle, or of the block at a spot. @param {number} x  mm  @param {number} y */
  hold(x, y) {
    const { blocks } = this.room.project.page;
    const block = this.picked()?.blockIn(this.room.project);
    const handle = block && this.#handleAt(block, x, y);
    if (block && handle) {
      this.#take(x, y, block, handle);
      return true;
    }
    const at = blockAt(this.room, x, y);
    const from = at === null ? undefined : blocks[at];
    if (!from) return false;
    this.pick(at);
    this.#take(x, y, from, (toX, toY) => this.#moved(from, toX - x, toY - y));
    return true;
  }

  /** @param {number} x  mm  @param {number} y */
  carry(x, y) {
    if (this.carried) this.picked()?.change(this.carried.act(x, y), `stroke page ${this.strokes}`);
  }

  letGo() {
    this.carried = null;
    if (this.lines.length === 0) return;
    this.lines = [];
    this.room.repaint(null);
  }

  /**
   * @param {number} x
   * @param {number} y
   * @param {Block} from
   * @param {(x: number, y: number) => Partial<Block>} act
   */
  #take(x, y, from, act) {
    this.strokes += 1;
    this.carried = { x, y, from, act };
  }

  /**
   * @param {Block} block
   * @param {number} x
   * @param {number} y
   * @returns {((x: number, y: number) => Partial<Block>) | null} what the handle there does, if there is one
   */
  #handleAt(block, x, y) {
    const reach = HANDLE_PX / this.room.view().scale;
    const [across, down] = within(block, x, y);
    const { width_mm: width, height_mm: height } = this.room.bench.design ?? { width_mm: 0, height_mm: 0 };
    const [wide, high] = outerSize(block, { width, height });
    const corner =
      block.kind !== "piece" && CORNERS.find(([right, low]) => Math.hypot(across - (right * wide) / 2, down - (low * high) / 2) < reach);
    if (corner) return (toX, toY) => sized(block, wide, high, corner, toX, toY);
    const picture = block.picture === null ? null : this.room.pictures.at(block.picture);
    if (!picture || Math.hypot(across, down) >= reach) return null;
    return (toX, toY) => {
      const [right, low] = within(block, toX, toY);
      const [beyondX, beyondY] = reachingBeyond(block, picture);
      return {
        picture_x: beyondX > 0 ? held(block.picture_x - (2 * (right - across)) / beyondX) : 0,
        picture_y: beyondY > 0 ? held(block.picture_y - (2 * (low - down)) / beyondY) : 0,
      };
    };
  }

  /**
   * @param {Block} from
   * @param {number} dx  mm
   * @param {number} dy
   * @returns {Partial<Block>}
   */
  #moved(from, dx, dy) {
    const { page } = this.room.project;
    const step = this.room.unit === "in" ? SIXTEENTH_MM : 1;
    const snap = (/** @type {number} */ mm, /** @type {number} */ most) => Math.min(Math.max(0, Math.round(mm / step) * step), most);
    const at = this.picked()?.at;
    const others = page.blocks.filter((_, other) => other !== at).map((block) => this.lying(block));
    const wanted = { ...this.lying(from), x: from.x_mm + dx, y: from.y_mm + dy };
    const lined = linedUp(wanted, others, { width: page.width_mm, height: page.height_mm }, LINE_UP_PX / this.room.view().scale);
    this.lines = lined.lines;
    return {
      x_mm: lined.x === wanted.x ? snap(wanted.x, page.width_mm) : lined.x,
      y_mm: lined.y === wanted.y ? snap(wanted.y, page.height_mm) : lined.y,
    };
  }

  /** @param {Block} block  @returns {import("./page-room.js").Lying} the upright box around it */
  lying(block) {
    const { width_mm: width, height_mm: height } = this.room.bench.design ?? { width_mm: 0, height_mm: 0 };
    const [wide, high] = outerSize(block, { width, height });
    const turn = (block.turn_deg * Math.PI) / 180;
    const [cos, sin] = [Math.abs(Math.cos(turn)), Math.abs(Math.sin(turn))];
    return { x: block.x_mm, y: block.y_mm, width: wide * cos + high * sin, height: wide * sin + high * cos };
  }
}

/**
 * A spot of the page as a block has it, from its middle along its sides.
 *
 * @param {Block} block
 * @param {number} x
 * @param {number} y
 * @returns {[number, number]}
 */
function within(block, x, y) {
  const turn = (block.turn_deg * Math.PI) / 180;
  const [dx, dy] = [x - block.x_mm, y - block.y_mm];
  return [dx * Math.cos(turn) + dy * Math.sin(turn), dy * Math.cos(turn) - dx * Math.sin(turn)];
}

/**
 * A block as large as a corner's new place makes it; the corner across stays, and so do its proportions.
 *
 * @param {Block} block
 * @param {number} wide  with its border, mm
 * @param {number} high
 * @param {readonly [number, number]} corner
 * @param {number} x  where the corner is to be
 * @param {number} y
 * @returns {Partial<Block>}
 */
function sized(block, wide, high, [right, low], x, y) {
  const [across, down] = within(block, x, y);
  // Along the diagonal from the corner across.
  const [alongX, alongY] = [across + (right * wide) / 2, down + (low * high) / 2];
  const along = (alongX * right * wide + alongY * low * high) / (wide * wide + high * high);
  const rim = 2 * block.mat_mm;
  const least = LEAST_MM / Math.min(block.width_mm, block.height_mm);
  const width = Math.max(along * wide - rim, least * block.width_mm);
  const height = (width * block.height_mm) / block.width_mm;
  const [moveX, moveY] = [(right * (width + rim - wide)) / 2, (low * (height + rim - high)) / 2];
  const turn = (block.turn_deg * Math.PI) / 180;
  return {
    width_mm: width,
    height_mm: height,
    x_mm: block.x_mm + moveX * Math.cos(turn) - moveY * Math.sin(turn),
    y_mm: block.y_mm + moveX * Math.sin(turn) + moveY * Math.cos(turn),
  };
}

/** @param {number} share */
function held(share) {
  return Math.min(Math.max(-1, share), 1);
}
