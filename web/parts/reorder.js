const SLOP_PX = 8;
const HOLD_MS = 320;

/**
 * Lets the items of a list be dragged into another order: with a mouse or pen at once, with a finger after a
 * short hold, so that a list can still be scrolled. Only items marked `data-moves` move.
 */
export class Reorder {
  /**
   * @param {HTMLElement} list
   * @param {(from: number, to: number) => void} move  takes places among the items that move
   */
  constructor(list, move) {
    this.list = list;
    this.move = move;
    /** @type {{item: HTMLElement, id: number, from: number, x: number, y: number, lifted: boolean, timer: number} | null} */
    this.held = null;
    /** A hand is on the list: whoever fills it waits, so that nothing is replaced under the hand. */
    this.isPressed = false;
    list.addEventListener("pointerdown", () => (this.isPressed = true));
    for (const end of ["pointerup", "pointercancel"]) addEventListener(end, () => (this.isPressed = false));
    list.addEventListener("pointerdown", (event) => this.#press(event));
    addEventListener("pointermove", (event) => this.#drag(event));
    addEventListener("pointerup", (event) => this.#drop(event, true));
    addEventListener("pointercancel", (event) => this.#drop(event, false));
    // Once an item is lifted, the finger that holds it must not scroll the list.
    list.addEventListener("touchmove", (event) => this.held?.lifted && event.preventDefault(), { passive: false });
    list.addEventListener("contextmenu", (event) => this.held && event.preventDefault());
    list.addEventListener("click", (event) => this.#swallow(event), { capture: true });
    this.moved = false;
  }

  get #items() {
    return /** @type {HTMLElement[]} */ ([...this.list.querySelectorAll(":scope > [data-moves='true']")]);
  }

  /** @param {PointerEvent} event */
  #press(event) {
    // Not every drag ends in a click: the next press is meant, wherever it is.
    this.moved = false;
    const item = /** @type {Element} */ (event.target).closest("[data-moves='true']");
    if (!(item instanceof HTMLElement) || event.button !== 0 || this.held) return;
    const from = this.#items.indexOf(item);
    const timer = event.pointerType === "mouse" ? 0 : setTimeout(() => this.#lift(), HOLD_MS);
    this.held = { item, id: event.pointerId, from, x: event.clientX, y: event.clientY, lifted: false, timer };
  }

  #lift() {
    if (!this.held) return;
    this.held.lifted = true;
    this.moved = true;
    this.held.item.classList.add("lifted");
  }

  /** @param {PointerEvent} event */
  #drag(event) {
    const { held } = this;
    if (!held || event.pointerId !== held.id) return;
    const [dx, dy] = [event.clientX - held.x, event.clientY - held.y];
    if (!held.lifted) {
      if (Math.hypot(dx, dy) < SLOP_PX) return;
      if (event.pointerType === "touch") {
        this.#forget();
        return;
      }
      this.#lift();
    }
    const over = document.elementFromPoint(event.clientX, event.clientY)?.closest("[data-moves='true']");
    if (!(over instanceof HTMLElement) || over === held.item || over.parentElement !== this.list) return;
    const items = this.#items;
    if (items.indexOf(over) > items.indexOf(held.item)) over.after(held.item);
    else over.before(held.item);
  }

  /**
   * @param {PointerEvent} event
   * @param {boolean} meant
   */
  #drop(event, meant) {
    const { held } = this;
    if (!held || event.pointerId !== held.id) return;
    const to = this.#items.indexOf(held.item);
    this.#forget();
    if (!held.lifted || to === held.from) return;
    if (meant) this.move(held.from, to);
    else {
      const others = this.#items.filter((item) => item !== held.item);
      const before = others[held.from];
      if (before) before.before(held.item);
      else others.at(-1)?.after(held.item);
    }
  }

  #forget() {
    clearTimeout(this.held?.timer);
    this.held?.item.classList.remove("lifted");
    this.held = null;
  }

  /** A drag ends in a click that was not meant. @param {MouseEvent} event */
  #swallow(event) {
    if (!this.moved) return;
    this.moved = false;
    event.stopPropagation();
    event.preventDefault();
  }
}
