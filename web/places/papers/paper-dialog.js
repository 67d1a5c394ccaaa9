import { Choice } from "../../parts/choice.js";
import { make } from "../../parts/dom.js";
import { field } from "../../parts/field.js";
import { swatch } from "../../parts/swatch.js";
import { Toggle } from "../../parts/toggle.js";
import { PATTERNS } from "../../stage/patterns.js";
import { say } from "../../words/words.js";
import { ProjectDialog } from "../project-dialog.js";
import { PrintFields } from "./print-fields.js";
import { ScrapFields } from "./scraps/scrap-fields.js";
import { SizeFields } from "./size-fields.js";
import { showTrouble } from "../../parts/trouble.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Paper} Paper */
/** @typedef {import("../../words/words.js").Key} Key */
/**
 * Where a paper is: a shelf, and how it is kept there with these scraps; `keep` tells whether it was.
 *
 * @typedef {{shelf: import("../../desk/types.js").Shelf,
 *   keep: (paper: Paper, scraps: import("../../desk/types.js").Scrap[]) => Promise<boolean>}} Holder
 */

const PLAIN = "plain";
const PHOTO = "photo";

/** All that can be told of a paper: its look, its sheets, and the scraps left of it. */
export class PaperDialog {
  /**
   * @param {Workroom} room
   * @param {Paper} paper  as it is, or a new one with an id that is free
   * @param {Holder} [holder]  the project's shelf unless told
   */
  constructor(room, paper, holder = shelfOf(room)) {
    this.room = room;
    this.draft = paper;
    this.holder = holder;
    /** The photo that it had, which stays among its looks. */
    this.photo = paper.picture;
    const isNew = !holder.shelf.papers.some(({ id }) => id === paper.id);
    this.dialog = new ProjectDialog(room, say(isNew ? "paper.new" : "paper.edit"));
    this.preview = make("div", { class: "paper-preview" });
    this.looks = make("div", { class: "paper-looks", role: "group", "aria-label": say("paper.look") });
    this.size = new SizeFields(room, "paper.size", (width, height) =>
      this.#set({ sheet_width_mm: width, sheet_height_mm: height }),
    );
    this.print = new PrintFields(room, paper, (change) => this.#set(change));
    this.scraps = new ScrapFields(room, paper.id, holder.shelf.scraps.filter((scrap) => scrap.paper === paper.id));
    this.direction = /** @type {Choice<string>} */ (
      new Choice("paper.direction", (direction) => this.#set({ direction }))
    );
    this.sides = new Toggle("paper.both-sides", (both_sides) => this.#set({ both_sides }));
    this.#furnish(paper, isNew);
    this.#show();
  }

  open() {
    this.dialog.open();
  }

  /**
   * @param {Paper} paper
   * @param {boolean} isNew
   */
  #furnish(paper, isNew) {
    this.name = make("input", { type: "text", value: paper.name, maxlength: "80", autocomplete: "off" });
    this.colour = make("input", {
      type: "color",
      value: paper.colour,
      oninput: () => this.#set({ colour: this.colour?.value ?? paper.colour }),
    });
    this.sheets = make("input", {
      type: "number",
      min: "0",
      step: "1",
      inputmode: "numeric",
      value: paper.sheets ?? "",
      placeholder: say("paper.sheets-any"),
    });
    this.collection = make("input", {
      type: "text",
      value: paper.collection,
      maxlength: "80",
      autocomplete: "off",
      placeholder: "–",
    });
    this.price = make("input", {
      type: "number",
      min: "0",
      step: "any",
      inputmode: "decimal",
      value: paper.price ?? "",
      placeholder: "–",
    });
    this.dialog.room.append(
      make(
        "div",
        { class: "paper-top" },
        this.preview,
        make("div", { class: "paper-names" }, field("paper.name", this.name), field("paper.colour", this.colour)),
      ),
      this.looks,
      this.size.element,
      this.print.element,
      make("div", { class: "fields" }, field("paper.sheets", this.sheets), field("paper.price", this.price)),
      this.direction.element,
      this.sides.element,
      field("paper.collection", this.collection),
      this.scraps.element,
    );
    const keep = isNew ? "paper.add" : "paper.keep";
    this.dialog.foot.append(
      make("button", { help: "act.cancel", type: "button", class: "button", onclick: () => this.dialog.close() }, say("act.cancel")),
      make("button", { help: keep, type: "button", class: "button-main", onclick: () => void this.#keep() }, say(keep)),
    );
  }

  /** @param {Partial<Paper>} change */
  #set(change) {
    this.draft = { ...this.draft, ...change };
    this.#show();
  }

  #show() {
    const { draft } = this;
    this.preview.replaceChildren(swatch(this.room.paint, draft, 150, 104));
    this.looks.replaceChildren(...this.#looks(draft));
    this.size.show(draft.sheet_width_mm, draft.sheet_height_mm);
    this.direction.show(
      ["any", "one-way", "two-way"].map((value) => ({
        value,
        text: say(/** @type {Key} */ (`paper.direction-${value}`)),
      })),
      draft.direction,
    );
    this.sides.show(draft.both_sides);
    this.print.show(draft);
  }

  /** @param {Paper} draft */
  #looks(draft) {
    const photo = this.photo ?? draft.picture;
    const looks = [
      ...(photo ? [{ name: PHOTO, look: { picture: photo, pattern: null } }] : []),
      { name: PLAIN, look: { picture: null, pattern: null } },
      ...Object.keys(PATTERNS).map((name) => ({ name, look: { picture: null, pattern: name } })),
    ];
    return looks.map(({ name, look }) =>
      make(
        "button",
        {
          help: "kind-look",
          type: "button",
          class: "paper-look",
          title: say(/** @type {Key} */ (`pattern.${name}`)),
          "aria-label": say(/** @type {Key} */ (`pattern.${name}`)),
          "aria-pressed": String(draft.picture === look.picture && draft.pattern === look.pattern),
          onclick: () => {
            this.#set(look);
            /** @type {HTMLElement | null} */ (this.looks.querySelector('[aria-pressed="true"]'))?.focus();
          },
        },
        swatch(this.room.paint, { ...draft, ...look }, 76, 40),
      ),
    );
  }

  async #keep() {
    if (!(await this.size.settled()) || !(await this.print.settled) || !this.dialog.isOpen) return;
    const sheets = this.sheets?.value ?? "";
    const price = this.price?.value ?? "";
    const paper = {
      ...this.draft,
      name: this.name?.value.trim() || say("paper.unnamed"),
      sheets: sheets === "" ? null : Math.round(Number(sheets)),
      price: price === "" ? null : Number(price),
      collection: this.collection?.value.trim() ?? "",
    };
    try {
      if (await this.holder.keep(paper, this.scraps.scraps)) this.dialog.close();
    } catch (error) {
      showTrouble(this.dialog.trouble, error);
    }
  }
}

/**
 * The project's shelf; a paper that is kept there comes to hand.
 *
 * @param {Workroom} room
 * @returns {Holder}
 */
function shelfOf(room) {
  return {
    shelf: room.project.shelf,
    keep: async (paper, scraps) => {
      /** @type {unknown} */
      let refused = null;
      const done = await room.change(
        [
          { edit: "put_paper", to: { paper } },
          { edit: "put_scraps", to: { paper: paper.id, scraps } },
        ],
        (error) => (refused = error),
      );
      if (refused) throw refused;
      if (done) room.session.take({ picked: paper.id, tool: "paper" });
      return done;
    },
  };
}

/**
 * A paper with an id that is free on a shelf.
 *
 * @param {readonly Paper[]} papers
 * @returns {Paper}
 */
export function newPaper(papers) {
  const taken = new Set(papers.map(({ id }) => id));
  let count = 1;
  while (taken.has(`p${count}`)) count += 1;
  return {
    id: `p${count}`,
    name: say("paper.new-name", { number: papers.length + 1 }),
    colour: "#c9785d",
    pattern: "dots",
    picture: null,
    picture_width_mm: null,
    sheet_width_mm: 304.8,
    sheet_height_mm: 304.8,
    sheets: null,
    direction: "any",
    both_sides: false,
    price: null,
    original: null,
    print_margin_mm: null,
    collection: "",
    stash: null,
  };
}
