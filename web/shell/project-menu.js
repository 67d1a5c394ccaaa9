import { Choice } from "../parts/choice.js";
import { icon, make } from "../parts/dom.js";
import { say, spoken } from "../words/words.js";

/** @typedef {import("../project/archive.js").Entry} Entry */
/** @typedef {import("../words/words.js").Key} Key */
/**
 * @typedef {{
 *   open: () => void, paste: () => void, demo: () => void, save: () => void, link: () => void,
 *   recent: () => Promise<Entry[]>, reopen: (id: string) => void, forget: (id: string) => Promise<void>,
 *   look: (look: string) => void, units: (units: string) => void,
 * }} MenuWays
 */

/** The projects in this browser, ways to bring in and send out, and settings. */
export class ProjectMenu {
  /** @param {MenuWays} ways */
  constructor(ways) {
    this.ways = ways;
    this.recent = make("ul", { class: "tiles" });
    this.look = /** @type {Choice<string>} */ (new Choice(say("menu.look"), (look) => ways.look(look)));
    this.units = /** @type {Choice<string>} */ (new Choice(say("menu.units"), (units) => ways.units(units)));
    /** @type {string[]} */
    this.urls = [];
    this.dialog = make(
      "dialog",
      {
        class: "dialog",
        "aria-labelledby": "menu-title",
        onclick: (/** @type {MouseEvent} */ event) => event.target === this.dialog && this.close(),
      },
      make(
        "div",
        { class: "dialog-head" },
        make("h2", { id: "menu-title" }, say("menu.title")),
        make(
          "button",
          { type: "button", class: "button-icon", "aria-label": say("act.close"), onclick: () => this.close() },
          icon("close"),
        ),
      ),
      make(
        "div",
        { class: "dialog-room" },
        make(
          "ul",
          { class: "tiles" },
          this.#tile("open", "menu.open", ways.open),
          this.#tile("paste", "menu.paste", ways.paste),
          this.#tile("design", "menu.demo", ways.demo),
          this.#tile("save", "menu.save", ways.save),
          this.#tile("share", "menu.link", ways.link),
        ),
        make("h3", {}, say("menu.recent")),
        this.recent,
        make("h3", {}, say("menu.settings")),
        this.look.element,
        this.units.element,
      ),
    );
    document.body.append(this.dialog);
  }

  /**
   * @param {string} look
   * @param {string} units
   */
  async open(look, units) {
    this.look.show(
      ["auto", "light", "dark", "contrast"].map((value) => ({
        value,
        text: say(/** @type {Key} */ (`menu.look-${value}`)),
      })),
      look,
    );
    this.units.show(
      ["in", "mm"].map((value) => ({ value, text: say(/** @type {Key} */ (`menu.unit-${value}`)) })),
      units,
    );
    this.dialog.showModal();
    this.#list(await this.ways.recent());
  }

  close() {
    this.dialog.close();
  }

  /**
   * @param {string} picture
   * @param {"menu.open" | "menu.paste" | "menu.demo" | "menu.save" | "menu.link"} key
   * @param {() => void} act
   */
  #tile(picture, key, act) {
    return make(
      "li",
      {},
      make(
        "button",
        {
          type: "button",
          class: "tile",
          onclick: () => {
            this.close();
            act();
          },
        },
        icon(picture),
        make("strong", {}, say(key)),
        make("small", { class: "soft" }, say(`${key}-about`)),
      ),
    );
  }

  /** @param {Entry[]} entries */
  #list(entries) {
    for (const url of this.urls) URL.revokeObjectURL(url);
    this.urls = [];
    this.recent.replaceChildren(
      ...(entries.length > 0 ? entries.map((entry) => this.#entry(entry)) : [make("li", {}, say("menu.none"))]),
    );
  }

  /** @param {Entry} entry */
  #entry({ id, name, saved, thumbnail }) {
    const url = thumbnail ? URL.createObjectURL(thumbnail) : "";
    if (url) this.urls.push(url);
    const when = new Intl.DateTimeFormat(spoken(), { dateStyle: "medium", timeStyle: "short" }).format(saved);
    return make(
      "li",
      { class: "kept" },
      make(
        "button",
        {
          type: "button",
          class: "tile",
          onclick: () => {
            this.close();
            this.ways.reopen(id);
          },
        },
        url ? make("img", { src: url, alt: "" }) : null,
        make("strong", {}, name),
        make("small", { class: "soft" }, say("menu.saved", { when })),
      ),
      make(
        "button",
        {
          type: "button",
          class: "button-icon kept-forget",
          "aria-label": say("menu.forget"),
          title: say("menu.forget"),
          onclick: () => void this.#forget(id, name),
        },
        icon("trash"),
      ),
    );
  }

  /**
   * @param {string} id
   * @param {string} name
   */
  async #forget(id, name) {
    if (!(await this.#ask(say("menu.forget-ask", { name }), say("menu.forget-do")))) return;
    await this.ways.forget(id);
    this.#list(await this.ways.recent());
  }

  /**
   * @param {string} question
   * @param {string} yes
   * @returns {Promise<boolean>}
   */
  #ask(question, yes) {
    return new Promise((resolve) => {
      const dialog = make(
        "dialog",
        { class: "dialog", onclose: () => { dialog.remove(); resolve(dialog.returnValue === "yes"); } },
        make(
          "form",
          { method: "dialog", class: "dialog-room question" },
          make("p", {}, question),
          make(
            "div",
            { class: "choice-row" },
            make("button", { class: "button", value: "no" }, say("act.cancel")),
            make("button", { class: "button-main", value: "yes" }, yes),
          ),
        ),
      );
      document.body.append(dialog);
      dialog.showModal();
    });
  }
}
