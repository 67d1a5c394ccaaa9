import { roundUp, writeAbout, writeArea, writeLength } from "../parts/lengths.js";
import { said } from "./said.js";
import { keyOf, say } from "./words.js";

/** Figures that something must have at least or may have at most, by code and name: which way they are rounded. */
const BOUNDS = new Map([
  ["piece-too-large needed_width_mm", roundUp],
  ["piece-too-large needed_height_mm", roundUp],
  ["piece-too-large trim_width_mm", roundDown],
  ["piece-too-large trim_height_mm", roundDown],
  ["piece-too-large wanted_mm", roundDown],
]);
/** Figures that may well be the same. */
const SIDES = ["width_mm", "height_mm"];
/** The finest that a ruler in inches has, in mm. */
const FINEST = 25.4 / 64;

/**
 * Words a warning or refusal in the language and unit of the person; one without words of its own says what the
 * package says. A figure `limit_mm` is written as a length in the place of `{limit}`, `limit_mm2` as an area.
 *
 * @param {{code: string, message: string, values: Record<string, string | number>}} warning
 * @param {string} unit
 * @returns {string}
 */
export function sayWarning({ code, message, values }, unit) {
  const key = keyOf("warning.", code) ?? keyOf("refusal.", code);
  if (!key) return said(message);
  const isLength = (/** @type {[string, string | number]} */ [name]) => name.endsWith("_mm");
  const lengths = /** @type {[string, number][]} */ (Object.entries(values).filter(isLength));
  const others = Object.entries(values).filter((each) => !isLength(each));
  return say(key, {
    ...Object.fromEntries(
      others.map(([name, value]) =>
        name.endsWith("_mm2") ? [name.slice(0, -4), squareOf(Number(value), unit)] : [name, value],
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
  const bound = (/** @type {string} */ name) => BOUNDS.get(`${code} ${name}`);
  const about = lengths.map(([name, mm]) => {
    const round = bound(name);
    return round ? writeAbout([round(mm, unit)], unit) : aboutOf(mm, unit);
  });
  const isTold = lengths.every(
    ([name, mm], at) =>
      SIDES.includes(name) || bound(name) || lengths.every(([, other], place) => other === mm || about[place] !== about[at]),
  );
  return Object.fromEntries(
    lengths.map(([name, mm], at) => [name.slice(0, -3), isTold ? (about[at] ?? "") : writeLength(mm, unit)]),
  );
}

/**
 * @param {number} mm
 * @param {string} unit
 */
function roundDown(mm, unit) {
  return -roundUp(-mm, unit);
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
