import { roundDown, roundUp, writeAbout, writeArea, writeFiner } from "./lengths.js";
import { locale, say } from "./words.js";

/** @typedef {import("../desk/types.js").Message} Message */
/** @typedef {import("../desk/types.js").Figure} Figure */

/** How much finer lengths are written at most where they would come out the same. */
const FINER = 3;
const NUMBERS_IN_A_RUN = 3;
/** Of more runs nobody reads on: the rest is counted. */
const MOST_RUNS = 8;

/**
 * Words what the package tells in the language and unit of the person. What the names of figures say of them
 * stands in `py/peekpaper/message.py`.
 *
 * @param {Message} message
 * @param {string} unit  "in" or "mm"
 * @returns {string}
 */
export function sayMessage({ key, figures }, unit) {
  const lengths = /** @type {[string, number][]} */ (Object.entries(figures).filter(([name]) => name.endsWith("_mm")));
  const others = Object.entries(figures).filter(([name]) => !name.endsWith("_mm"));
  return say(/** @type {import("./words.js").Key} */ (key), {
    ...Object.fromEntries(others.map(([name, figure]) => [name.replace(/_mm2$/, ""), written(name, figure, unit)])),
    ...writtenLengths(lengths, unit),
  });
}

/**
 * @param {string} name
 * @param {Figure} figure
 * @param {string} unit
 * @returns {string | number}
 */
function written(name, figure, unit) {
  if (Array.isArray(figure)) return listed(figure, unit);
  if (typeof figure === "object") return sayMessage(/** @type {Message} */ (figure), unit);
  return name.endsWith("_mm2") ? squareOf(Number(figure), unit) : figure;
}

/**
 * A list read aloud: whole numbers in runs, "3, 5 and 7–12", of very many the first.
 *
 * @param {readonly Figure[]} parts
 * @param {string} unit
 */
function listed(parts, unit) {
  const numbers = parts.filter((part) => typeof part === "number");
  if (numbers.length === 0 && parts.some((part) => typeof part === "object")) {
    return parts.map((part) => String(written("", part, unit))).join(say("list.clauses"));
  }
  const words = numbers.length > 0 ? runsOf(numbers) : parts.map(String);
  return new Intl.ListFormat(locale(), { type: "conjunction" }).format(words);
}

/** @param {readonly number[]} numbers */
function runsOf(numbers) {
  /** @type {number[][]} */
  const runs = [];
  for (const number of numbers.toSorted((one, other) => one - other)) {
    const last = runs.at(-1);
    if (last?.at(-1) === number - 1) last.push(number);
    else runs.push([number]);
  }
  const named = runs.length > MOST_RUNS ? runs.slice(0, MOST_RUNS - 1) : runs;
  const left = numbers.length - named.flat().length;
  const words = named.flatMap((run) => (run.length < NUMBERS_IN_A_RUN ? run.map(String) : [`${run[0]}–${run.at(-1)}`]));
  return left > 0 ? [...words, say("list.more", { count: left })] : words;
}

/**
 * Lengths as a ruler has them, different ones never as the same: millimetres finer where they have to be; a ruler in
 * inches has nothing finer, and the shorter is "just under" the longer.
 *
 * @param {readonly [string, number][]} lengths  mm by name
 * @param {string} unit
 */
function writtenLengths(lengths, unit) {
  /** @type {{name: string, mm: number, text: string}[]} */
  let told = [];
  for (let finer = 0; finer < (unit === "mm" ? FINER : 1); finer += 1) {
    told = lengths.map(([name, mm]) => ({ name, mm, text: lengthOf(name, mm, unit, finer) }));
    const compared = told.filter(({ name }) => !isSideOrBound(name));
    if (new Set(compared.map(({ text }) => text)).size === new Set(compared.map(({ mm }) => mm)).size) break;
  }
  const isUnder = (/** @type {{name: string, mm: number, text: string}} */ one) =>
    unit === "in" &&
    !isSideOrBound(one.name) &&
    told.some(({ name, mm, text }) => !isSideOrBound(name) && text === one.text && mm > one.mm);
  return Object.fromEntries(
    told.map((one) => [placeOf(one.name), isUnder(one) ? say("length.just-under", { width: one.text }) : one.text]),
  );
}

/**
 * @param {string} name
 * @param {number} mm
 * @param {string} unit
 * @param {number} finer  by so many steps
 */
function lengthOf(name, mm, unit, finer) {
  const round = name.endsWith("_least_mm") ? roundUp : name.endsWith("_most_mm") ? roundDown : null;
  if (round) return writeAbout([round(mm, unit)], unit);
  if (finer > 0) return writeFiner(mm, finer);
  return writeAbout([mm], unit);
}

/** The place in the words that a length fills. @param {string} name */
function placeOf(name) {
  return name.replace(/(_least|_most)?_mm$/, "");
}

/** Whether a length may well be the same as another: sides, and what was rounded up or down. @param {string} name */
function isSideOrBound(name) {
  return /(_least|_most)_mm$|(width|height)_mm$/.test(name);
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
