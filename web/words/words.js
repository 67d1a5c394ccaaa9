import { recall } from "../parts/memory.js";

/** @typedef {typeof import("../../py/peekpaper/words/en.json").words} English */
/** @typedef {keyof English} Key */
/** Forms are named by the plural categories of CLDR. @typedef {string | Partial<Record<Intl.LDMLPluralRule, string>>} Entry */
/** What the package says, by its English. @typedef {Readonly<Record<string, string>>} Sentences */
/**
 * The file of one language.
 *
 * @typedef {{
 *   language: {tag: string, direction: "ltr" | "rtl"},
 *   words: Record<Key, Entry>,
 *   sentences?: Sentences,
 * }} Words
 */

/** Under which key the browser remembers the language that a person chose. */
export const LANGUAGE = "peekpaper-language";
const ENGLISH = "en";

/** The person's languages, the chosen one first. */
const wanted = [recall(LANGUAGE) ?? "", ...navigator.languages].filter(Boolean);
const chosen = choose(wanted);
/** All that the page says: nothing can be said before it is there. */
const spokenWords = await fetched(chosen.tag);
const plurals = new Intl.PluralRules(chosen.tag);
document.documentElement.lang = chosen.tag;
document.documentElement.dir = spokenWords.language.direction;

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

/** The entries that word a warning or refusal of the package, by its code. @type {ReadonlyMap<string, Key>} */
export const WARNINGS = new Map(
  /** @type {Key[]} */ (Object.keys(spokenWords.words))
    .filter((key) => /^(warning|refusal)\./.test(key))
    .map((key) => [key.slice(key.indexOf(".") + 1), key]),
);

/** What a kind of finding is called, by its code. */
export const FINDINGS = keysFrom("finding-name.");
/** What a way to mend a finding is called, by the package's name for it. */
export const WAYS = keysFrom("mend.way-");
/** What a mend is called, by its kind. */
export const KINDS_OF_MEND = keysFrom("mend.kind-");

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

/** @returns {Sentences} what the package says, in the language spoken; nothing in English, which it speaks itself */
export function sentences() {
  return spokenWords.sentences ?? {};
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
  return key in spokenWords.words;
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
  return text.replace(/\{([\w-]+)\}/g, (_, name) => String(values[name] ?? ""));
}
