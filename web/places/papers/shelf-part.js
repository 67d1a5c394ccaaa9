import { icon, make, write } from "../../parts/dom.js";
import { fileButton } from "../../parts/files/file-button.js";
import { movePaper } from "../../project/edits.js";
import { bare, say } from "../../words/words.js";
import { papersFromFiles } from "./photos/collection-dialog.js";
import { newPaper, PaperDialog } from "./paper-dialog.js";
import { PaperShelf } from "./paper-shelf.js";
import { addShelf, saveShelf } from "./shelf-files.js";
import { removePaper } from "./remove-dialog.js";
import { stashButton } from "./stash-dialog.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Paper} Paper */
/** @typedef {import("../../words/words.js").Key} Key */

const MANY = "image/*,.zip,application/zip";
const IMAGES = "image/*";
const SHELVES = ".json,.zip,application/json,application/zip";

/** The shelf, what can be done to the picked paper, and ways to bring papers in. */
export class ShelfPart {
  /**
   * @param {Workroom} room
   * @param {(file: File) => void} bringPhoto
   */
  constructor(room, bringPhoto) {
    this.room = room;
    this.shelf = new PaperShelf(room);
    this.edit = this.#tool("edit", "paper.edit", (paper) => new PaperDialog(room, paper).open());
    this.earlier = this.#tool("back", "paper.earlier", (paper) => this.#move(paper, -1));
    this.later = this.#tool("next", "paper.later", (paper) => this.#move(paper, 1));
    this.swap = this.#tool("swap", "paper.swap", ({ id }) => room.session.take({ swaps: room.session.hand.swaps === null ? id : null }));
    this.tools = make(
      "div",
      { class: "sheet-tools", role: "toolbar", "aria-label": say("paper.tools") },
      this.edit,
      this.earlier,
      this.later,
      this.swap,
      this.#tool("copy", "paper.duplicate", (paper) => this.#duplicate(paper)),
      this.#tool("trash", "paper.remove", (paper) => void this.#remove(paper)),
    );
    this.missing = make("p", { class: "soft small" });
    this.nothing = make("p", { class: "soft" }, say("shelf.empty"));
    this.more = make(
      "details",
      { class: "fold" },
      make("summary", { help: "shelf.more" }, say("shelf.more")),
      make(
        "div",
        { class: "shelf-more" },
        stashButton(room),
        make(
          "button",
          { help: "paper.new", type: "button", class: "button", onclick: () => new PaperDialog(room, newPaper(room.project.shelf.papers)).open() },
          icon("plus"),
          say("paper.new"),
        ),
        fileButton("photo", "shelf.photo", { accept: IMAGES }, bringPhoto),
        fileButton("copy", "shelf.collection", { accept: MANY, multiple: true }, (_, files) => void papersFromFiles(room, files)),
        fileButton("camera", "shelf.camera", { accept: IMAGES, capture: "environment" }, bringPhoto),
        fileButton("open", "shelf.load", { accept: SHELVES }, (file) => void addShelf(room, file.name, file)),
        make(
          "button",
          { help: "shelf.save", type: "button", class: "button", onclick: () => void saveShelf(room) },
          icon("save"),
          say("shelf.save"),
        ),
      ),
      make("p", { class: "soft small" }, say("shelf.order-about")),
    );
    this.element = make(
      "div",
      { class: "stack" },
      this.shelf.element,
      this.tools,
      this.missing,
      this.nothing,
      this.more,
    );
  }

  update() {
    this.shelf.update();
    const { papers } = this.room.project.shelf;
    const at = papers.findIndex(({ id }) => id === this.#picked?.id);
    this.tools.hidden = at < 0;
    this.nothing.hidden = papers.length > 0;
    if (papers.length === 0) this.more.open = true;
    const { missing, small } = this.room.pictures;
    const picture = this.#picked?.picture ?? "";
    this.missing.hidden = !missing.has(picture) && !small.has(picture);
    write(this.missing, say(small.has(picture) ? "paper.small-picture" : "paper.no-picture"));
    this.earlier.disabled = at <= 0;
    this.later.disabled = at === papers.length - 1;
    this.swap.disabled = papers.length < 2;
    this.swap.setAttribute("aria-pressed", String(this.room.session.hand.swaps !== null));
  }

  get #picked() {
    const { tool, picked } = this.room.session.hand;
    return tool === "paper" ? (this.room.papers.get(picked ?? "") ?? null) : null;
  }

  /**
   * @param {string} picture
   * @param {Key} key
   * @param {(paper: Paper) => void} act
   */
  #tool(picture, key, act) {
    const name = say(key);
    return make(
      "button",
      {
        help: key,
        type: "button",
        class: "button-icon",
        "aria-label": name,
        title: name,
        onclick: () => this.#picked && act(this.#picked),
      },
      icon(picture),
    );
  }

  /**
   * @param {Paper} paper
   * @param {-1 | 1} by
   */
  #move({ id }, by) {
    const at = this.room.project.shelf.papers.findIndex((paper) => paper.id === id);
    this.room.store.edit("", (project) => movePaper(project, id, at + by));
  }

  /** @param {Paper} paper */
  async #duplicate({ id, name }) {
    await this.room.change([
      { edit: "duplicate_paper", to: { paper: id, name: bare(say("papers.copy-name", { name })) } },
    ]);
    const { papers } = this.room.project.shelf;
    const copy = papers[papers.findIndex((paper) => paper.id === id) + 1];
    if (copy) this.room.session.take({ picked: copy.id });
  }

  /** @param {Paper} paper */
  async #remove(paper) {
    try {
      await removePaper(this.room, paper);
    } catch (error) {
      this.room.notices.tellError(error, { stays: true });
    }
  }
}
