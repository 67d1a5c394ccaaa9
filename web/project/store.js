import { stepped } from "./course.js";
import { amend, chosen } from "./edits.js";
import { cutOf, sameBacking, sameDesign, samePlanChoices, sameSearch } from "./same.js";

/** @typedef {import("../desk/types.js").Project} Project */
/** @typedef {import("./course.js").Course} Course */
/** @typedef {import("./course.js").Step} Step */
/** @typedef {{step: Step | null}} Change  null where another project was opened */

const ONE_MOVE_MS = 900;

/**
 * The open project and its undo history.
 *
 * Events: "change" (the document is another; detail: a `Change`).
 */
export class Store extends EventTarget {
  constructor() {
    super();
    /** @type {Course | null} */
    this.course = null;
    this.lastEdit = { name: "", time: -Infinity };
  }

  /** @returns {Project | null} */
  get project() {
    return this.course?.document ?? null;
  }

  get canUndo() {
    return (this.course?.past.length ?? 0) > 0;
  }

  get canRedo() {
    return (this.course?.future.length ?? 0) > 0;
  }

  /** @param {Course} course */
  open(course) {
    this.course = course;
    this.lastEdit = { name: "", time: -Infinity };
    this.#tell(null);
  }

  /**
   * Edits the document. Edits of the same name in quick succession, such as from one slider, are one step to
   * undo; those of a name that begins with "stroke" are, however slowly they follow one another.
   *
   * @param {string} name
   * @param {(project: Project) => Project} edit
   */
  edit(name, edit) {
    if (!this.course) return;
    const { document, past } = this.course;
    const edited = unplanned(document, uncut(document, edit(document)));
    if (edited === document) return;
    const now = performance.now();
    const soon = now - this.lastEdit.time < ONE_MOVE_MS || name.startsWith("stroke");
    const joins = name !== "" && name === this.lastEdit.name && soon && past.length > 0;
    this.lastEdit = { name, time: now };
    this.#step({ kind: joins ? "join" : "edit", document: edited });
  }

  /**
   * Notes in the document what was done for it, such as the rounds that went into its plan; no step to undo.
   *
   * @param {(project: Project) => Project} note
   */
  note(note) {
    if (!this.course) return;
    const noted = note(this.course.document);
    if (noted !== this.course.document) this.#step({ kind: "note", document: noted });
  }

  /**
   * Takes over what became another elsewhere, such as papers that all projects share; no step to undo.
   *
   * @param {(project: Project) => Project} edit
   */
  follow(edit) {
    this.note((project) => unplanned(project, edit(project)));
  }

  undo() {
    this.#walk("undo");
  }

  redo() {
    this.#walk("redo");
  }

  /** @param {"undo" | "redo"} kind */
  #walk(kind) {
    this.lastEdit = { name: "", time: -Infinity };
    this.#step({ kind });
  }

  /** @param {Step} step */
  #step(step) {
    if (!this.course) return;
    const { course } = this;
    this.course = stepped(course, step);
    if (this.course !== course) this.#tell(step);
  }

  /** @param {Step | null} step */
  #tell(step) {
    /** @type {Change} */
    const detail = { step };
    this.dispatchEvent(new CustomEvent("change", { detail }));
  }
}

/**
 * The edited project; where its plan is another than before, the rounds that were done count no more.
 *
 * @param {Project} before
 * @param {Project} after
 */
function unplanned(before, after) {
  const same = sameDesign(before, after) && sameBacking(before, after) && sameSearch(before, after);
  if (same || after.plan.rounds !== before.plan.rounds) return after;
  return amend(after, "plan", { rounds: cutOf(after)?.rounds ?? null });
}

/**
 * The edited project; where the colourway that was cut is another by that edit, it is not what was cut any more.
 *
 * @param {Project} before
 * @param {Project} after
 */
function uncut(before, after) {
  const cut = cutOf(after);
  const same = sameDesign(before, after) && sameBacking(before, after) && samePlanChoices(before, after);
  if (!cut || same || chosen(before).id !== chosen(after).id) return after;
  return { ...after, cuts: after.cuts.filter((one) => one !== cut) };
}
