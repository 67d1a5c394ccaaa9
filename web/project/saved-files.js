import { Database, done } from "./database.js";

/**
 * How a project, or everything, was last saved as a file.
 *
 * @typedef {{of: string, name: string, when: number, changes: number, handle: FileSystemFileHandle | null}} SavedFile
 *   what it is of (a project's id), the file's name, when, how many changes there were since, and the file itself
 *   where the browser lets the page write to it again
 */

const NAME = "peekpaper files";
const STORE = "files";
/** Stands for all that is kept; no project has such an id. */
export const EVERYTHING = "";

/** Which files were saved from here, in a database of their own: without it nothing but convenience is lost. */
export class SavedFiles {
  constructor() {
    this.database = new Database(NAME, 1, (database) => {
      database.createObjectStore(STORE, { keyPath: "of" });
    });
  }

  /** @param {string} of  @returns {Promise<SavedFile | null>} */
  async last(of) {
    const asked = this.database.run(STORE, "readonly", (transaction) => read(transaction, of));
    return (await asked.catch(() => undefined)) ?? null;
  }

  /**
   * @param {string} of
   * @param {string} name
   * @param {FileSystemFileHandle | null} handle
   */
  async note(of, name, handle) {
    await this.#write({ of, name, when: Date.now(), changes: 0, handle });
  }

  /** Counts a change to a project, also for the file of everything. @param {string} project  its id */
  async changed(project) {
    const count = this.database.run(STORE, "readwrite", async (transaction) => {
      for (const of of [project, EVERYTHING]) {
        const saved = await read(transaction, of);
        if (saved) transaction.objectStore(STORE).put({ ...saved, changes: saved.changes + 1 });
      }
    });
    await count.catch(() => {});
  }

  /** @param {string} project  its id */
  async forget(project) {
    const forgetting = this.database.run(STORE, "readwrite", (transaction) => {
      transaction.objectStore(STORE).delete(project);
    });
    await forgetting.catch(() => {});
  }

  /** @param {SavedFile} saved */
  async #write(saved) {
    const put = (/** @type {SavedFile} */ what) =>
      this.database.run(STORE, "readwrite", (transaction) => {
        transaction.objectStore(STORE).put(what);
      });
    // Some engines keep no handles: then the next time asks for the place again.
    await put(saved).catch(() => put({ ...saved, handle: null }).catch(() => {}));
  }
}

/**
 * @param {IDBTransaction} transaction
 * @param {string} of
 */
function read(transaction, of) {
  return done(/** @type {IDBRequest<SavedFile | undefined>} */ (transaction.objectStore(STORE).get(of)));
}
