/** Symbols that point along the line of reading. */
const DIRECTED = new Set(["next", "back", "undo", "redo"]);

/** @typedef {Node | string | null | undefined | false} Child */

/**
 * Makes an element: `make("button", {class: "chip", onclick: f, "aria-pressed": "true"}, "Give")`.
 * Functions become listeners, true an empty attribute, false and null none. `help` is the key of what help tells of
 * it and of all within it: the words have it after `help.`.
 *
 * @template {keyof HTMLElementTagNameMap} Tag
 * @param {Tag} tag
 * @param {Record<string, unknown>} [attributes]
 * @param {...(Child | Child[])} children
 * @returns {HTMLElementTagNameMap[Tag]}
 */
export function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name === "help") {
      if (typeof value === "string") element.dataset.help = value;
    } else if (typeof value === "function") {
      element.addEventListener(name.slice(2), /** @type {EventListener} */ (value));
    } else if (value === true) {
      element.setAttribute(name, "");
    } else if (value !== false && value !== null && value !== undefined) {
      element.setAttribute(name, String(value));
    }
  }
  element.append(...children.flat().filter(isShown));
  return element;
}

/**
 * @param {Child} child
 * @returns {child is Node | string}
 */
function isShown(child) {
  return child !== null && child !== undefined && child !== false;
}

/**
 * Writes an element's text where it is another than before: writing the same anew would lay out the page again.
 *
 * @param {Element} element
 * @param {string} text
 */
export function write(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/**
 * @param {string} name  a symbol of icons.svg
 * @returns {SVGSVGElement}
 */
export function icon(name) {
  const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  svg.setAttribute("class", DIRECTED.has(name) ? "icon directed" : "icon");
  svg.setAttribute("aria-hidden", "true");
  const use = document.createElementNS("http://www.w3.org/2000/svg", "use");
  use.setAttribute("href", `icons.svg#${name}`);
  svg.append(use);
  return svg;
}

/**
 * @template {Element} Kind
 * @param {string} selector
 * @param {new () => Kind} kind
 * @param {ParentNode} [within]
 * @returns {Kind}
 */
export function find(selector, kind, within = document) {
  const element = within.querySelector(selector);
  if (!(element instanceof kind)) throw new Error(`the page has no ${selector}`);
  return element;
}
