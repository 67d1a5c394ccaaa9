/** @typedef {{shelf: import("../desk/types.js").Shelf, page: {blocks: readonly import("../desk/types.js").Block[]}}} Showing */

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

/**
 * @template {Showing} Document
 * @param {Document} document
 * @param {ReadonlyMap<string, string>} renamed  new keys of pictures by their old ones
 * @returns {Document}
 */
export function withKeys(document, renamed) {
  if (renamed.size === 0) return document;
  const rename = (/** @type {string | null} */ key) => renamed.get(key ?? "") ?? key;
  return {
    ...document,
    shelf: {
      ...document.shelf,
      papers: document.shelf.papers.map((paper) => ({
        ...paper,
        picture: rename(paper.picture),
        original: rename(paper.original),
      })),
    },
    page: {
      ...document.page,
      blocks: document.page.blocks.map((block) => ({ ...block, picture: rename(block.picture) })),
    },
  };
}
