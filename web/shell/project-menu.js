import { Choice } from "../parts/choice.js";
import { openFromAsked } from "../parts/dialog.js";
import { icon, make } from "../parts/dom.js";
import { helpButton } from "../parts/help-button.js";
import { refill } from "../parts/refill.js";
import { say, locale } from "../words/words.js";
import { showGuide } from "./guide.js";
import { languageChoice } from "./language-choice.js";
import { newsFold } from "./news-fold.js";

/** @typedef {import("../project/archive.js").Entry} Entry */
/** @typedef {import("../words/words.js").Key} Key */
/**
 * @typedef {{
 *   open: () => void, paste: () => void, demo: () => void, save: () => void, saveAll: () => void, link: () => void,
 *   standing: () => Promise<string[]>,
 *   recent: () => Promise<Entry[] | null>, reopen: (id: string) => void, more: (entry: Entry, changed: () => void, opened: () => void) => void,
 *   look: (look: string) => void, units: (units: string) => void, leave: (go: () => void) => void,
 * }} MenuWays
 */

/** The projects in this browser, ways to bring in and send out, and settings. */
export class ProjectMenu {
  /** @param {MenuWays} ways */
  constructor(ways) {
    this.ways = ways;
    this.recent = make("ul", { class: "tiles" });
    /** Where the work stands. */
    this.standing = make("div", { class: "standing" });
    this.look = /** @type {Choice<string>} */ (new Choice("menu.look", (look) => ways.look(look)));
    this.units = /** @type {Choice<string>} */ (new Choice("menu.units", (units) => ways.units(units)));
    /** @type {string[]} */
    this.urls = [];
    this.news = newsFold();
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
        helpButton(),
        make(
          "button",
          { help: "act.close", type: "button", class: "button-icon", "aria-label": say("act.close"), onclick: () => this.close() },
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
          this.#tile("note", "menu.guide", showGuide),
        ),
        make("h3", {}, say("menu.recent")),
        this.standing,
        this.recent,
        make(
          "button",
          {
            help: "menu.save-all",
            type: "button",
            class: "button",
            title: say("menu.save-all-about"),
            onclick: () => {
              this.close();
              ways.saveAll();
            },
          },
          icon("save"),
          say("menu.save-all"),
        ),
        make("h3", {}, say("menu.settings")),
        this.look.element,
        this.units.element,
        languageChoice(ways.leave),
        this.news.element,
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
    openFromAsked(this.dialog);
    void this.news.ready();
    this.#list(await this.ways.recent());
    const sentences = await this.ways.standing();
    this.standing.replaceChildren(...sentences.map((sentence) => make("p", {}, sentence)));
  }

  close() {
    this.dialog.close();
  }

  /**
   * @param {string} picture
   * @param {"menu.open" | "menu.paste" | "menu.demo" | "menu.save" | "menu.link" | "menu.guide"} key
   * @param {() => void} act
   */
  #tile(picture, key, act) {
    return make(
      "li",
      {},
      make(
        "button",
        {
          help: key,
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

  /** @param {Entry[] | null} entries  null where this browser keeps nothing */
  #list(entries) {
    for (const url of this.urls) URL.revokeObjectURL(url);
    this.urls = [];
    const rest = say(entries ? "menu.none" : "keep.failed");
    const isEmpty = !entries || entries.length === 0;
    refill(this.recent, isEmpty ? [make("li", { class: "soft" }, rest)] : entries.map((entry) => this.#entry(entry)));
  }

  /** @param {Entry} entry */
  #entry(entry) {
    const { id, name, saved, thumbnail } = entry;
    const url = thumbnail ? URL.createObjectURL(thumbnail) : "";
    if (url) this.urls.push(url);
    const when = new Intl.DateTimeFormat(locale(), { dateStyle: "medium", timeStyle: "short" }).format(saved);
    return make(
      "li",
      { class: "kept" },
      make(
        "button",
        {
          help: "kind-kept",
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
          help: "kind-kept-more",
          type: "button",
          class: "button-icon kept-more",
          "aria-label": say("kept.more", { name }),
          title: say("kept.more", { name }),
          onclick: () => this.ways.more(entry, () => void this.#again(), () => this.close()),
        },
        icon("edit"),
      ),
    );
  }

  async #again() {
    this.#list(await this.ways.recent());
  }
}
