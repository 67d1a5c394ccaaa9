import { Choice } from "../../../parts/choice.js";
import { make } from "../../../parts/dom.js";
import { download } from "../../../parts/files/download.js";
import { showTrouble } from "../../../parts/trouble.js";
import { swatch } from "../../../parts/swatch.js";
import { writeAbout } from "../../../words/lengths.js";
import { say } from "../../../words/words.js";
import { ProjectDialog } from "../../project-dialog.js";
import { needsHere, needsOfAll } from "./needs.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */
/** @typedef {import("../../../desk/types.js").ReorderRow} ReorderRow */
/** @typedef {"here" | "all" | "low"} Scope */

const SCOPES = /** @type {const} */ ([
  { value: "here", key: "reorder.here" },
  { value: "all", key: "reorder.all" },
  { value: "low", key: "reorder.low" },
]);

/** What to buy: for this project, for all that are not cut yet, and what runs low; to be printed and saved. */
export class ReorderDialog {
  /**
   * @param {Workroom} room
   * @param {Scope} scope
   */
  constructor(room, scope) {
    this.room = room;
    this.asked = 0;
    /** The list as a table to be saved. @type {Uint8Array<ArrayBuffer> | null} */
    this.table = null;
    this.scope = /** @type {Choice<Scope>} */ (new Choice("reorder.scope", (chosen) => void this.#look(chosen)));
    this.list = make("ul", { class: "reorder" });
    this.told = make("p", { role: "status" });
    this.unplanned = make("p", { class: "soft small" });
    this.save = make("button", { help: "reorder.save", type: "button", class: "button", onclick: () => this.#save() }, say("reorder.save"));
    this.print = make("button", { help: "reorder.print", type: "button", class: "button-main", onclick: () => print() }, say("reorder.print"));
    this.dialog = new ProjectDialog(room, say("reorder.title"), { kind: "guide" });
    this.dialog.room.append(this.scope.element, this.told, this.list, this.unplanned, make("p", { class: "soft small" }, say("reorder.about")));
    this.dialog.foot.append(this.save, this.print);
    void this.#look(scope);
  }

  open() {
    this.dialog.open();
  }

  /** @param {Scope} scope */
  async #look(scope) {
    const { room } = this;
    const asked = ++this.asked;
    this.scope.show(SCOPES.map(({ value, key }) => ({ value, text: say(key) })), scope);
    showTrouble(this.dialog.trouble, null);
    try {
      const { needs, unplanned } = scope === "low" ? { needs: [], unplanned: [] } : scope === "here" ? needsHere(room) : await needsOfAll(room);
      const { rows, table } = await room.desk.reorder(room.stash.shelf, needs, room.unit);
      if (asked !== this.asked) return;
      this.table = table;
      this.#show(scope === "here" ? rows.filter(({ needed }) => needed > 0) : rows, unplanned);
    } catch (error) {
      if (asked === this.asked) showTrouble(this.dialog.trouble, error);
    }
  }

  /**
   * @param {readonly ReorderRow[]} rows
   * @param {readonly string[]} unplanned
   */
  #show(rows, unplanned) {
    const count = rows.reduce((sum, { to_buy }) => sum + to_buy, 0);
    const cost = rows.reduce((sum, row) => sum + (row.cost ?? 0), 0);
    const isPriced = rows.some((row) => row.cost !== null && row.cost > 0);
    this.told.textContent =
      rows.length === 0 ? say("reorder.nothing") : [say("reorder.sheets", { count }), isPriced ? say("reorder.cost", { cost: cost.toFixed(2) }) : ""].filter(Boolean).join(" · ");
    this.list.replaceChildren(...rows.map((row) => this.#row(row)));
    this.unplanned.hidden = unplanned.length === 0;
    this.unplanned.textContent = unplanned.length > 0 ? say("reorder.unplanned", { names: unplanned.join(", ") }) : "";
    this.save.disabled = this.print.disabled = rows.length === 0;
  }

  /** @param {ReorderRow} row */
  #row({ paper, needed, projects, at_hand, to_buy, is_low, cost }) {
    const size = writeAbout([paper.sheet_width_mm, paper.sheet_height_mm], this.room.unit);
    const about = [
      paper.collection,
      size,
      needed > 0 ? say("reorder.needed", { count: needed, names: projects.join(", ") }) : "",
      at_hand === null ? say("reorder.uncounted") : say("reorder.at-hand", { count: at_hand }),
      is_low && to_buy === 0 ? say("reorder.runs-low") : "",
    ];
    const does = paper.print_margin_mm === null ? "reorder.buy" : "reorder.print-sheets";
    return make(
      "li",
      {},
      swatch(this.room.paint, paper, 44, 44),
      make("span", {}, make("b", {}, paper.name), make("small", { class: "soft" }, about.filter(Boolean).join(" · "))),
      make("span", { class: "reorder-count" }, to_buy > 0 ? say(does, { count: to_buy }) : "", cost ? make("small", { class: "soft" }, cost.toFixed(2)) : null),
    );
  }

  #save() {
    if (this.table) download(say("reorder.file"), new Blob([this.table], { type: "text/csv" }));
  }
}

/**
 * The button that tells what to buy.
 *
 * @param {Workroom} room
 * @param {Scope} scope
 */
export function reorderButton(room, scope) {
  return make("button", { help: "reorder.open", type: "button", class: "button", onclick: () => new ReorderDialog(room, scope).open() }, say("reorder.open"));
}
