import { sentences, locale } from "./words.js";

/**
 * A sentence of the package with gaps, and how another language has it.
 *
 * @typedef {{pattern: RegExp, translation: string, weight: number}} Template
 */

const GAP = /\{\d\}/;

/** What a gap may ask for its value, by the word after the colon. @type {Record<string, (value: string) => string>} */
const WRITTEN = {
  said,
  list: (value) => value.replace(/ and (?!.* and )/s, ` ${and()} `),
  each: (value) => value.split("; ").map(said).join("; "),
  number: (value) => Number(value.replaceAll(",", "")).toLocaleString(locale()),
};

/** @type {readonly Template[] | null} */
let templates = null;

/**
 * Returns what the package says in the language of the page; in English, and where there are no words for it,
 * as it is. Of several templates that fit, the one with most words of its own is taken.
 *
 * @param {string} sentence  in English, as the package words it
 * @returns {string}
 */
export function said(sentence) {
  templates ??= Object.entries(sentences())
    .map(([english, translation]) => template(english, translation))
    .sort((one, other) => other.weight - one.weight);
  for (const { pattern, translation } of templates) {
    const values = pattern.exec(sentence);
    if (values) {
      return translation.replace(/\{(\d)(?::(\w+))?\}/g, (_, place, how) => {
        const value = values[Number(place)] ?? "";
        return WRITTEN[how]?.(value) ?? value;
      });
    }
  }
  return sentence;
}

/**
 * @param {string} english
 * @param {string} translation
 * @returns {Template}
 */
function template(english, translation) {
  const own = english.split(GAP);
  const pattern = own.map((words) => words.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")).join("(.+?)");
  return { pattern: new RegExp(`^${pattern}$`, "s"), translation, weight: own.join("").length };
}

function and() {
  const parts = new Intl.ListFormat(locale(), { type: "conjunction" }).formatToParts(["1", "2"]);
  return parts.find(({ type }) => type === "literal")?.value.trim() ?? "";
}
