import { icon, make } from "../../../parts/dom.js";
import { field } from "../../../parts/field.js";
import { amend, chosen } from "../../../project/edits.js";
import { bare, say } from "../../../words/words.js";
import { ProjectDialog } from "../../project-dialog.js";
import { drawColourway, emptyThumbnail } from "./thumbnail.js";
import { showTrouble } from "../../../parts/trouble.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */
/** @typedef {import("../../../desk/types.js").Colourway} Colourway */
/** @typedef {import("../../../words/words.js").Key} Key */
/** @typedef {{button: HTMLButtonElement, name: HTMLElement, canvas: HTMLCanvasElement, drawn: unknown[]}} Tile */

/** The colourways side by side, what can be done to the chosen one, and the colours around them. */
export class ColourwaysPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    /** @type {Map<string, Tile>} */
    this.tiles = new Map();
    this.list = make("ul", { class: "tiles colourways" });
    this.drawing = 0;
    this.remove = this.#tool("trash", "colourway.remove", () => this.#remove());
    this.compare = this.#tool("compare", "colourway.compare", () => this.#compare());
    this.swap = this.#tool("swap", "colourway.swap", () => this.#swap());
    this.card = colourInput((card_colour) => this.#look({ card_colour }));
    this.behind = colourInput((behind_colour) => this.#look({ behind_colour }));
    this.element = make(
      "div",
      {},
      make(
        "section",
        { class: "part" },
        make("p", { class: "soft" }, say("colourway.about")),
        this.list,
        make(
          "div",
          { class: "named-tools", role: "toolbar", "aria-label": say("colourway.tools") },
          this.#tool("plus", "colourway.new", () => this.#add()),
          this.#tool("copy", "colourway.copy", () => this.#copy()),
          this.#tool("edit", "colourway.rename", () => this.#rename()),
          this.swap,
          this.compare,
          this.remove,
        ),
      ),
      make(
        "section",
        { class: "part" },
        make("h3", {}, say("look.title")),
        make("div", { class: "fields" }, field("look.card", this.card), field("look.behind", this.behind)),
      ),
    );
  }

  update() {
    const { project } = this.room;
    const { colourways, look } = project;
    const ids = colourways.map(({ id }) => id);
    if (ids.join(" ") !== [...this.tiles.keys()].join(" ")) this.#build(colourways);
    for (const { id, name } of colourways) {
      const tile = this.tiles.get(id);
      if (!tile) continue;
      tile.name.textContent = name;
      tile.button.setAttribute("aria-pressed", String(id === chosen(project).id));
    }
    this.remove.disabled = colourways.length < 2;
    this.compare.disabled = colourways.length < 2;
    this.swap.disabled = project.shelf.papers.length < 2;
    if (document.activeElement !== this.card) this.card.value = look.card_colour;
    if (document.activeElement !== this.behind) this.behind.value = look.behind_colour;
    this.#drawSoon();
  }

  /** @param {readonly Colourway[]} colourways */
  #build(colourways) {
    this.tiles.clear();
    this.list.replaceChildren(
      ...colourways.map(({ id }) => {
        const canvas = emptyThumbnail(132, 104);
        const name = make("strong", {});
        const button = make(
          "button",
          { help: "kind-colourway", type: "button", class: "tile", onclick: () => this.#choose(id) },
          canvas,
          name,
        );
        this.tiles.set(id, { button, name, canvas, drawn: [] });
        return make("li", {}, button);
      }),
    );
  }

  /** Draws thumbnails that are out of date, one a turn, so that no tap waits for them. */
  #drawSoon() {
    clearTimeout(this.drawing);
    this.drawing = setTimeout(() => {
      const { shapes, project, paint } = this.room;
      for (const colourway of project.colourways) {
        const tile = this.tiles.get(colourway.id);
        const of = [shapes, colourway.papers, project.look, project.shelf.papers, paint.loaded];
        if (!tile || of.every((value, at) => value === tile.drawn[at])) continue;
        tile.drawn = of;
        drawColourway(this.room, colourway, tile.canvas);
        this.#drawSoon();
        return;
      }
    }, 60);
  }

  /** @param {string} id */
  #choose(id) {
    this.room.store.edit("", (project) =>
      project.colourway === id ? project : { ...project, colourway: id },
    );
  }

  /** @param {Partial<import("../../../desk/types.js").Look>} change */
  #look(change) {
    this.room.store.edit("look", (project) => amend(project, "look", change));
  }

  #add() {
    const { colourways } = this.room.project;
    const name = say("colourway.name", { number: colourways.length + 1 });
    void this.room.change([{ edit: "add_colourway", to: { name } }]);
  }

  #copy() {
    const { id, name } = chosen(this.room.project);
    void this.room.change([
      { edit: "duplicate_colourway", to: { colourway: id, name: bare(say("papers.copy-name", { name })) } },
    ]);
  }

  #remove() {
    void this.room.change([{ edit: "remove_colourway", to: { colourway: chosen(this.room.project).id } }]);
  }

  #rename() {
    const { id, name } = chosen(this.room.project);
    const input = make("input", { type: "text", value: name, maxlength: "60", autocomplete: "off" });
    this.#ask(say("colourway.rename"), [field("colourway.new-name", input)], "paper.keep", () => ({
      edit: "rename_colourway",
      to: { colourway: id, name: input.value },
    }));
    input.select();
  }

  #swap() {
    const { project, session } = this.room;
    const select = () =>
      make(
        "select",
        {},
        ...project.shelf.papers.map(({ id, name }, at) => make("option", { value: id }, `${at + 1}. ${name}`)),
      );
    const [old, fresh] = [select(), select()];
    old.value = session.hand.picked ?? old.value;
    fresh.value = project.shelf.papers.find(({ id }) => id !== old.value)?.id ?? "";
    this.#ask(
      say("colourway.swap"),
      [field("colourway.swap-old", old), field("colourway.swap-new", fresh)],
      "colourway.swap-do",
      () => ({
        edit: "swap_paper",
        to: { colourway: chosen(this.room.project).id, old: old.value, new: fresh.value },
      }),
    );
  }

  /**
   * @param {string} title
   * @param {HTMLElement[]} fields
   * @param {Key} yes
   * @param {() => {edit: string, to: Record<string, unknown>}} edit
   */
  #ask(title, fields, yes, edit) {
    const dialog = new ProjectDialog(this.room, title);
    const form = make("form", {
      class: "stack",
      method: "dialog",
      onsubmit: (/** @type {SubmitEvent} */ event) => {
        event.preventDefault();
        const refuse = (/** @type {unknown} */ error) => {
          showTrouble(dialog.trouble, error);
        };
        void this.room.change([edit()], refuse).then((done) => done && dialog.close());
      },
    });
    form.append(
      ...fields,
      make(
        "div",
        { class: "dialog-foot" },
        make("button", { help: "act.cancel", type: "button", class: "button", onclick: () => dialog.close() }, say("act.cancel")),
        make("button", { help: yes, type: "submit", class: "button-main" }, say(yes)),
      ),
    );
    dialog.room.append(form);
    dialog.open();
  }

  #compare() {
    const dialog = new ProjectDialog(this.room, say("colourway.compare-title"), { kind: "dialog-wide" });
    const list = make("ul", { class: "compared" });
    for (const colourway of this.room.project.colourways) {
      const canvas = emptyThumbnail(460, 360);
      drawColourway(this.room, colourway, canvas);
      list.append(
        make(
          "li",
          {},
          make(
            "button",
            {
              help: "kind-colourway",
              type: "button",
              class: "tile",
              "aria-pressed": String(colourway.id === chosen(this.room.project).id),
              onclick: () => {
                this.#choose(colourway.id);
                dialog.close();
              },
            },
            canvas,
            make("strong", {}, colourway.name),
          ),
        ),
      );
    }
    dialog.room.append(list);
    dialog.open();
  }

  /**
   * @param {string} picture
   * @param {Key} key
   * @param {() => void} act
   */
  #tool(picture, key, act) {
    return make("button", { help: key, type: "button", class: "button-named", onclick: act }, icon(picture), say(key));
  }
}

/** @param {(colour: string) => void} change */
function colourInput(change) {
  const input = make("input", { type: "color", oninput: () => change(input.value) });
  return input;
}
