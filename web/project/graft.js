/**
 * Takes over what is new in a value that came from elsewhere, part by part: whatever equals its counterpart in
 * `before` becomes that very part, so that comparing by identity shows what changed.
 *
 * @template Value
 * @param {Value} before
 * @param {Value} after  plain data, as JSON has it
 * @returns {Value}
 */
export function graft(before, after) {
  if (before === after || !isCompound(before) || !isCompound(after)) return after;
  if (Array.isArray(before) !== Array.isArray(after)) return after;
  /** @type {Record<string, unknown>} */
  const known = /** @type {any} */ (before);
  /** @type {Record<string, unknown>} */
  const grafted = /** @type {any} */ (Array.isArray(after) ? [...after] : { ...after });
  let same = Object.keys(known).length === Object.keys(grafted).length;
  for (const name of Object.keys(grafted)) {
    grafted[name] = graft(known[name], grafted[name]);
    same &&= name in known && grafted[name] === known[name];
  }
  return same ? before : /** @type {any} */ (grafted);
}

/** @param {unknown} value */
function isCompound(value) {
  return typeof value === "object" && value !== null;
}
