/**
 * Keeps a finger's moves on an element from the browser. A `touch-action` of none stops it from scrolling, yet
 * not from counting a lively stroke as a fling; while that lasts it takes the next tap, wherever that is, for a
 * hand that halts it.
 *
 * @param {HTMLElement} element
 */
export function keepTouch(element) {
  element.addEventListener("touchmove", (event) => event.preventDefault(), { passive: false });
}
