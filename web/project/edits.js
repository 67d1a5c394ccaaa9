/**
 * Edits of the project document: each takes a document and returns another that shares what it left alone, or
 * the same one where nothing changes.
 */

/** @typedef {import("../desk/types.js").Project} Project */
/** @typedef {import("../desk/types.js").Colourway} Colourway */

/**
 * The chosen colourway; the first where the choice is unknown.
 *
 * @param {Project} project
 * @returns {Colourway}
 */
export function chosen(project) {
  return (
    project.colourways.find(({ id }) => id === project.colourway) ??
    project.colourways[0] ?? { id: "", name: "", papers: {}, locked: [] }
  );
}

/** Whether no opening has a paper. @param {Project} project */
export function isBare(project) {
  return Object.keys(chosen(project).papers).length === 0;
}

/**
 * @param {Project} project
 * @param {Partial<Colourway>} change  to the chosen colourway
 * @returns {Project}
 */
export function inColourway(project, change) {
  const { id } = chosen(project);
  const colourways = project.colourways.length > 0 ? project.colourways : [{ ...chosen(project), id: "c1" }];
  return {
    ...project,
    colourway: id || "c1",
    colourways: colourways.map((each) => (each.id === (id || "c1") ? { ...each, ...change } : each)),
  };
}

/**
 * Gives openings a paper; null leaves them open.
 *
 * @param {Project} project
 * @param {Iterable<number>} numbers
 * @param {string | null} paper  its id
 */
export function give(project, numbers, paper) {
  const { papers } = chosen(project);
  const given = { ...papers };
  let changed = false;
  for (const number of numbers) {
    if ((papers[number] ?? null) === paper) continue;
    changed = true;
    if (paper === null) delete given[number];
    else given[number] = paper;
  }
  return changed ? inColourway(project, { papers: given }) : project;
}

/**
 * Locks openings, so that suggestions leave them as they are, or unlocks them.
 *
 * @param {Project} project
 * @param {Iterable<number>} numbers
 * @param {boolean} locked
 */
export function lock(project, numbers, locked) {
  const before = new Set(chosen(project).locked);
  const after = new Set(before);
  for (const number of numbers) {
    if (locked) after.add(number);
    else after.delete(number);
  }
  const same = after.size === before.size && [...after].every((number) => before.has(number));
  return same ? project : inColourway(project, { locked: [...after].sort((one, other) => one - other) });
}

/**
 * Gives the openings of the colourway that was chosen before the papers that were suggested for it then. What the
 * person gave or locked meanwhile stays as it is, and so does what would get a paper that left the shelf.
 *
 * @param {Project} project
 * @param {Project} before  that the papers were suggested for
 * @param {Readonly<Record<string, string>>} suggested  paper ids by opening
 * @returns {Project}
 */
export function giveSuggested(project, before, suggested) {
  const was = chosen(before);
  if (!project.colourways.some(({ id }) => id === was.id)) return project;
  const shelf = new Set(project.shelf.papers.map(({ id }) => id));
  const given = (/** @type {Colourway} */ { papers, locked }) => {
    const stays = (/** @type {string} */ number) => {
      const paper = suggested[number];
      return papers[number] !== was.papers[number] || locked.includes(Number(number)) || (paper && !shelf.has(paper));
    };
    const numbers = Object.keys({ ...papers, ...suggested });
    const pairs = numbers.map((number) => [number, (stays(number) ? papers : suggested)[number]]);
    return Object.fromEntries(pairs.filter(([, paper]) => paper !== undefined));
  };
  return {
    ...project,
    colourways: project.colourways.map((each) => (each.id === was.id ? { ...each, papers: given(each) } : each)),
  };
}

/**
 * Lets two papers change places in the chosen colourway; locked openings stay as they are.
 *
 * @param {Project} project
 * @param {string} one  its id
 * @param {string} other
 * @returns {Project}
 */
export function swapPapers(project, one, other) {
  const { papers, locked } = chosen(project);
  const pairs = Object.entries(papers).map(([number, paper]) => [number, locked.includes(Number(number)) ? paper : swappedWith(paper, one, other)]);
  const changed = pairs.some(([number, paper]) => papers[Number(number)] !== paper);
  return changed ? inColourway(project, { papers: Object.fromEntries(pairs) }) : project;
}

/**
 * @param {string} paper
 * @param {string} one
 * @param {string} other
 * @returns {string} the paper that stands in its place once two have changed places
 */
export function swappedWith(paper, one, other) {
  return paper === one ? other : paper === other ? one : paper;
}

/**
 * Moves a paper on the shelf.
 *
 * @param {Project} project
 * @param {string} paper  its id
 * @param {number} place  counted from 0
 * @returns {Project}
 */
export function movePaper(project, paper, place) {
  const { papers } = project.shelf;
  const moved = papers.find(({ id }) => id === paper);
  const others = papers.filter((each) => each !== moved);
  if (!moved || others[place - 1] === papers[papers.indexOf(moved) - 1]) return project;
  return { ...project, shelf: { ...project.shelf, papers: [...others.slice(0, place), moved, ...others.slice(place)] } };
}

/**
 * Changes part of the document, such as `backing`, field by field.
 *
 * @template {"reading" | "limits" | "backing" | "plan" | "speed" | "look" | "page"} Part
 * @param {Project} project
 * @param {Part} part
 * @param {Partial<Project[Part]>} change
 * @returns {Project}
 */
export function amend(project, part, change) {
  /** @type {Record<string, unknown>} */
  const before = project[part];
  const same = Object.entries(change).every(([name, value]) => before[name] === value);
  return same ? project : { ...project, [part]: { ...before, ...change } };
}

/**
 * Lets two openings share a piece, or keeps them apart, whatever the bar between them.
 *
 * @param {Project} project
 * @param {number} first
 * @param {number} second
 * @param {boolean} together
 */
export function share(project, first, second, together) {
  /** @type {[number, number]} */
  const pair = [Math.min(first, second), Math.max(first, second)];
  const others = (/** @type {[number, number][]} */ pairs) =>
    pairs.filter((each) => !each.includes(first) || !each.includes(second));
  const joined = others(project.backing.joined);
  const split = others(project.backing.split);
  return amend(project, "backing", together ? { joined: [...joined, pair], split } : { joined, split: [...split, pair] });
}

/**
 * @param {Project} project
 * @param {{pieces?: readonly number[], bits?: readonly number[]}} parts  pieces and loose bits, by number
 * @param {boolean} glued
 * @returns {Project}
 */
export function tick(project, { pieces = [], bits = [] }, glued) {
  return {
    ...project,
    ticked: ticked(project.ticked, pieces, glued),
    ticked_bits: ticked(project.ticked_bits, bits, glued),
  };
}

/**
 * @param {readonly number[]} before
 * @param {readonly number[]} numbers
 * @param {boolean} glued
 */
function ticked(before, numbers, glued) {
  const rest = before.filter((number) => !numbers.includes(number));
  return glued ? [...rest, ...numbers].sort((one, other) => one - other) : rest;
}
