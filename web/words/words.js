import en from "./en.js";

/** @typedef {keyof typeof en} Key */
/** @typedef {string | {one: string, other: string}} Entry */
/** @typedef {Record<Key, Entry>} Words */
/** What the package says, by its English. @typedef {Readonly<Record<string, string>>} Sentences */

/** Languages that the page speaks, by BCP 47 tag; each is one file with the same keys as English. */
const LANGUAGES = /** @type {Record<string, () => Promise<{default: Words, sentences: Sentences}>>} */ ({
  de: () => import("./de.js"),
});

/** Under which key the browser remembers the language that a person chose. */
export const LANGUAGE = "peekpaper-language";

/** @type {Words} */
let words = en;
/** @type {Sentences} */
let packageSentences = {};
let language = "en";
let plurals = new Intl.PluralRules("en");

/**
 * Speaks the first of `wanted` that there are words for, else English.
 *
 * @param {readonly string[]} wanted  BCP 47 tags, best first
 */
export async function speak(wanted) {
  const tags = wanted.map((tag) => tag.split("-")[0] ?? "en");
  const tag = tags.find((each) => each === "en" || each in LANGUAGES) ?? "en";
  const other = await LANGUAGES[tag]?.();
  words = other?.default ?? en;
  packageSentences = other?.sentences ?? {};
  language = tag;
  plurals = new Intl.PluralRules(tag);
  document.documentElement.lang = tag;
}

/** The entries that word a warning or refusal of the package, by its code. @type {ReadonlyMap<string, Key>} */
export const WARNINGS = new Map(
  /** @type {Key[]} */ (Object.keys(en))
    .filter((key) => /^(warning|refusal)\./.test(key))
    .map((key) => [key.slice(key.indexOf(".") + 1), key]),
);

/** What a kind of finding is called, by its code. */
export const FINDINGS = entriesOf("finding-name.");
/** What a way to mend a finding is called, by the package's name for it. */
export const WAYS = entriesOf("mend.way-");
/** What a mend is called, by its kind. */
export const KINDS_OF_MEND = entriesOf("mend.kind-");

/**
 * @param {string} start
 * @returns {ReadonlyMap<string, Key>} keys that begin so, by how they go on
 */
function entriesOf(start) {
  const keys = /** @type {Key[]} */ (Object.keys(en));
  return new Map(keys.flatMap((key) => (key.startsWith(start) ? [/** @type {const} */ ([key.slice(start.length), key])] : [])));
}

/** @returns {string[]} the BCP 47 tags of all languages there are words for */
export function languages() {
  return ["en", ...Object.keys(LANGUAGES)];
}

/** @returns {Sentences} what the package says, in the language spoken; nothing in English, which it speaks itself */
export function sentences() {
  return packageSentences;
}

/** @returns {string} the BCP 47 tag of the language spoken */
export function spoken() {
  return language;
}

/**
 * Returns a sentence with `{name}` filled in; where it differs for one and many, `count` decides.
 *
 * @param {Key} key
 * @param {Record<string, string | number>} [values]
 */
export function say(key, values = {}) {
  /** @type {Entry} */
  const entry = words[key];
  const text =
    typeof entry === "string" ? entry : plurals.select(Number(values["count"])) === "one" ? entry.one : entry.other;
  return text.replace(/\{(\w+)\}/g, (_, name) => String(values[name] ?? ""));
}
