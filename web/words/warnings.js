import { writeArea, writeLength } from "../parts/lengths.js";
import { said } from "./said.js";
import { say, WARNINGS } from "./words.js";

/** @typedef {import("../desk/types.js").Warning} Warning */

/**
 * Words a warning in the language and unit of the person; one without figures says what the package
 * says. A figure `limit_mm` is written as a length in the place of `{limit}`, `limit_mm2` as an area.
 *
 * @param {Pick<Warning, "code" | "message" | "values">} warning
 * @param {string} unit
 * @returns {string}
 */
export function sayWarning({ code, message, values }, unit) {
  const key = WARNINGS.get(code);
  if (!key || Object.keys(values ?? {}).length === 0) return said(message);
  const written = Object.entries(values).map(([name, value]) => {
    if (name.endsWith("_mm2")) return [name.slice(0, -4), writeArea(value, unit)];
    if (name.endsWith("_mm")) return [name.slice(0, -3), writeLength(value, unit)];
    return [name, value];
  });
  return say(key, Object.fromEntries(written));
}
