/**
 * @param {Pick<import("../desk/types.js").Project, "shelf" | "page">} document
 * @returns {Set<string>} the keys of the pictures that its papers and its page show
 */
export function picturesOf({ shelf, page }) {
  return new Set(
    [...shelf.papers, ...page.blocks].flatMap(({ picture }) => (picture === null ? [] : [picture])),
  );
}
