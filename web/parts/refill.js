const CONTROLS = "button, input, select";

/**
 * Puts other rows into a list. Where a row that goes held the keyboard's focus, the like control of the row that
 * comes in its place takes it, or of the last one: else the focus would fall back to the beginning of the page.
 *
 * @param {HTMLElement} list
 * @param {readonly HTMLElement[]} rows
 */
export function refill(list, rows) {
  const { activeElement } = document;
  const at = [...list.children].findIndex((row) => row.contains(activeElement));
  const place = [...(list.children[at]?.querySelectorAll(CONTROLS) ?? [])].findIndex((each) => each === activeElement);
  list.replaceChildren(...rows);
  if (at < 0) return;
  const controls = [.../** @type {NodeListOf<HTMLElement>} */ (rows[Math.min(at, rows.length - 1)]?.querySelectorAll(CONTROLS) ?? [])];
  const next = controls[place] ?? controls[0] ?? list;
  if (next === list) list.tabIndex = -1;
  next.focus();
}
