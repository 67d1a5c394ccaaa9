const SLOP_PX = 8;
const HOLD_MS = 320;
/** How much of an item, from its middle, stands for itself rather than for a place beside it. */
const MIDDLE = 0.56;

/** @typedef {"onto" | "before" | "after"} Way */
/** @typedef {{item: HTMLElement, way: Way}} Aim  the item that another is held over, and where it would go */
/** @typedef {{item: HTMLElement, id: number, from: number, x: number, y: number, lifted: boolean, timer: number, ghost: HTMLElement | null, aim: Aim | null}} Held */

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
    this.held = { item, id: event.pointerId, from, x: event.clientX, y: event.clientY, lifted: false, timer, ghost: null, aim: null };
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
    this.#aim(held, isOther ? { item: over, way: wayAt(over, event.clientX) } : null);
  }

  /**
   * @param {Held} held
   * @param {Aim | null} aim
   */
  #aim(held, aim) {
    const before = held.aim;
    if (before?.item === aim?.item && before?.way === aim?.way) return;
    before?.item.removeAttribute("data-aim");
    aim?.item.setAttribute("data-aim", aim.way);
    held.aim = aim;
    const [was, is] = [before, aim].map((each) => (each?.way === "onto" ? each.item : null));
    if (was !== is) this.ways.over(held.item, is ?? null);
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
    const { item, from, aim, lifted } = held;
    this.#forget();
    if (!lifted || !meant || !aim) return;
    if (aim.way === "onto") {
      this.ways.onto(item, aim.item);
      return;
    }
    const others = this.#items.filter((each) => each !== item);
    const to = others.indexOf(aim.item) + (aim.way === "after" ? 1 : 0);
    if (to !== from) this.ways.move(from, to);
  }

  #forget() {
    const { held } = this;
    if (!held) return;
    clearTimeout(held.timer);
    this.#aim(held, null);
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
 * @param {HTMLElement} item
 * @param {number} x  of the hand
 * @returns {Way}
 */
function wayAt(item, x) {
  const { left, width } = item.getBoundingClientRect();
  const across = (x - left) / width - 0.5;
  if (Math.abs(across) < MIDDLE / 2) return "onto";
  return across < 0 === (getComputedStyle(item).direction === "ltr") ? "before" : "after";
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
