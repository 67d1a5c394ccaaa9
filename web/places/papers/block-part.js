import { icon, make } from "../../parts/dom.js";
import { field } from "../../parts/field.js";
import { fileButton } from "../../parts/files/file-button.js";
import { LengthField } from "../../parts/length-field.js";
import { amend } from "../../project/edits.js";
import { FACES } from "../../stage/faces.js";
import { say } from "../../words/words.js";
import { readBreadth, readSize } from "../read-size.js";
import { readPhoto } from "../../pictures/read-photo.js";

/** Characters; a project holds no more (`py/peekpaper/bounds.py`). */
const MOST_WRITING = 5000;

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Block} Block */
/** @typedef {import("../../words/words.js").Key} Key */
/** @typedef {import("../../desk/types.js").Project} Project */

const PHOTO_SIDE_PX = 1600;
const TURN_DEG = 5;
const MOST_ZOOM = 4;
/** Where a block is that was taken off the page. */
const NOWHERE = -1;

/** What can be done to one block of the page; what takes its time is done to that one, whatever is picked meanwhile. */
export class BlockPart {
  /**
   * @param {Workroom} room
   * @param {number} at  among the page's blocks
   */
  constructor(room, at) {
    this.room = room;
    this.project = room.project.id;
    this.at = at;
    const readLength = (/** @type {string} */ text) => room.desk.readLength(text, room.unit);
    const readSide = (/** @type {string} */ text) => readSize(room, text);
    this.x = this.#length("page.x", readLength, (x_mm) => this.change({ x_mm }));
    this.y = this.#length("page.y", readLength, (y_mm) => this.change({ y_mm }));
    this.width = this.#length("design.width", readSide, (width_mm) => this.change({ width_mm }));
    this.height = this.#length("design.height", readSide, (height_mm) => this.change({ height_mm }));
    this.mat = this.#length("page.mat", (text) => readBreadth(room, text), (mat_mm) => this.change({ mat_mm }));
    this.sides = make("div", { class: "fields" }, this.width.element, this.height.element, this.mat.element);
    this.text = make("textarea", { rows: "2", maxlength: MOST_WRITING, oninput: () => this.change({ text: this.text.value }) });
    this.words = field("page.text", this.text);
    this.closer = make("input", { type: "range", class: "slider", min: 1, max: MOST_ZOOM, step: 0.05, oninput: () => this.change({ picture_zoom: this.closer.valueAsNumber }) });
    this.zoom = field("page.zoom", this.closer);
    this.ink = make("select", { onchange: () => this.change({ ink: this.ink.value || null }) });
    this.inks = field("page.ink", this.ink);
    this.face = make("select", { onchange: () => this.change({ face: this.face.value || null }) });
    this.face.append(make("option", { value: "" }, say("page.face-plain")), ...FACES.map((face) => make("option", { value: face }, say(`page.face-${face}`))));
    this.faces = field("page.face", this.face);
    this.photo = fileButton("photo", "page.photo-pick", { accept: "image/*" }, (file) => void this.#photo(file));
    this.forward = this.#tool("front", "page.forward", () => this.#layer(1));
    this.backward = this.#tool("behind", "page.backward", () => this.#layer(-1));
    this.remove = this.#tool("trash", "page.remove", () => this.#remove());
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
      this.zoom,
      this.words,
      this.faces,
      this.inks,
    );
  }

  /** @param {Project} project  @returns {Block | null} the block in it, null where it is none of this project's */
  blockIn(project) {
    return (project.id === this.project && project.page.blocks[this.at]) || null;
  }

  update() {
    const { project, unit } = this.room;
    const block = this.blockIn(project);
    if (!block) return;
    this.x.show(block.x_mm, unit);
    this.y.show(block.y_mm, unit);
    this.width.show(block.width_mm, unit);
    this.height.show(block.height_mm, unit);
    this.mat.show(block.mat_mm, unit);
    this.sides.hidden = block.kind === "piece";
    this.mat.element.hidden = block.kind !== "photo";
    this.photo.hidden = block.kind !== "photo";
    this.zoom.hidden = block.picture === null;
    this.closer.value = String(block.picture_zoom);
    this.words.hidden = block.kind !== "title" && block.kind !== "writing";
    this.inks.hidden = this.words.hidden;
    this.faces.hidden = this.words.hidden;
    this.face.value = block.face ?? "";
    this.ink.replaceChildren(
      make("option", { value: "" }, say("page.ink-plain")),
      ...project.shelf.papers.map(({ id, name }, at) => make("option", { value: id }, `${at + 1}. ${name}`)),
    );
    this.ink.value = block.ink ?? "";
    if (document.activeElement !== this.text) this.text.value = block.text;
    this.remove.disabled = block.kind === "piece";
    this.forward.disabled = this.at === project.page.blocks.length - 1;
    this.backward.disabled = this.at === 0;
  }

  /**
   * @param {Partial<Block>} change
   * @param {string} [name]  of the step to undo
   */
  change(change, name = "block") {
    this.#edit(name, (blocks, block) => blocks.with(this.at, { ...block, ...change }));
  }

  /**
   * @param {string} name  of the step to undo
   * @param {(blocks: readonly Block[], block: Block) => Block[]} edit
   */
  #edit(name, edit) {
    this.room.store.edit(name, (project) => {
      const block = this.blockIn(project);
      return block ? amend(project, "page", { blocks: edit(project.page.blocks, block) }) : project;
    });
  }

  /** @param {number} by  degrees clockwise; turns stay within half a turn either way */
  #turn(by) {
    const turn = this.blockIn(this.room.project)?.turn_deg ?? 0;
    this.change({ turn_deg: ((turn + by + 540) % 360) - 180 });
  }

  /** @param {-1 | 1} by */
  #layer(by) {
    this.#edit("layer", (blocks, block) => blocks.toSpliced(this.at, 1).toSpliced(this.at + by, 0, block));
    this.at += by;
  }

  #remove() {
    this.#edit("", (blocks) => blocks.toSpliced(this.at, 1));
    this.at = NOWHERE;
  }

  /** @param {File} file */
  async #photo(file) {
    try {
      const { picture } = await readPhoto(file, PHOTO_SIDE_PX);
      const { key, kept } = await this.room.pictures.keep(picture);
      const block = this.blockIn(this.room.project);
      this.change({ picture: key, picture_x: 0, picture_y: 0, picture_zoom: 1, ...(block && frameFor(block, picture)) });
      if (!kept) this.room.notices.tell(say("photo.not-kept"), { stays: true });
    } catch (error) {
      this.room.notices.tellError(error, { stays: true });
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
      { help: key, type: "button", class: "button-icon", "aria-label": name, title: name, onclick: act },
      icon(picture),
    );
  }

  /**
   * @param {Key} key
   * @param {(text: string) => Promise<number>} read
   * @param {(mm: number) => void} change
   */
  #length(key, read, change) {
    return new LengthField(key, { read, change, step: (unit) => (unit === "in" ? 6.35 : 5) });
  }
}

/**
 * The frame that shows a whole photo, within the room that the frame had.
 *
 * @param {Block} block
 * @param {{width: number, height: number}} photo  px
 * @returns {Partial<Block>}
 */
function frameFor({ width_mm: width, height_mm: height }, photo) {
  const size = Math.min(width / photo.width, height / photo.height);
  return { width_mm: photo.width * size, height_mm: photo.height * size };
}
