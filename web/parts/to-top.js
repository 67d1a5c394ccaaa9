/**
 * Shows the shelf from its top: where it lies beside the table its room scrolls, where it lies below it the whole shelf.
 *
 * @param {Element} inside  anything in the shelf
 */
export function toTop(inside) {
  for (const scroller of [inside.closest("#shelf-room"), inside.closest("#shelf")]) scroller?.scrollTo({ top: 0 });
}
