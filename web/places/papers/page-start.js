/**
 * Lays the piece on a page where there is none yet.
 *
 * @param {import("../workroom.js").Workroom} room
 */
export async function startPage({ desk, project, store, questions }) {
  if (project.page.blocks.length > 0) return;
  const page = await questions.ask("design", (asked) => desk.startPage(asked));
  // No step of the person's: undone, it would be done anew at once.
  store.note((now) => (now.page.blocks.length === 0 ? { ...now, page } : now));
}
