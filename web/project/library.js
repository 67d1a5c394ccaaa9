import { alikeDesigns, alikePapers } from "./same.js";

/** @typedef {import("./archive.js").Archive} Archive */
/** @typedef {import("./course.js").Course} Course */
/** @typedef {import("./store.js").Store} Store */
/** @typedef {import("../desk/types.js").Project} Project */

/** What is done with the projects kept in this browser; nothing that was kept is ever written over unreachably. */
export class Library {
  /**
   * @param {Archive} archive
   * @param {Store} store
   * @param {import("./soundness.js").Soundness} soundness
   */
  constructor(archive, store, soundness) {
    this.archive = archive;
    this.store = store;
    this.soundness = soundness;
  }

  /**
   * The course of a document that comes from elsewhere, such as from a file: where another stands under its id,
   * undo leads back to that one unless it is broken, and it is kept as a version.
   *
   * @param {Project} document
   * @returns {Promise<Course>}
   */
  async over(document) {
    const kept = await this.archive.read(document.id);
    if (!kept) return { document, past: [], future: [] };
    const { document: before, past } = kept.course;
    if (JSON.stringify(before) === JSON.stringify(document)) return kept.course;
    await this.archive.keepVersion(before);
    const isBroken = (await this.soundness.faultOf(before)) !== null;
    return { document, past: isBroken ? [] : [...past, before], future: [] };
  }

  /**
   * The project kept here that has another's design in other papers: the open one first, then the last saved.
   *
   * @param {Project} theirs
   * @returns {Promise<string | null>} its id
   */
  async alike(theirs) {
    const open = this.store.project?.id;
    const entries = await this.archive.list().catch(() => []);
    const ids = new Set([...(open ? [open] : []), ...entries.map(({ id }) => id)]);
    for (const id of ids) {
      const own = id === open ? this.store.project : (await this.archive.read(id).catch(() => null))?.course.document;
      if (own && alikeDesigns(own, theirs)) return alikePapers(own, theirs) ? null : id;
    }
    return null;
  }

  /**
   * @param {string} id
   * @param {string} name
   */
  async rename(id, name) {
    if (this.store.project?.id === id) {
      this.store.edit("rename", (project) => (project.name === name ? project : { ...project, name }));
      return;
    }
    const kept = await this.archive.read(id);
    if (!kept) return;
    const course = { ...kept.course, document: { ...kept.course.document, name } };
    await this.archive.save({ ...kept, name, course, saved: Date.now() });
  }

  /**
   * Puts a copy of a project beside it.
   *
   * @param {string} id
   * @param {string} name  the copy's
   */
  async duplicate(id, name) {
    const kept = await this.archive.read(id);
    if (!kept) return;
    const document = { ...kept.course.document, id: freshId(), name };
    await this.archive.save({
      ...kept,
      id: document.id,
      name,
      course: { document, past: [], future: [] },
      saved: Date.now(),
    });
  }

  /**
   * The course that goes back to a version; undo leads to what stands now.
   *
   * @param {import("./archive.js").Version} version
   * @returns {Promise<Course | null>}
   */
  async backTo({ project, document }) {
    const kept = await this.archive.read(project);
    if (!kept) return null;
    const { document: now, past } = kept.course;
    await this.archive.keepVersion(now);
    return { document, past: [...past, now], future: [] };
  }
}

/** @returns {string} an id that no other project has */
export function freshId() {
  return [...crypto.getRandomValues(new Uint8Array(8))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
