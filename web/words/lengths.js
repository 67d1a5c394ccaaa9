import { isolated, locale, say } from "./words.js";

const MM_PER_INCH = 25.4;
/** The finest parts of an inch on a ruler, and by which part of itself a length may be off to be told in them. */
const RULER = 64;
const FAR_OFF = 0.1;

/** @typedef {"in" | "mm"} Unit */

/**
 * Writes one or several lengths: inches as they are set where that is whole hundredths, else as the nearest fraction
 * that a ruler has, the 64th below an eighth of an inch and the 32nd above; mm to the tenth, below one to the hundredth.
 * A single length below all that a ruler has is told as less than that.
 *
 * @param {readonly number[]} lengths  mm
 * @param {string} unit  "in" or "mm"
 * @returns {string}
 */
export function writeAbout(lengths, unit) {
  const { length: count, 0: one = 0 } = lengths;
  if (count === 1 && one > 0 && one < finest(unit) / 2) return say("length.finer", { width: writeAbout([finest(unit)], unit) });
  return isolated(`${lengths.map((mm) => writeNumber(mm, unit)).join(" × ")} ${unit}`);
}

/**
 * Writes a length that the person sets: as `writeAbout` does, but in decimals where what a ruler has is far off.
 *
 * @param {number} mm
 * @param {string} unit
 */
export function writeSet(mm, unit) {
  return isolated(writeInField(mm, unit));
}

/**
 * Writes a length as a field holds it, to be typed over.
 *
 * @param {number} mm
 * @param {string} unit
 */
export function writeInField(mm, unit) {
  const inches = mm / MM_PER_INCH;
  const parts = partsFor(inches);
  const isFarOff = Math.abs(Math.round(inches * parts) - inches * parts) > FAR_OFF * Math.abs(inches) * parts;
  return unit === "in" && isFarOff ? `${decimals(inches, 3)} in` : `${writeNumber(mm, unit)} ${unit}`;
}

/**
 * Writes a length that something must have at least: rounded up to what a ruler has.
 *
 * @param {number} mm
 * @param {string} unit
 */
export function writeAtLeast(mm, unit) {
  return writeAbout([roundUp(mm, unit)], unit);
}

/**
 * A length that something must have at least, rounded up to what a ruler has.
 *
 * @param {number} mm
 * @param {string} unit
 */
export function roundUp(mm, unit) {
  const step = unit === "in" ? MM_PER_INCH / 32 : 0.1;
  return Math.ceil(mm / step - 1e-6) * step;
}

/**
 * A length that something may have at most, rounded down to what a ruler has.
 *
 * @param {number} mm
 * @param {string} unit
 */
export function roundDown(mm, unit) {
  return -roundUp(-mm, unit);
}

/** The least length that a person can picture, in mm; 0 where there is none. @param {string} unit */
export function finest(unit) {
  return unit === "in" ? MM_PER_INCH / RULER : 0;
}

/**
 * Writes a length in millimetres, finer than `writeAbout` by some decimals.
 *
 * @param {number} mm
 * @param {number} finer
 */
export function writeFiner(mm, finer) {
  return isolated(`${decimals(mm, (Math.abs(mm) < 1 ? 2 : 1) + finer)} mm`);
}

/**
 * @param {number} mm2
 * @param {string} unit
 */
export function writeArea(mm2, unit) {
  if (unit === "in") {
    const square = mm2 / MM_PER_INCH ** 2;
    return isolated(`${decimals(square, square < 0.1 ? 3 : 1)} sq in`);
  }
  return isolated(mm2 < 100 ? `${decimals(mm2, 0)} mm²` : `${decimals(mm2 / 100, 0)} cm²`);
}

/**
 * @param {number} seconds
 */
export function writeMinutes(seconds) {
  const minutes = Math.max(1, Math.round(seconds / 60));
  return new Intl.NumberFormat(locale(), { style: "unit", unit: "minute", unitDisplay: "long" }).format(minutes);
}

/**
 * @param {number} mm
 * @param {string} unit
 */
function writeNumber(mm, unit) {
  if (unit === "mm") return decimals(mm, Math.abs(mm) < 1 ? 2 : 1);
  const inches = mm / MM_PER_INCH;
  const isSet = isWhole(inches * 100, 1e-3) && !isWhole(inches * 16, 0.01);
  return isSet ? decimals(inches, 2) : onRuler(inches, partsFor(inches));
}

/** Into how many parts a ruler has the inch for a length. @param {number} inches */
function partsFor(inches) {
  return Math.abs(inches) < 1 / 8 ? RULER : RULER / 2;
}

/**
 * @param {number} value
 * @param {number} within
 */
function isWhole(value, within) {
  return Math.abs(value - Math.round(value)) <= within;
}

/**
 * Inches as the nearest fraction.
 *
 * @param {number} inches
 * @param {number} parts  of an inch: a power of two
 */
function onRuler(inches, parts) {
  const count = Math.round(inches * parts);
  const whole = Math.trunc(count / parts);
  return [whole || "", fraction(Math.abs(count % parts), parts)].filter(Boolean).join(" ") || "0";
}

/**
 * @param {number} count
 * @param {number} parts
 */
function fraction(count, parts) {
  if (count === 0) return "";
  let [top, bottom] = [count, parts];
  while (top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  return `${top}/${bottom}`;
}

/**
 * @param {number} value
 * @param {number} most
 */
function decimals(value, most) {
  return new Intl.NumberFormat(locale(), { maximumFractionDigits: most, useGrouping: false }).format(value);
}
