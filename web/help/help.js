import { icon, make } from "../parts/dom.js";
import { say } from "../words/words.js";
import { CONTROLS, lineOf } from "./lines.js";

const HOLD_MS = 550;
const SLOP_PX = 10;
const TOGGLE = ".help-toggle";
/** Keys that move about and change nothing. */
const WALKING = ["Tab", "Shift", "PageUp", "PageDown"];

/**
 * Help in place. While it is on, whatever is tapped, pointed at or reached by Tab tells in a line and a small
 * picture what it does, instead of doing it. Off, a long press of a finger on a control tells as much.
 *
 * Turned on and off by any button of class `help-toggle` and by the key `?`.
 */
export class Help {
  constructor() {
    this.on = false;
    this.name = make("strong", {});
    this.line = make("p", {});
    this.picture = icon("help");
    this.picture.setAttribute("class", "help-picture");
    this.card = make(
      "div",
      { class: "help-card", role: "status" },
      this.picture,
      make("div", { class: "help-words" }, this.name, this.line),
    );
    /** @type {Element | null} */
    this.told = null;
    this.held = { timer: 0, x: 0, y: 0, swallow: false };
    /** @type {readonly (keyof DocumentEventMap)[]} */
    const acts = ["click", "mousedown", "mouseup", "pointerup", "dblclick", "contextmenu", "beforeinput"];
    document.addEventListener("pointerdown", (event) => this.#press(event), { capture: true });
    document.addEventListener("pointermove", (event) => this.#move(event), { capture: true });
    for (const name of acts) document.addEventListener(name, (event) => this.#act(event), { capture: true });
    document.addEventListener("pointerover", (event) => event.pointerType !== "touch" && this.#point(event), { capture: true });
    document.addEventListener("focusin", (event) => this.#point(event));
    document.addEventListener("keydown", (event) => this.#key(event), { capture: true });
  }

  /** @param {boolean} on */
  turn(on) {
    this.on = on;
    document.documentElement.classList.toggle("helping", on);
    for (const button of document.querySelectorAll(TOGGLE)) button.setAttribute("aria-pressed", String(on));
    if (on) this.#show(say("help.title"), say("help.begin"), "icons.svg#help");
    else this.#away();
  }

  /**
   * @param {string} name
   * @param {string} line
   * @param {string} picture
   */
  #show(name, line, picture) {
    this.name.textContent = name;
    this.line.textContent = line;
    this.picture.querySelector("use")?.setAttribute("href", picture);
    // A modal dialog shuts out what is not within it.
    const host = [...document.querySelectorAll("dialog[open]")].at(-1) ?? document.body;
    if (this.card.parentElement !== host) host.append(this.card);
  }

  #away() {
    this.card.remove();
    this.#mark(null);
  }

  /** @param {Element | null} control */
  #mark(control) {
    this.told?.classList.remove("told");
    this.told = control;
    control?.classList.add("told");
  }

  /** @param {Element} control */
  #tell(control) {
    const found = lineOf(control);
    this.#mark(control);
    this.#show(found?.name ?? "", found?.line ?? say("help.none"), found?.picture ?? "icons.svg#help");
  }

  /** @param {Event} event */
  #point(event) {
    const control = this.on && controlAt(event);
    if (control && !control.matches(TOGGLE)) this.#tell(control);
  }

  /** @param {PointerEvent} event */
  #press(event) {
    clearTimeout(this.held.timer);
    this.held.swallow = false;
    if (!this.on) {
      this.#away();
      const control = event.pointerType === "touch" ? controlAt(event) : null;
      if (control && !control.closest("#stage, [data-moves=true], .corners")) this.#hold(event, control);
      return;
    }
    const control = controlAt(event);
    if (control?.matches(TOGGLE)) return;
    if (control) this.#tell(control);
    event.stopPropagation();
  }

  /**
   * @param {PointerEvent} event
   * @param {Element} control
   */
  #hold({ clientX: x, clientY: y }, control) {
    const timer = setTimeout(() => {
      this.held.swallow = true;
      this.#tell(control);
    }, HOLD_MS);
    this.held = { timer, x, y, swallow: false };
  }

  /** @param {PointerEvent} event */
  #move({ clientX, clientY }) {
    if (Math.hypot(clientX - this.held.x, clientY - this.held.y) > SLOP_PX) clearTimeout(this.held.timer);
  }

  /** @param {Event} event */
  #act(event) {
    if (event.type === "pointerup") clearTimeout(this.held.timer);
    // Every tap comes through here: only a click can turn help on.
    if (!this.on && !this.held.swallow && event.type !== "click") return;
    const control = controlAt(event);
    if (event.type === "click" && control?.matches(TOGGLE)) {
      this.turn(!this.on);
      return;
    }
    const held = this.held.swallow && event.type !== "pointerup";
    if ((!this.on && !held) || control?.matches(TOGGLE)) return;
    event.preventDefault();
    event.stopPropagation();
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const typing = event.target instanceof HTMLInputElement || event.target instanceof HTMLTextAreaElement;
    if (event.key === "?" && (this.on || !typing)) this.turn(!this.on);
    else if (!this.on) return;
    else if (event.key === "Escape") this.turn(false);
    else if (WALKING.includes(event.key) || event.ctrlKey || event.metaKey) return;
    else {
      const control = controlAt(event);
      if (control?.matches(TOGGLE)) return;
      if (control) this.#tell(control);
    }
    event.preventDefault();
    event.stopPropagation();
  }
}

/**
 * @param {Event} event
 * @returns {Element | null}
 */
function controlAt({ target }) {
  const control = target instanceof Element ? target.closest(CONTROLS) : null;
  const option = control instanceof HTMLInputElement ? control.closest("label.choice-option, label.toggle") : null;
  return option ?? control;
}
