import { recall } from "../basics/memory.js";

/** @typedef {typeof import("../../py/peekpaper/words/en.json").words} English */
/** @typedef {keyof English} Key */
/** Forms are named by the plural categories of CLDR. @typedef {string | Partial<Record<Intl.LDMLPluralRule, string>>} Entry */
/**
 * The file of one language.
 *
 * @typedef {{
 *   language: {tag: string, direction: "ltr" | "rtl", plurals: Record<string, string>, decimal: string, group: string,
 *     list: readonly string[]},
 *   words: Record<Key, Entry>,
 * }} Words
 */

/** Under which key the browser remembers the language that a person chose. */
export const LANGUAGE = "peekpaper-language";
const ENGLISH = "en";
/** Written with both marks wherever there are such. */
const MANY_DIGITS = 1234567.8;

/** Marks of Unicode that isolate a text by the direction of its first letter. */
const FIRST_STRONG = "\u2068";
const POP = "\u2069";
const MARKS = new RegExp(`[${FIRST_STRONG}${POP}]`, "g");

/** The person's languages, the chosen one first. */
const wanted = [recall(LANGUAGE) ?? "", ...navigator.languages].filter(Boolean);
const chosen = choose(wanted);
/** The words are asked for at once, while the page's other modules are still on their way. */
const coming = fetched(chosen.tag);
coming.catch(() => {
  // Whoever waits for the words is told.
});
const plurals = new Intl.PluralRules(chosen.tag);
/** All that the page says: nothing can be said before it is there. @type {Words} */
let spokenWords;

/**
 * Waits for the words of the person's language. No module waits for them at its top: WebKit loses modules that
 * several others wait for.
 */
export async function learn() {
  spokenWords = await coming;
  document.documentElement.lang = chosen.tag;
  document.documentElement.dir = spokenWords.language.direction;
}

/**
 * The first of some languages that there are words for, else English: a tag with its region, else without. Numbers
 * and dates keep the region that the person asked for.
 *
 * @param {readonly string[]} tags  BCP 47, best first
 * @returns {{tag: string, locale: string}}
 */
function choose(tags) {
  const known = languages();
  for (const locale of tags) {
    const tag = [locale, locale.split("-")[0] ?? ""].find((each) => known.includes(each));
    if (tag) return { tag, locale: tags.find((each) => each.startsWith(`${tag}-`)) ?? locale };
  }
  return { tag: ENGLISH, locale: ENGLISH };
}

/**
 * @param {string} tag
 * @returns {Promise<Words>}
 */
async function fetched(tag) {
  const answer = await fetch(new URL(`${tag}.json`, import.meta.url));
  if (!answer.ok) throw new Error(`no words for ${tag}: ${answer.status}`);
  return answer.json();
}

/**
 * The key that words something of the package's, by what its keys begin with and the package's name for it.
 *
 * @param {"finding-name." | "mend.way-" | "mend.kind-"} start
 * @param {string} name
 * @returns {Key | null} null where there are no words for it
 */
export function keyOf(start, name) {
  const key = `${start}${name}`;
  return isKey(key) ? key : null;
}

/**
 * @param {string} start
 * @returns {ReadonlyMap<string, Key>} keys that begin so, by how they go on
 */
export function keysFrom(start) {
  const keys = /** @type {Key[]} */ (Object.keys(spokenWords.words));
  return new Map(keys.flatMap((key) => (key.startsWith(start) ? [/** @type {const} */ ([key.slice(start.length), key])] : [])));
}

/** @returns {string[]} the BCP 47 tags of all languages there are words for, which the build writes into the page */
export function languages() {
  const list = document.querySelector("meta[name=languages]")?.getAttribute("content");
  return list?.split(" ") ?? [ENGLISH];
}

/** @returns {Words} the file of the language spoken, for the package to write in, with the marks of the person's region */
export function spokenFile() {
  const parts = new Intl.NumberFormat(chosen.locale).formatToParts(MANY_DIGITS);
  const mark = (/** @type {"decimal" | "group"} */ kind) => parts.find(({ type }) => type === kind)?.value;
  const { decimal, group } = spokenWords.language;
  return { ...spokenWords, language: { ...spokenWords.language, decimal: mark("decimal") ?? decimal, group: mark("group") ?? group } };
}

/** @returns {string} the BCP 47 tag of the language spoken, one of `languages()` */
export function spoken() {
  return chosen.tag;
}

/** @returns {string} the BCP 47 tag by which numbers, dates and lists are written: with the person's region */
export function locale() {
  return chosen.locale;
}

/** @param {string} key  @returns {key is Key} whether there are words for a key */
export function isKey(key) {
  return Object.hasOwn(spokenWords.words, key);
}

/**
 * Returns a sentence with `{name}` filled in; where it differs by a number, `count` decides.
 *
 * @param {Key} key
 * @param {Record<string, string | number>} [values]
 */
export function say(key, values = {}) {
  const entry = spokenWords.words[key];
  const text = typeof entry === "string" ? entry : (entry[plurals.select(Number(values["count"]))] ?? entry.other ?? "");
  return text.replace(/\{([\w-]+)\}/g, (_, name) => filledIn(values[name] ?? ""));
}

/**
 * A name or a length that stands in a sentence from right to left without turning what is around it, or being turned
 * (Unicode Standard Annex 9); the same text where sentences go from left to right.
 *
 * @param {string} text
 */
export function isolated(text) {
  return spokenWords.language.direction === "rtl" && text ? FIRST_STRONG + bare(text) + POP : text;
}

/** A text without the marks that keep directions apart: for names that a person is to have. @param {string} text */
export function bare(text) {
  return text.replaceAll(MARKS, "");
}

/**
 * Smaller numbers need no mark for thousands: openings and pieces have such numbers.
 *
 * @param {string | number} value
 */
function filledIn(value) {
  return typeof value === "number" ? value.toLocaleString(chosen.locale, { useGrouping: "min2" }) : isolated(value);
}
