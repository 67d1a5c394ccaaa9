import { make } from "./dom.js";
import { say } from "../words/words.js";

/**
 * Parts of a place, one shown at a time.
 *
 * @template {string} Name
 */
export class Tabs {
  /**
   * @param {string} about
   * @param {readonly {name: Name, key: import("../words/words.js").Key, panel: HTMLElement}[]} parts
   * @param {(name: Name) => void} choose
   */
  constructor(about, parts, choose) {
    this.parts = parts;
    this.buttons = parts.map(({ name, key, panel }) => {
      panel.id = `part-${name}`;
      panel.setAttribute("role", "tabpanel");
      panel.setAttribute("aria-labelledby", `tab-${name}`);
      return make(
        "button",
        {
          help: key,
          type: "button",
          class: "tab",
          role: "tab",
          id: `tab-${name}`,
          "aria-controls": panel.id,
          onclick: () => choose(name),
        },
        say(key),
      );
    });
    this.choose = choose;
    this.row = make(
      "div",
      {
        class: "tabs",
        role: "tablist",
        "aria-label": about,
        onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event),
      },
      ...this.buttons,
    );
    this.element = make("div", {}, this.row, ...parts.map(({ panel }) => panel));
  }

  /** @param {Name} chosen */
  show(chosen) {
    this.parts.forEach(({ name, panel }, at) => {
      panel.hidden = name !== chosen;
      this.buttons[at]?.setAttribute("aria-selected", String(name === chosen));
      this.buttons[at]?.setAttribute("tabindex", name === chosen ? "0" : "-1");
    });
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const by = event.key === "ArrowRight" ? 1 : event.key === "ArrowLeft" ? -1 : 0;
    const at = this.buttons.findIndex((button) => button === document.activeElement);
    const to = (at + by + this.buttons.length) % this.buttons.length;
    const part = this.parts[to];
    if (by === 0 || at < 0 || !part) return;
    event.preventDefault();
    this.choose(part.name);
    this.buttons[to]?.focus();
  }
}
