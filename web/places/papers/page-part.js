import { download } from "../../parts/files/download.js";
import { icon, make } from "../../parts/dom.js";
import { field } from "../../parts/field.js";
import { LengthField } from "../../parts/length-field.js";
import { refill } from "../../parts/refill.js";
import { Toggle } from "../../parts/toggle.js";
import { amend } from "../../project/edits.js";
import { isolated, say } from "../../words/words.js";
import { isEmpty } from "../../stage/layers/page-layer.js";
import { readSize } from "../read-size.js";
import { BlockPart } from "./block-part.js";
import { PageHand } from "./page-hand.js";
import { roomFor } from "./page-room.js";
import { blockAt } from "./page-scene.js";
import { pagePicture } from "./page-picture.js";
import { startPage } from "./page-start.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Block} Block */
/** @typedef {import("../../words/words.js").Key} Key */
/** @typedef {{name: string, width_mm: number, height_mm: number}} PageSize */

const CUSTOM = "custom";
const SIXTEENTH_MM = 25.4 / 16;

/** The finished piece on its page: the page, what lies on it, and its picture with measures. */
export class PagePart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    this.shown = { grid: false, thirds: false };
    /** The block that is picked. @type {BlockPart | null} */
    this.picked = null;
    /** The project whose page it is. */
    this.of = "";
    this.hand = new PageHand(room, { picked: () => this.picked, pick: (at) => this.#pick(at) });
    this.starting = false;
    /** The project for whose page a size of its own is asked for. @type {string | null} */
    this.asking = null;
    /** @type {readonly PageSize[]} */
    this.sizes = [];
    this.size = make(
      "select",
      { onchange: () => this.#choose() },
      make("option", { value: CUSTOM }, say("paper.size-custom")),
    );
    this.across = this.#length("design.width", (width_mm) => this.#page({ width_mm }));
    this.down = this.#length("design.height", (height_mm) => this.#page({ height_mm }));
    this.custom = make("div", { class: "fields" }, this.across.element, this.down.element);
    this.background = make("select", { onchange: () => this.#page({ background: this.background.value || null }) });
    this.list = make("ul", { class: "rows" });
    this.block = make("div");
    this.grid = new Toggle("page.grid", (grid) => this.#aid({ grid }));
    this.thirds = new Toggle("page.thirds", (thirds) => this.#aid({ thirds }));
    this.element = make(
      "div",
      {},
      make(
        "section",
        { class: "part" },
        field("page.size", this.size),
        this.custom,
        field("page.background", this.background),
      ),
      make(
        "section",
        { class: "part" },
        make("h3", {}, say("page.blocks")),
        make("p", { class: "soft small" }, say("page.blocks-about")),
        this.list,
        make(
          "div",
          { class: "choice-row" },
          ...["photo", "title", "writing"].map((kind) =>
            make(
              "button",
              { help: `page.add-${kind}`, type: "button", class: "button", onclick: () => void this.#add(kind) },
              icon("plus"),
              say(/** @type {Key} */ (`page.add-${kind}`)),
            ),
          ),
        ),
        this.block,
      ),
      make("section", { class: "part" }, this.grid.element, this.thirds.element),
      make(
        "section",
        { class: "part" },
        make("h3", {}, say("page.picture")),
        make("p", { class: "soft small" }, say("page.picture-about")),
        make(
          "div",
          { class: "choice-row page-pictures" },
          make("button", { help: "page.picture", type: "button", class: "button", onclick: () => void this.#take("png") }, icon("save"), "PNG"),
          make("button", { help: "page.picture", type: "button", class: "button", onclick: () => void this.#take("svg") }, icon("save"), "SVG"),
        ),
      ),
    );
  }

  /** What is drawn on the page to place things by. */
  get aids() {
    return { ...this.shown, empty: true, picked: this.picked?.at ?? null, unit: this.room.unit, lines: this.hand.lines };
  }

  update() {
    const { project, unit } = this.room;
    const { page } = project;
    if (this.of !== project.id) this.#turnTo(null);
    this.of = project.id;
    void this.#begin();
    const usual = this.sizes.findIndex(
      (size) => Math.hypot(size.width_mm - page.width_mm, size.height_mm - page.height_mm) < 0.05,
    );
    const isOwn = usual < 0 || this.asking === project.id;
    this.size.value = isOwn ? CUSTOM : String(usual);
    this.custom.hidden = !isOwn;
    this.across.show(page.width_mm, unit, project.id);
    this.down.show(page.height_mm, unit, project.id);
    this.background.replaceChildren(
      make("option", { value: "" }, say("page.plain")),
      ...project.shelf.papers.map(({ id, name }, at) => make("option", { value: id }, `${at + 1}. ${name}`)),
    );
    this.background.value = page.background ?? "";
    if (this.picked && !this.picked.blockIn(project)) this.#turnTo(null);
    this.#showBlocks(page.blocks);
    this.picked?.update();
  }

  /** @param {number} x  mm  @param {number} y */
  tap(x, y) {
    this.#pick(blockAt(this.room, x, y));
  }

  /** @param {number} x  mm  @param {number} y */
  hold(x, y) {
    return this.hand.hold(x, y);
  }

  /** @param {number} x  mm  @param {number} y */
  carry(x, y) {
    this.hand.carry(x, y);
  }

  drop() {
    this.hand.letGo();
  }

  letGo() {
    this.hand.letGo();
  }

  /** Fetches the page sizes, and lays the piece on a page where there is none yet. */
  async #begin() {
    if (this.starting) return;
    this.starting = true;
    const { desk, notices } = this.room;
    try {
      if (this.sizes.length === 0) {
        this.sizes = await desk.pageSizes();
        this.size.replaceChildren(
          ...this.sizes.map((size, at) => make("option", { value: String(at) }, isolated(size.name))),
          make("option", { value: CUSTOM }, say("paper.size-custom")),
        );
        this.update();
      }
      await startPage(this.room);
    } catch (error) {
      notices.tellError(error);
    } finally {
      this.starting = false;
    }
  }

  #choose() {
    const size = this.sizes[Number(this.size.value)];
    this.asking = size ? null : this.room.project.id;
    if (size) this.#page({ width_mm: size.width_mm, height_mm: size.height_mm });
    else this.update();
  }

  /** @param {Partial<import("../../desk/types.js").PageLayout>} change */
  #page(change) {
    this.room.store.edit("page", (project) => amend(project, "page", change));
  }

  /** @param {number | null} at */
  #pick(at) {
    if (at === this.aids.picked) return;
    this.#turnTo(at);
    this.update();
    this.room.repaint(null);
  }

  /** @param {number | null} at  among the page's blocks */
  #turnTo(at) {
    const held = this.block.contains(document.activeElement);
    this.picked = at === null ? null : new BlockPart(this.room, at);
    this.block.replaceChildren(...(this.picked ? [this.picked.element] : []));
    if (held) this.list.querySelector("button")?.focus();
  }

  /** @param {Partial<{grid: boolean, thirds: boolean}>} change */
  #aid(change) {
    Object.assign(this.shown, change);
    this.room.repaint(null);
  }

  /** @param {readonly Block[]} blocks */
  #showBlocks(blocks) {
    const { picked } = this.aids;
    // The foremost first, as they lie on the page.
    const rows = blocks.map((block, at) =>
      make(
        "li",
        {},
        make(
          "button",
          {
            help: "kind-block",
            type: "button",
            class: "row",
            "aria-pressed": String(at === picked),
            onclick: () => this.#pick(at),
            onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event, at),
          },
          icon(block.kind === "photo" ? "photo" : block.kind === "piece" ? "design" : "edit"),
          make("span", {}, block.text.split("\n")[0] || say(/** @type {Key} */ (`page.${block.kind}`))),
        ),
      ),
    );
    rows.reverse();
    const { children } = this.list;
    // What is the same stays, and with it a hand or the keyboard's focus on it.
    if (rows.length !== children.length || rows.some((row, at) => !row.isEqualNode(children[at] ?? null))) {
      refill(this.list, rows);
    }
  }

  /**
   * @param {KeyboardEvent} event
   * @param {number} at
   */
  #key(event, at) {
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (!way) return;
    event.preventDefault();
    this.#pick(at);
    const block = this.room.project.page.blocks[at];
    const step = this.room.unit === "in" ? SIXTEENTH_MM : 1;
    if (block) this.picked?.change({ x_mm: block.x_mm + (way[0] ?? 0) * step, y_mm: block.y_mm + (way[1] ?? 0) * step });
  }

  /**
   * @param {Key} key
   * @param {(mm: number) => void} change
   */
  #length(key, change) {
    return new LengthField(key, {
      read: (text) => readSize(this.room, text),
      step: (unit) => (unit === "in" ? 6.35 : 5),
      change,
    });
  }

  /** @param {string} kind */
  async #add(kind) {
    try {
      await startPage(this.room);
    } catch (error) {
      this.room.notices.tellError(error);
      return;
    }
    const { page } = this.room.project;
    // A place that waits for one is filled first.
    const waiting = page.blocks.findIndex((each) => each.kind === kind && isEmpty(each));
    if (waiting >= 0) {
      this.#pick(waiting);
      return;
    }
    const [width, height] = { photo: [101.6, 152.4], title: [127, 25.4] }[kind] ?? [101.6, 76.2];
    const mat = kind === "photo" ? SIXTEENTH_MM * 2 : 0;
    const others = page.blocks.map((each) => this.hand.lying(each));
    const one = { width: (width ?? 0) + 2 * mat, height: (height ?? 0) + 2 * mat };
    const { x, y, size } = roomFor(one, others, { width: page.width_mm, height: page.height_mm });
    /** @type {Block} */
    const block = {
      kind,
      x_mm: x,
      y_mm: y,
      width_mm: one.width * size - 2 * mat,
      height_mm: one.height * size - 2 * mat,
      turn_deg: 0,
      mat_mm: mat,
      text: "",
      picture: null,
      picture_x: 0,
      picture_y: 0,
      picture_zoom: 1,
      ink: null,
      face: null,
    };
    this.#page({ blocks: [...page.blocks, block] });
    this.#turnTo(page.blocks.length);
  }

  /** @param {"png" | "svg"} kind */
  async #take(kind) {
    const { desk, project, notices, questions } = this.room;
    try {
      const blob = await questions.ask("project", async (asked) => {
        const { svg, measures } = await desk.pagePicture(asked);
        return kind === "svg" ? new Blob([svg], { type: "image/svg+xml" }) : pagePicture(this.room, measures);
      });
      download(`${say("page.file", { name: project.name })}.${kind}`, blob);
    } catch (error) {
      notices.tellError(error, { stays: true });
    }
  }
}
