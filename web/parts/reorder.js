const SLOP_PX = 8;
const HOLD_MS = 320;
/** How much of an item, from its middle, stands for itself rather than for a place beside it. */
const MIDDLE = 0.56;

/** @typedef {{item: HTMLElement, id: number, from: number, x: number, y: number, lifted: boolean, timer: number, ghost: HTMLElement | null, onto: HTMLElement | null}} Held */

/**
 * Lets the items of a list be dragged into another order, or onto one another: with a mouse or pen at once, with a
 * finger after a short hold, so that a list can still be scrolled. Only items marked `data-moves` move.
 */
export class Reorder {
  /**
   * @param {HTMLElement} list
   * @param {{
   *   move: (from: number, to: number) => void,
   *   over: (item: HTMLElement, onto: HTMLElement | null) => void,
   *   onto: (item: HTMLElement, onto: HTMLElement) => void,
   * }} ways  `move` takes places among the items that move; `over` tells what an item is held over, `onto` what it
   *   was dropped on
   */
  constructor(list, ways) {
    this.list = list;
    this.ways = ways;
    /** @type {Held | null} */
    this.held = null;
    /** A hand is on the list: whoever fills it waits, so that nothing is replaced under the hand. */
    this.isPressed = false;
    list.addEventListener("pointerdown", () => (this.isPressed = true));
    for (const end of ["pointerup", "pointercancel"]) addEventListener(end, () => (this.isPressed = false));
    list.addEventListener("pointerdown", (event) => this.#press(event));
    addEventListener("pointermove", (event) => this.#drag(event));
    addEventListener("pointerup", (event) => this.#drop(event, true));
    addEventListener("pointercancel", (event) => this.#drop(event, false));
    addEventListener("keydown", ({ key }) => key === "Escape" && this.held && this.#letGo(this.held, false));
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
    this.held = { item, id: event.pointerId, from, x: event.clientX, y: event.clientY, lifted: false, timer, ghost: null, onto: null };
  }

  #lift() {
    const { held } = this;
    if (!held) return;
    held.lifted = true;
    this.moved = true;
    held.ghost = ghostOf(held.item);
    held.item.classList.add("lifted");
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
    held.ghost?.style.setProperty("translate", `${dx}px ${dy}px`);
    const over = document.elementFromPoint(event.clientX, event.clientY)?.closest("[data-moves='true']");
    const isOther = over instanceof HTMLElement && over !== held.item && over.parentElement === this.list;
    const isOnto = isOther && isMiddle(over.getBoundingClientRect(), event.clientX, event.clientY);
    this.#hold(held, isOnto ? over : null);
    if (!isOther || isOnto) return;
    const items = this.#items;
    if (items.indexOf(over) > items.indexOf(held.item)) over.after(held.item);
    else over.before(held.item);
  }

  /**
   * @param {Held} held
   * @param {HTMLElement | null} onto
   */
  #hold(held, onto) {
    if (held.onto === onto) return;
    held.onto?.classList.remove("held-over");
    onto?.classList.add("held-over");
    held.onto = onto;
    this.ways.over(held.item, onto);
  }

  /**
   * @param {PointerEvent} event
   * @param {boolean} meant
   */
  #drop(event, meant) {
    if (this.held && event.pointerId === this.held.id) this.#letGo(this.held, meant);
  }

  /**
   * @param {Held} held
   * @param {boolean} meant
   */
  #letGo(held, meant) {
    const { item, from, onto, lifted } = held;
    const to = this.#items.indexOf(item);
    this.#forget();
    if (!lifted) return;
    if (meant && !onto) {
      if (to !== from) this.ways.move(from, to);
      return;
    }
    const others = this.#items.filter((each) => each !== item);
    const before = others[from];
    if (before) before.before(item);
    else others.at(-1)?.after(item);
    if (meant && onto) this.ways.onto(item, onto);
  }

  #forget() {
    const { held } = this;
    if (!held) return;
    clearTimeout(held.timer);
    this.#hold(held, null);
    held.item.classList.remove("lifted");
    held.ghost?.remove();
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

/**
 * @param {DOMRect} box
 * @param {number} x
 * @param {number} y
 */
function isMiddle({ left, top, width, height }, x, y) {
  const [across, down] = [Math.abs(x - left - width / 2), Math.abs(y - top - height / 2)];
  return across < (MIDDLE * width) / 2 && down < height / 2;
}

/** What follows the hand: a picture of the item's picture. @param {HTMLElement} item */
function ghostOf(item) {
  const picture = item.querySelector("canvas");
  if (!picture) return null;
  const { left, top, width, height } = picture.getBoundingClientRect();
  const ghost = document.createElement("canvas");
  ghost.className = "ghost";
  ghost.setAttribute("aria-hidden", "true");
  ghost.width = picture.width;
  ghost.height = picture.height;
  ghost.getContext("2d")?.drawImage(picture, 0, 0);
  for (const [name, px] of Object.entries({ left, top, width, height })) ghost.style.setProperty(name, `${px}px`);
  document.body.append(ghost);
  return ghost;
}
