/** @typedef {Pick<import("../desk/types.js").Project, "shelf" | "page">} Showing */

/**
 * @param {Showing} document  as it is kept it may be broken: what it lacks shows none
 * @returns {Set<string>} the keys of the pictures that its papers and its page show
 */
export function shownIn({ shelf, page }) {
  return new Set([...(shelf?.papers ?? []), ...(page?.blocks ?? [])].flatMap(({ picture }) => picture ?? []));
}

/**
 * @param {Showing} document
 * @returns {Set<string>} the keys of all pictures that it uses: those that it shows, and files to print from
 */
export function picturesOf(document) {
  const papers = document.shelf?.papers ?? [];
  return new Set([...shownIn(document), ...papers.flatMap(({ original }) => original ?? [])]);
}
