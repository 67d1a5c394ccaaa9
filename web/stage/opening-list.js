import { make } from "../parts/dom.js";
import { say } from "../words/words.js";

/** @typedef {import("./shapes.js").Shapes} Shapes */

/** @type {Record<string, [number, number]>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/**
 * The openings as a list beside the canvas, for screen readers and the keyboard: arrows walk to the nearest
 * opening that way, Home and End to the first and last, Enter or Space acts, "a" on all alike, Escape lets go.
 * Arrows with Shift span a box from where they began; Enter then acts on all that lie in it.
 */
export class OpeningList {
  /**
   * @param {HTMLElement} stage
   * @param {{walk: (number: number | null, from: number | null) => void, act: (number: number) => void,
   *   actBetween: (from: number, to: number) => void, actAlike: (number: number) => void,
   *   about: (number: number) => string, details: (number: number) => void}} ways
   *   walk: `from` is where the box begins that is spanned, if any
   */
  constructor(stage, { walk, act, actBetween, actAlike, about, details }) {
    this.walk = walk;
    this.act = act;
    this.actBetween = actBetween;
    this.actAlike = actAlike;
    this.about = about;
    this.details = details;
    /** @type {Shapes | null} */
    this.shapes = null;
    this.mirrored = false;
    /** @type {number | null} */
    this.active = null;
    /** The opening from which a box is spanned to the active one. @type {number | null} */
    this.from = null;
    this.list = make("ul", {
      help: "kind-openings",
      class: "openings unseen",
      role: "listbox",
      tabindex: "0",
      "aria-label": say("stage.openings"),
      "aria-describedby": "stage-keys",
      onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event),
      onclick: (/** @type {MouseEvent} */ event) => this.#tap(event),
      onfocus: () => this.#go(this.active ?? this.shapes?.openings[0]?.number ?? null),
      onblur: () => {
        this.from = null;
        this.walk(null, null);
      },
    });
    stage.append(this.list, make("p", { id: "stage-keys", class: "unseen" }, say("stage.keys")));
  }

  /**
   * Lists the openings; whoever walks among them stays where they are, as far as that opening is still there.
   *
   * @param {Shapes | null} shapes
   * @param {boolean} mirrored
   * @returns {boolean} whether all were told anew
   */
  show(shapes, mirrored) {
    this.mirrored = mirrored;
    if (shapes === this.shapes) return false;
    this.shapes = shapes;
    // A list of nothing must not take the focus.
    this.list.hidden = !shapes?.openings.length;
    const walks = this.list === document.activeElement;
    const stays = walks && this.active !== null && shapes?.byNumber.has(this.active);
    if (!stays) this.active = null;
    this.from = null;
    this.#list((shapes?.openings ?? []).map(({ number }) => number));
    this.#mark();
    return true;
  }

  /** Lists openings; a screen reader that is at one of them stays there where they are the same. @param {number[]} numbers */
  #list(numbers) {
    const ids = numbers.map((number) => `opening-${number}`);
    const { children } = this.list;
    if (ids.length === children.length && ids.every((id, at) => children[at]?.id === id)) {
      for (const option of children) option.setAttribute("aria-selected", "false");
      this.refresh(numbers);
      return;
    }
    this.list.replaceChildren(
      ...numbers.map((number, at) => make("li", { id: ids[at], role: "option", "aria-selected": "false" }, this.about(number))),
    );
  }

  /** Says anew what openings are, where that changed; all for null. @param {Iterable<number> | null} numbers */
  refresh(numbers) {
    for (const number of numbers ?? this.shapes?.byNumber.keys() ?? []) {
      const option = document.getElementById(`opening-${number}`);
      const about = this.about(number);
      if (option && option.textContent !== about) option.textContent = about;
    }
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const openings = this.shapes?.openings ?? [];
    const way = ARROWS[event.key];
    if (way) this.#go(this.#toward(way) ?? this.active ?? openings[0]?.number ?? null, event.shiftKey);
    else if (event.key === "Home") this.#go(openings[0]?.number ?? null);
    else if (event.key === "Escape") this.#go(null);
    else if (event.key === "End") this.#go(openings.at(-1)?.number ?? null);
    else if ((event.key === "Enter" || event.key === " ") && this.active !== null) this.#act(this.active);
    else if (event.key === "a" && !event.ctrlKey && !event.metaKey && this.active !== null) this.actAlike(this.active);
    else if (event.key === "i" && this.active !== null) this.details(this.active);
    else return;
    event.preventDefault();
  }

  /** A tap by a screen reader comes as a click on the option; it does what Enter does. @param {MouseEvent} event */
  #tap(event) {
    const option = event.target instanceof Element ? event.target.closest("[role=option]") : null;
    if (option) this.#act(Number(option.id.replace("opening-", "")));
  }

  /** @param {number} number */
  #act(number) {
    if (this.from === null) this.act(number);
    else this.actBetween(this.from, number);
    this.#go(number);
  }

  /** @param {number | null} number  @param {boolean} [spans] */
  #go(number, spans = false) {
    this.from = spans ? (this.from ?? this.active) : null;
    for (const option of this.list.querySelectorAll('[aria-selected="true"]')) {
      option.setAttribute("aria-selected", "false");
    }
    this.active = number;
    this.#mark();
    this.walk(number, this.from);
  }

  /** Says which opening the keyboard is at. */
  #mark() {
    if (this.active === null) {
      this.list.removeAttribute("aria-activedescendant");
      return;
    }
    document.getElementById(`opening-${this.active}`)?.setAttribute("aria-selected", "true");
    this.list.setAttribute("aria-activedescendant", `opening-${this.active}`);
  }

  /**
   * The nearest opening in a direction, straight ahead rather than to the side.
   *
   * @param {readonly [number, number]} way
   */
  #toward([dx, dy]) {
    const from = this.shapes?.byNumber.get(this.active ?? -1)?.label;
    if (!this.shapes || !from) return null;
    const side = this.mirrored ? -1 : 1;
    let best = Infinity;
    /** @type {number | null} */
    let found = null;
    for (const { number, label } of this.shapes.openings) {
      const [x, y] = [(label[0] - from[0]) * side, label[1] - from[1]];
      const ahead = x * dx + y * dy;
      const aside = Math.abs(x * dy) + Math.abs(y * dx);
      if (ahead <= 0.01 || number === this.active) continue;
      const cost = ahead + 2.5 * aside;
      if (cost < best) [best, found] = [cost, number];
    }
    return found;
  }
}
