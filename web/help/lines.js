import { isKey, keysFrom, say } from "../words/words.js";
import { pictureOf } from "./pictures.js";

/** @typedef {import("../words/words.js").Key} Key */
/** @typedef {{name: string, line: string, picture: string}} Line  what a control is called and does, and its picture */

/** All that a hand can work with. */
export const CONTROLS =
  "button, a[href], select, input, textarea, summary, [role=tab], [role=listbox], label.choice-option, label.toggle, #stage";

/**
 * Controls whose names are the person's own or tell figures: the first selector that fits says which line. All
 * others are found by their name: `help.x.y` tells of the control that is called `x.y` in the words.
 *
 * @type {readonly (readonly [string, Key])[]}
 */
const KINDS = [
  ["#menu-button", "help.kind-menu"],
  [".openings", "help.kind-openings"],
  ["#stage", "help.kind-table"],
  ["#tab-give", "help.papers.tab-give"],
  ["#tab-suggest", "help.papers.tab-suggest"],
  ["#tab-colourways", "help.papers.tab-colourways"],
  ["#tab-page", "help.papers.tab-page"],
  [".check-row", "help.kind-warning"],
  [".spot", "help.kind-spot"],
  [".pager", "help.kind-pager"],
  [".way", "help.kind-way"],
  [".finding-row .button", "help.kind-mend"],
  [".finding-doings .button-quiet", "help.kind-advice"],
  [".mend-all", "help.kind-mend-all"],
  [".mend-see", "help.kind-mend-see"],
  [".reading", "help.kind-reading"],
  [".readings + .button-quiet", "help.reading.more"],
  [".depth > summary", "help.kind-depth"],
  [".fold:has(.fields) .offers .button", "help.design.punch-off"],
  [".offers .button", "help.kind-offer"],
  [".fold:has(.offers):not(:has(.fields)) > summary", "help.kind-offers"],
  [".sheet:has(.sheet-number)", "help.kind-paper"],
  ["#part-suggest .row", "help.kind-paper"],
  ["#part-page .row", "help.kind-block"],
  [".page-pictures .button", "help.page.picture"],
  [".row", "help.kind-row"],
  [".chip", "help.kind-alike"],
  ["#part-colourways .tile, .compared .tile", "help.kind-colourway"],
  [".paper-look", "help.kind-look"],
  [".corner", "help.kind-corner"],
  [".trim-row", "help.kind-trim"],
  [".piece-chip", "help.kind-piece"],
  ["a.file", "help.kind-file"],
  [".file-row .button-icon", "help.kind-share"],
  [".few .button", "help.few.take"],
  [".glue-row", "help.kind-tick"],
  [".kept .tile", "help.kind-kept"],
  [".kept-more", "help.kind-kept-more"],
  [".version .button", "help.kind-version"],
];

const ABOUT = "help.";

/**
 * Finds the line about a control.
 *
 * @param {Element} control
 * @returns {Line | null} null where there is none
 */
export function lineOf(control) {
  const names = namesOf(control);
  const name = names[0] ?? "";
  const kind = KINDS.find(([selector]) => control.closest(selector));
  if (kind) return lineFor(kind[1], name, control);
  for (const each of names) {
    const key = keysByName().get(each);
    if (key) return lineFor(key, name, control);
  }
  return null;
}

/**
 * @param {Key} key
 * @param {string} name
 * @param {Element} control
 * @returns {Line}
 */
function lineFor(key, name, control) {
  return { name, line: say(key), picture: pictureOf(key.slice(ABOUT.length), control) };
}

/** By what a control is called in the language spoken, the line about it. @returns {Map<string, Key>} */
function keysByName() {
  const kinds = new Set(KINDS.map(([, key]) => key));
  const named = [...keysFrom(ABOUT)].flatMap(([of, key]) =>
    kinds.has(key) || !isKey(of) ? [] : [/** @type {const} */ ([say(of), key])],
  );
  return new Map(named.reverse());
}

/**
 * What a control is called, the nearest name first: its own, what it shows first, what it is a choice of.
 *
 * @param {Element} control
 * @returns {string[]}
 */
function namesOf(control) {
  const input = control instanceof HTMLLabelElement ? control.control : control;
  const label = input instanceof HTMLInputElement || input instanceof HTMLSelectElement || input instanceof HTMLTextAreaElement
    ? input.labels?.[0]
    : null;
  const shown = [label ?? control].flatMap((each) => [
    each.querySelector("strong, span:not(:empty)")?.textContent,
    ownText(each),
    each.textContent,
  ]);
  const names = [control.getAttribute("aria-label"), input?.getAttribute("aria-label"), ...shown];
  const legend = control.closest("fieldset")?.querySelector("legend")?.textContent;
  return [...names, legend].flatMap((each) => each?.trim() || []);
}

/** @param {Element} element */
function ownText(element) {
  return [...element.childNodes].filter((each) => each instanceof Text).map((each) => each.textContent).join("");
}
