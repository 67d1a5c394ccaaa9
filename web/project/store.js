import { amend } from "./edits.js";
import { sameBacking, sameDesign, sameSearch } from "./same.js";

/** @typedef {import("../desk/types.js").Project} Project */
/** @typedef {{document: Project, past: Project[], future: Project[]}} Course  a document and its undo history */

const MOST_STEPS = 100;
const ONE_MOVE_MS = 900;

/**
 * The open project and its undo history.
 *
 * Events: "change" (the document is another; detail: {opened} tells whether another project was opened).
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
    this.#changed(true);
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
    const edited = unplanned(document, edit(document));
    if (edited === document) return;
    const now = performance.now();
    const soon = now - this.lastEdit.time < ONE_MOVE_MS || name.startsWith("stroke");
    const joins = name !== "" && name === this.lastEdit.name && soon && past.length > 0;
    this.lastEdit = { name, time: now };
    this.course = {
      document: edited,
      past: joins ? past : [...past.slice(-MOST_STEPS + 1), document],
      future: [],
    };
    this.#changed(false);
  }

  /**
   * Notes in the document what was done for it, such as the rounds that went into its plan; no step to undo.
   *
   * @param {(project: Project) => Project} note
   */
  note(note) {
    if (!this.course) return;
    const noted = note(this.course.document);
    if (noted === this.course.document) return;
    this.course = { ...this.course, document: noted };
    this.#changed(false);
  }

  undo() {
    if (!this.course) return;
    const { document, past, future } = this.course;
    const before = past.at(-1);
    if (before) this.#step({ document: before, past: past.slice(0, -1), future: [document, ...future] });
  }

  redo() {
    if (!this.course) return;
    const { document, past, future } = this.course;
    const [after, ...rest] = future;
    if (after) this.#step({ document: after, past: [...past, document], future: rest });
  }

  /** @param {Course} course */
  #step(course) {
    this.course = course;
    this.lastEdit = { name: "", time: -Infinity };
    this.#changed(false);
  }

  /** @param {boolean} opened */
  #changed(opened) {
    this.dispatchEvent(new CustomEvent("change", { detail: { opened } }));
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
  return same || after.plan.rounds !== before.plan.rounds ? after : amend(after, "plan", { rounds: null });
}
