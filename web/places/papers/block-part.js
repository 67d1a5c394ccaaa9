import { icon, make } from "../../parts/dom.js";
import { field } from "../../parts/field.js";
import { fileButton } from "../../parts/file-button.js";
import { LengthField } from "../../parts/length-field.js";
import { sentenceOf } from "../../parts/sentence.js";
import { say } from "../../words/words.js";
import { readPhoto } from "./read-photo.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Block} Block */
/** @typedef {import("../../words/words.js").Key} Key */
/**
 * @typedef {{change: (change: Partial<Block>) => void, layer: (by: -1 | 1) => void, remove: () => void}} BlockWays
 */

const PHOTO_SIDE_PX = 1600;
const TURN_DEG = 5;

/** What can be done to the block that is picked on the page. */
export class BlockPart {
  /**
   * @param {Workroom} room
   * @param {BlockWays} ways
   */
  constructor(room, ways) {
    this.room = room;
    this.ways = ways;
    this.turn = 0;
    const { change } = ways;
    this.x = this.#length("page.x", (x_mm) => change({ x_mm }));
    this.y = this.#length("page.y", (y_mm) => change({ y_mm }));
    this.width = this.#length("design.width", (width_mm) => change({ width_mm }));
    this.height = this.#length("design.height", (height_mm) => change({ height_mm }));
    this.mat = this.#length("page.mat", (mat_mm) => change({ mat_mm }));
    this.sides = make("div", { class: "fields" }, this.width.element, this.height.element, this.mat.element);
    this.text = make("textarea", { rows: "2", oninput: () => change({ text: this.text.value }) });
    this.words = field(say("page.text"), this.text);
    this.photo = fileButton("photo", say("page.photo-pick"), { accept: "image/*" }, (file) => void this.#photo(file));
    this.forward = this.#tool("front", "page.forward", () => ways.layer(1));
    this.backward = this.#tool("behind", "page.backward", () => ways.layer(-1));
    this.remove = this.#tool("trash", "page.remove", ways.remove);
    this.element = make(
      "div",
      { class: "stack" },
      make(
        "div",
        { class: "sheet-tools", role: "toolbar", "aria-label": say("page.tools") },
        this.#tool("turn", "page.turn-left", () => this.#turn(-TURN_DEG)),
        this.#tool("again", "page.turn-right", () => this.#turn(TURN_DEG)),
        this.forward,
        this.backward,
        this.remove,
      ),
      make("div", { class: "fields" }, this.x.element, this.y.element),
      this.sides,
      this.photo,
      this.words,
    );
  }

  /**
   * @param {Block | null} block
   * @param {boolean} isHindmost
   * @param {boolean} isForemost
   */
  show(block, isHindmost, isForemost) {
    this.element.hidden = !block;
    if (!block) return;
    const { unit } = this.room;
    this.turn = block.turn_deg;
    this.x.show(block.x_mm, unit);
    this.y.show(block.y_mm, unit);
    this.width.show(block.width_mm, unit);
    this.height.show(block.height_mm, unit);
    this.mat.show(block.mat_mm, unit);
    this.sides.hidden = block.kind === "piece";
    this.mat.element.hidden = block.kind !== "photo";
    this.photo.hidden = block.kind !== "photo";
    this.words.hidden = block.kind !== "title" && block.kind !== "writing";
    if (document.activeElement !== this.text) this.text.value = block.text;
    this.remove.disabled = block.kind === "piece";
    this.forward.disabled = isForemost;
    this.backward.disabled = isHindmost;
  }

  /** @param {number} by  degrees clockwise; turns stay within half a turn either way */
  #turn(by) {
    this.ways.change({ turn_deg: ((this.turn + by + 540) % 360) - 180 });
  }

  /** @param {File} file */
  async #photo(file) {
    try {
      const { key, kept } = await this.room.pictures.keep(await readPhoto(file, PHOTO_SIDE_PX));
      this.ways.change({ picture: key });
      if (!kept) this.room.notices.tell(say("photo.not-kept"), { stays: true });
    } catch (error) {
      this.room.notices.tell(sentenceOf(error), { stays: true });
    }
  }

  /**
   * @param {string} picture
   * @param {Key} key
   * @param {() => void} act
   */
  #tool(picture, key, act) {
    const name = say(key);
    return make(
      "button",
      { type: "button", class: "button-icon", "aria-label": name, title: name, onclick: act },
      icon(picture),
    );
  }

  /**
   * @param {Key} key
   * @param {(mm: number) => void} change
   */
  #length(key, change) {
    return new LengthField(say(key), {
      read: (text) => this.room.desk.readLength(text, this.room.unit),
      step: (unit) => (unit === "in" ? 6.35 : 5),
      change,
    });
  }
}
