/** @typedef {import("../desk/types.js").Project} Project */
/** @typedef {{document: Project, past: Project[], future: Project[]}} Course  a document and its undo history */
/**
 * What changes a course: an edit is one to undo; "join" goes on with the edit before it; "note" writes down what was
 * done for the document.
 *
 * @typedef {{kind: "edit" | "join" | "note", document: Project} | {kind: "undo" | "redo"}} Step
 */

const MOST_STEPS = 100;

/**
 * The course after a step; the course itself where there is nothing to undo or redo.
 *
 * @param {Course} course
 * @param {Step} step
 * @returns {Course}
 */
export function stepped(course, step) {
  const { document, past, future } = course;
  switch (step.kind) {
    case "edit":
      return { document: step.document, past: [...past.slice(-MOST_STEPS + 1), document], future: [] };
    case "join":
      return { document: step.document, past, future: [] };
    case "note":
      return { document: step.document, past, future };
    case "undo": {
      const before = past.at(-1);
      return before ? { document: before, past: past.slice(0, -1), future: [document, ...future] } : course;
    }
    case "redo": {
      const [after, ...rest] = future;
      return after ? { document: after, past: [...past, document], future: rest } : course;
    }
  }
}
