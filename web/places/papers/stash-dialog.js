import { Choice } from "../../parts/choice.js";
import { icon, make, write } from "../../parts/dom.js";
import { field } from "../../parts/field.js";
import { fileButton } from "../../parts/files/file-button.js";
import { showTrouble } from "../../parts/trouble.js";
import { swatch } from "../../parts/swatch.js";
import { Toggle } from "../../parts/toggle.js";
import { say } from "../../words/words.js";
import { ProjectDialog } from "../project-dialog.js";
import { reorderButton } from "./buying/reorder-dialog.js";
import { PaperDialog } from "./paper-dialog.js";
import { bookingRow } from "./booking-row.js";
import { addToStash, saveStash } from "./shelf-files.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Project} Project */
/** @typedef {import("../../desk/types.js").Paper} Paper */
/** @typedef {import("../../words/words.js").Key} Key */
/** @typedef {"own" | "light" | "wheel"} Order */

const SHELVES = ".json,.zip,application/json,application/zip";
const ORDERS = /** @type {const} */ (["own", "light", "wheel"]);

/** All papers that the person has: found, sorted, laid on the shelf of this project, put into collections. */
export class StashDialog {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    /** Ids of the picked papers. @type {Set<string>} */
    this.picked = new Set();
    this.wish = { text: "", collection: "", hidesUsedUp: false, isLow: false, order: /** @type {Order} */ ("own") };
    /** What the package says of the stash. @type {{orders: Record<string, string[]>, used_up: string[], low: string[]}} */
    this.told = { orders: {}, used_up: [], low: [] };
    /** By paper id. @type {Map<string, HTMLElement>} */
    this.sheets = new Map();
    this.dialog = new ProjectDialog(room, say("stash.title"), { kind: "dialog-wide" });
    this.search = make("input", {
      type: "search",
      autocomplete: "off",
      oninput: () => this.#wish({ text: this.search.value }),
    });
    this.collections = make("select", { onchange: () => this.#wish({ collection: this.collections.value }) });
    this.order = /** @type {Choice<Order>} */ (new Choice("stash.order", (order) => this.#wish({ order })));
    this.usedUp = new Toggle("stash.hide-used-up", (hidesUsedUp) => this.#wish({ hidesUsedUp }));
    this.low = new Toggle("stash.low", (isLow) => this.#wish({ isLow }));
    this.list = make("ul", { class: "sheets stash-sheets", "aria-label": say("stash.title") });
    this.nothing = make("p", { class: "soft" });
    this.lay = this.#button("button-main", "stash.lay", () => void this.#lay());
    this.collect = this.#button("button", "stash.collect", () => this.#askCollection());
    this.remove = this.#button("button", "stash.remove", () => void this.#remove());
    this.edit = this.#button("button", "paper.edit", () => this.#edit());
    this.asked = make("div", { class: "stack" });
    this.cuts = make("ul", { class: "versions" });
    this.history = make("details", { class: "fold" }, make("summary", { help: "cut.history" }, say("cut.history")), this.cuts);
    this.#furnish();
    const change = () => void this.#look();
    room.stash.addEventListener("change", change);
    room.pictures.addEventListener("loaded", change);
    this.dialog.element.addEventListener("close", () => {
      room.stash.removeEventListener("change", change);
      room.pictures.removeEventListener("loaded", change);
    });
    void this.#look();
  }

  open() {
    this.dialog.open();
  }

  #furnish() {
    const { room } = this;
    const find = make(
      "div",
      { class: "fields stash-find" },
      field("stash.search", this.search),
      (this.collectionField = field("stash.collection", this.collections)),
    );
    this.dialog.room.append(
      find,
      this.order.element,
      this.usedUp.element,
      this.low.element,
      this.nothing,
      this.list,
      this.asked,
      this.history,
      make(
        "details",
        { class: "fold" },
        make("summary", { help: "stash.more" }, say("stash.more")),
        make(
          "div",
          { class: "shelf-more" },
          reorderButton(room, "all"),
          this.#button("button", "stash.take-in", () => void this.#takeIn()),
          fileButton("open", "stash.load", { accept: SHELVES }, (file) => void this.#try(() => addToStash(room, file))),
          this.#button("button", "stash.save", () => void this.#try(() => saveStash(room))),
          this.#button("button", "stash.forget", () => this.#askForget()),
        ),
      ),
    );
    this.dialog.foot.append(this.remove, this.collect, this.edit, this.lay);
  }

  /**
   * @param {string} kind
   * @param {Key} key
   * @param {() => void} act
   */
  #button(kind, key, act) {
    return make("button", { help: key, type: "button", class: kind, onclick: act }, say(key, { count: 1 }));
  }

  /** @param {Partial<StashDialog["wish"]>} change */
  #wish(change) {
    this.wish = { ...this.wish, ...change };
    this.#show();
  }

  /** Asks the package for the order of the papers, and shows them. */
  async #look() {
    this.#show();
    try {
      this.told = await this.room.desk.stashView(this.room.stash.shelf);
    } catch (error) {
      showTrouble(this.dialog.trouble, error);
    }
    if (this.dialog.element.isConnected) this.#show();
  }

  #show() {
    const { papers } = this.room.stash.shelf;
    const { told, wish, picked } = this;
    for (const id of picked) if (!papers.some((paper) => paper.id === id)) picked.delete(id);
    const names = [...new Set(papers.map(({ collection }) => collection).filter((name) => name !== ""))].sort();
    if (!names.includes(wish.collection)) wish.collection = "";
    this.collections.replaceChildren(
      make("option", { value: "" }, say("stash.all-collections")),
      ...names.map((name) => make("option", { value: name }, name)),
    );
    this.collections.value = wish.collection;
    if (this.collectionField) this.collectionField.hidden = names.length === 0;
    this.usedUp.element.hidden = told.used_up.length === 0;
    this.usedUp.show(wish.hidesUsedUp);
    this.low.element.hidden = told.low.length === 0;
    this.low.show(wish.isLow);
    this.order.show(
      ORDERS.map((value) => ({ value, text: say(/** @type {Key} */ (`stash.order-${value}`)) })),
      wish.order,
    );
    const shown = this.#found(papers);
    const held = document.activeElement?.closest("[data-paper]")?.getAttribute("data-paper");
    this.sheets = new Map(shown.map((paper) => [paper.id, this.#sheet(paper)]));
    this.list.replaceChildren(...this.sheets.values());
    if (held) this.sheets.get(held)?.querySelector("button")?.focus();
    this.nothing.hidden = shown.length > 0;
    write(this.nothing, say(papers.length === 0 ? "stash.empty" : "stash.none-found"));
    this.#showActions();
    this.#showCuts();
  }

  #showCuts() {
    const { stash } = this.room;
    const standing = stash.bookings.filter(({ undone }) => !undone).reverse();
    this.history.hidden = standing.length === 0;
    this.cuts.replaceChildren(
      ...standing.map((booking) => bookingRow(booking, () => void this.#try(() => stash.takeBack(booking.id)))),
    );
  }

  #showActions() {
    const count = this.picked.size;
    write(this.lay, say("stash.lay", { count: Math.max(1, count) }));
    this.lay.disabled = count === 0;
    for (const button of [this.collect, this.remove]) button.hidden = count === 0;
    this.edit.hidden = count !== 1;
  }

  /** @param {readonly Paper[]} papers */
  #found(papers) {
    const { text, collection, hidesUsedUp, isLow, order } = this.wish;
    const wanted = text.trim().toLocaleLowerCase();
    const places = new Map((this.told.orders[order] ?? []).map((id, place) => [id, place]));
    return papers
      .filter((paper) => `${paper.name} ${paper.collection}`.toLocaleLowerCase().includes(wanted))
      .filter((paper) => collection === "" || paper.collection === collection)
      .filter(({ id }) => !isLow || this.told.low.length === 0 || this.told.low.includes(id))
      .filter(({ id }) => !hidesUsedUp || !this.told.used_up.includes(id))
      .sort((one, other) => (places.get(one.id) ?? 0) - (places.get(other.id) ?? 0));
  }

  /** @param {Paper} paper */
  #sheet(paper) {
    const isHere = this.room.project.shelf.papers.some(({ stash }) => stash === paper.id);
    const left = this.told.used_up.includes(paper.id)
      ? say("stash.used-up")
      : paper.sheets === null
        ? ""
        : say("stash.sheets", { count: paper.sheets });
    const button = make(
      "button",
      {
        help: "kind-paper",
        type: "button",
        class: "sheet",
        "aria-pressed": String(this.picked.has(paper.id)),
        onclick: () => {
          if (!this.picked.delete(paper.id)) this.picked.add(paper.id);
          button.setAttribute("aria-pressed", String(this.picked.has(paper.id)));
          this.#showActions();
        },
      },
      swatch(this.room.paint, paper, 96, 64),
      make("span", { class: "sheet-name" }, make("span", {}, paper.name)),
      make("small", { class: "soft" }, [isHere ? say("stash.here") : "", left].filter(Boolean).join(" · ")),
    );
    return make("li", { "data-paper": paper.id }, button);
  }

  async #lay() {
    const papers = [...this.picked];
    const to = { stash: this.room.stash.shelf, papers };
    const before = this.room.project.shelf.papers.length;
    const done = await this.room.change([{ edit: "take_from_stash", to }], (error) => {
      showTrouble(this.dialog.trouble, error);
    });
    if (!done) return;
    this.dialog.close();
    const added = this.room.project.shelf.papers.slice(before);
    this.room.notices.tell(say("stash.laid", { count: added.length }));
    if (added.length > 0) this.room.session.bring(added.map(({ id }) => id));
  }

  /** Lays all papers of this project's shelf in. */
  async #takeIn() {
    const { questions, stash } = this.room;
    const layAll = (/** @type {Project} */ project) => stash.layIn(project, project.shelf.papers.map(({ id }) => id));
    await this.#try(async () => this.room.linkTo(await questions.ask("project", layAll)));
  }

  /** Changes the one picked paper, wherever it is used. */
  #edit() {
    const { stash } = this.room;
    const paper = stash.shelf.papers.find(({ id }) => this.picked.has(id));
    if (!paper) return;
    const keep = async (/** @type {Paper} */ told, /** @type {import("../../desk/types.js").Scrap[]} */ scraps) => {
      await stash.put(told, scraps);
      return true;
    };
    new PaperDialog(this.room, paper, { shelf: stash.shelf, keep }).open();
  }

  async #remove() {
    const gone = new Set(this.picked);
    await this.#try(() =>
      this.room.stash.change(({ papers, scraps }) => ({
        papers: papers.filter(({ id }) => !gone.has(id)),
        scraps: scraps.filter(({ paper }) => !gone.has(paper)),
      })),
    );
  }

  #askCollection() {
    const name = make("input", { type: "text", maxlength: "80", autocomplete: "off", value: this.wish.collection });
    const keep = () => {
      const collection = name.value.trim();
      const chosen = new Set(this.picked);
      this.asked.replaceChildren();
      void this.#try(() =>
        this.room.stash.change((shelf) => ({
          ...shelf,
          papers: shelf.papers.map((paper) => (chosen.has(paper.id) ? { ...paper, collection } : paper)),
        })),
      );
    };
    this.#ask(field("stash.collection-name", name), this.#button("button-main", "stash.collect-do", keep));
    name.focus();
  }

  #askForget() {
    const forget = () => {
      this.asked.replaceChildren();
      void this.#try(() => this.room.stash.forget());
    };
    this.#ask(make("p", {}, say("stash.forget-about")), this.#button("button-main", "stash.forget-do", forget));
  }

  /**
   * @param {HTMLElement} question
   * @param {HTMLElement} answer
   */
  #ask(question, answer) {
    const stop = this.#button("button", "act.cancel", () => this.asked.replaceChildren());
    this.asked.replaceChildren(question, make("div", { class: "fields" }, stop, answer));
    this.asked.scrollIntoView({ block: "nearest" });
  }

  /** @param {() => Promise<void>} act */
  async #try(act) {
    this.dialog.trouble.textContent = "";
    try {
      await act();
    } catch (error) {
      showTrouble(this.dialog.trouble, error);
    }
  }
}

/**
 * The button that opens the stash.
 *
 * @param {Workroom} room
 */
export function stashButton(room) {
  return make(
    "button",
    { help: "stash.open", type: "button", class: "button", onclick: () => new StashDialog(room).open() },
    icon("papers"),
    say("stash.open"),
  );
}
