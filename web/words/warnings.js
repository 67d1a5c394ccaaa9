import { writeAbout, writeArea, writeAtLeast, writeLength } from "../parts/lengths.js";
import { said } from "./said.js";
import { say, WARNINGS } from "./words.js";

/** @typedef {import("../desk/types.js").Warning} Warning */

/** The warning and its figure that tell how wide a design must be at least. */
const WANTED = { code: "thin-bars", name: "wanted_mm" };
/** Figures that may well be the same. */
const SIDES = ["width_mm", "height_mm"];
/** The finest that a ruler in inches has, in mm. */
const FINEST = 25.4 / 64;

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
  const lengths = Object.entries(values).filter(([name]) => name.endsWith("_mm"));
  const others = Object.entries(values).filter(([name]) => !name.endsWith("_mm"));
  return say(key, {
    ...Object.fromEntries(
      others.map(([name, value]) =>
        name.endsWith("_mm2") ? [name.slice(0, -4), squareOf(value, unit)] : [name, value],
      ),
    ),
    ...written(code, lengths, unit),
  });
}

/**
 * Lengths as a ruler has them; to the decimal where that would make different ones the same.
 *
 * @param {string} code  of the warning
 * @param {[string, number][]} lengths  mm by name
 * @param {string} unit
 */
function written(code, lengths, unit) {
  const about = lengths.map(([name, mm]) =>
    code === WANTED.code && name === WANTED.name ? writeAtLeast(mm, unit) : aboutOf(mm, unit),
  );
  const isTold = lengths.every(
    ([name, mm], at) =>
      SIDES.includes(name) || lengths.every(([, other], place) => other === mm || about[place] !== about[at]),
  );
  return Object.fromEntries(
    lengths.map(([name, mm], at) => [name.slice(0, -3), isTold ? (about[at] ?? "") : writeLength(mm, unit)]),
  );
}

/**
 * @param {number} mm
 * @param {string} unit
 */
function aboutOf(mm, unit) {
  if (unit !== "in" || mm === 0 || mm >= FINEST / 2) return writeAbout([mm], unit);
  return say("design.finer", { width: writeAbout([FINEST], unit) });
}

/**
 * An area; in inches, where a person knows no small areas, the sides of a square as large.
 *
 * @param {number} mm2
 * @param {string} unit
 */
function squareOf(mm2, unit) {
  return unit === "in" ? writeAbout([Math.sqrt(mm2), Math.sqrt(mm2)], unit) : writeArea(mm2, unit);
}
