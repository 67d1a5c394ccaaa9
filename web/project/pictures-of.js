/** @typedef {Pick<import("../desk/types.js").Project, "shelf" | "page">} Showing */

/**
 * @param {Showing} document
 * @returns {Set<string>} the keys of the pictures that its papers and its page show
 */
export function shownIn({ shelf, page }) {
  return new Set([...shelf.papers, ...page.blocks].flatMap(({ picture }) => picture ?? []));
}

/**
 * @param {Showing} document
 * @returns {Set<string>} the keys of all pictures that it uses: those that it shows, and files to print from
 */
export function picturesOf(document) {
  return new Set([...shownIn(document), ...document.shelf.papers.flatMap(({ original }) => original ?? [])]);
}
