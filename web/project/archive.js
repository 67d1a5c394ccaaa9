import { completed, completedCourse } from "./completed.js";
import { stepped } from "./course.js";
import { Database, done } from "./database.js";
import { picturesOf } from "./pictures-of.js";
import { sameDesign } from "./same.js";

/** @typedef {import("./course.js").Course} Course */
/** @typedef {import("./course.js").Step} Step */
/** @typedef {{id: string, name: string, saved: number, thumbnail: Blob | null}} Entry */
/** @typedef {{design: import("../desk/types.js").Design, backing: import("../desk/types.js").Backing}} Views */
/**
 * A project as it is kept; its views are what was computed of the document, `form` tells in which form they are. `plan`
 * is the last plan as the package has it kept.
 *
 * @typedef {Entry & {course: Course, views: Views | null, plan?: unknown, form?: number}} Kept
 */
/** @typedef {Omit<import("../desk/types.js").Project, "source">} Decisions  a document but for its design's file */
/**
 * A step made since its project was saved as a whole; none for undo and redo.
 *
 * @typedef {{project: string, number: number, kind: Step["kind"], decisions: Decisions | null}} KeptStep
 */
/** @typedef {{key: number, project: string, saved: number, document: import("../desk/types.js").Project}} Version */

/** @typedef {import("../desk/types.js").Shelf} Shelf */
/** @typedef {import("../desk/types.js").Booking} Booking */

const NAME = "peekpaper";
/** The stores of what shows pictures. */
const SHOWING = ["projects", "steps", "versions", "stash"];
const STASH = "stash";
/** Beside the stash; a shelf without papers to earlier pages, which look through all that is there. */
const BOOKINGS = "bookings";
const MOST_BOOKINGS = 1000;
const OPEN = "open";
const MOST_VERSIONS = 10;
/** Counts up where views take another form than those that an earlier page has kept. */
const VIEWS_FORM = 4;

/**
 * The projects kept in this browser: each with its undo history, a thumbnail, and its last ten versions; and
 * pictures of papers by key. Where the browser keeps nothing, every call rejects and the page says so.
 */
export class Archive {
  constructor() {
    this.database = new Database(NAME, 5, upgrade);
    this.lastStep = 0;
  }

  /**
   * Saves a project as a whole; the steps that led to it are needed no more.
   *
   * @param {Kept} kept
   * @returns {Promise<void>}
   */
  save(kept) {
    return this.database.run(["projects", "steps"], "readwrite", (transaction) => {
      transaction.objectStore("projects").put({ ...kept, form: VIEWS_FORM });
      transaction.objectStore("steps").delete(stepsOf(kept.id));
      transaction.commit();
    });
  }

  /**
   * Saves a step alone, which takes no time: it is handed over before this returns, so that it stands also where
   * the page ends a moment later. The design's file is as in the project saved before.
   *
   * @param {string} project  its id
   * @param {Step} step
   * @returns {Promise<boolean>} whether the project that it belongs to stands; a browser that was told to clear
   *   what it keeps has lost it
   */
  saveStep(project, step) {
    // Later than any step of an earlier visit, even of two steps at once.
    const number = Math.max(Date.now(), this.lastStep + 1);
    this.lastStep = number;
    const decisions = "document" in step ? decisionsOf(step.document) : null;
    return this.database.run(["projects", "steps"], "readwrite", async (transaction) => {
      /** @type {KeptStep} */
      const kept = { project, number, kind: step.kind, decisions };
      transaction.objectStore("steps").put(kept);
      const stands = transaction.objectStore("projects").getKey(project);
      transaction.commit();
      return (await done(stands)) !== undefined;
    });
  }

  /** @param {string} id  @returns {Promise<Kept | null>} the project as of its last step */
  async read(id) {
    const [kept, steps] = await this.database.run(["projects", "steps"], "readonly", (transaction) =>
      Promise.all([
        done(/** @type {IDBRequest<Kept | undefined>} */ (transaction.objectStore("projects").get(id))),
        done(/** @type {IDBRequest<KeptStep[]>} */ (transaction.objectStore("steps").getAll(stepsOf(id)))),
      ]),
    );
    if (!kept) return null;
    const course = steps.reduce(retraced, kept.course);
    const holds = kept.form === VIEWS_FORM && sameDesign(course.document, kept.course.document);
    return { ...kept, course: completedCourse(course), views: holds ? kept.views : null };
  }

  /**
   * Notes which project is open. What else the browser keeps for a page is written to the disk some seconds later:
   * a device that ends the browser would come back to the project before.
   *
   * @param {string} id
   * @returns {Promise<void>}
   */
  noteOpen(id) {
    return this.database.run(OPEN, "readwrite", (transaction) => {
      transaction.objectStore(OPEN).put(id, OPEN);
    });
  }

  /** @returns {Promise<string | null>} the id of the project that was opened last */
  async lastOpen() {
    const found = await this.database.run(OPEN, "readonly", (transaction) =>
      done(/** @type {IDBRequest<string | undefined>} */ (transaction.objectStore(OPEN).get(OPEN))),
    );
    return found ?? null;
  }

  /** @returns {Promise<Entry[]>} the projects, the last saved first */
  async list() {
    /** @type {Kept[]} */
    const all = await this.database.run("projects", "readonly", (transaction) =>
      done(transaction.objectStore("projects").getAll()),
    );
    return all
      .map(({ id, name, saved, thumbnail }) => ({ id, name, saved, thumbnail }))
      .sort((one, other) => other.saved - one.saved);
  }

  /**
   * Forgets a project on this computer: its history, its versions, and the pictures that no other one uses.
   *
   * @param {string} id
   * @returns {Promise<void>}
   */
  forget(id) {
    return this.database.run([...SHOWING, "pictures"], "readwrite", async (transaction) => {
      const projects = transaction.objectStore("projects");
      const steps = transaction.objectStore("steps");
      const versions = transaction.objectStore("versions");
      const pictures = transaction.objectStore("pictures");
      const before = await picturesIn(transaction);
      projects.delete(id);
      steps.delete(stepsOf(id));
      for (const key of await done(versions.index("project").getAllKeys(id))) versions.delete(key);
      const after = await picturesIn(transaction);
      for (const key of before) {
        if (after.has(key)) continue;
        pictures.delete(key);
        pictures.delete(smallKey(key));
      }
    });
  }

  /**
   * Keeps a document as a version to go back to, unless the last one is the same; the oldest beyond ten goes.
   *
   * @param {import("../desk/types.js").Project} document
   * @returns {Promise<void>}
   */
  keepVersion(document) {
    return this.database.run("versions", "readwrite", async (transaction) => {
      const versions = transaction.objectStore("versions");
      const keys = await done(versions.index("project").getAllKeys(document.id));
      const last = keys.at(-1);
      const same = last !== undefined && isSame((await done(versions.get(last))).document, document);
      if (!same) keys.push(await done(versions.add({ project: document.id, saved: Date.now(), document })));
      for (const key of keys.slice(0, Math.max(0, keys.length - MOST_VERSIONS))) versions.delete(key);
    });
  }

  /** @returns {Promise<Shelf | null>} the papers for all projects; null where none were ever kept */
  async stash() {
    const found = await this.database.run("stash", "readonly", (transaction) =>
      done(/** @type {IDBRequest<Shelf | undefined>} */ (transaction.objectStore("stash").get(STASH))),
    );
    return found ?? null;
  }

  /** @returns {Promise<Booking[]>} what was cut from the stash, the first first */
  async bookings() {
    const found = await this.database.run("stash", "readonly", (transaction) =>
      done(/** @type {IDBRequest<{bookings: Booking[]} | undefined>} */ (transaction.objectStore("stash").get(BOOKINGS))),
    );
    return found?.bookings ?? [];
  }

  /**
   * Keeps the stash with what was cut from it, both or neither.
   *
   * @param {Shelf} shelf
   * @param {readonly Booking[]} bookings
   * @returns {Promise<void>}
   */
  keepStash(shelf, bookings) {
    return this.database.run("stash", "readwrite", (transaction) => {
      const store = transaction.objectStore("stash");
      store.put(shelf, STASH);
      store.put({ papers: [], scraps: [], bookings: bookings.slice(-MOST_BOOKINGS) }, BOOKINGS);
    });
  }

  /** @param {string} id  @returns {Promise<Version[]>} the last first */
  async versions(id) {
    /** @type {Version[]} */
    const all = await this.database.run("versions", "readonly", (transaction) =>
      done(transaction.objectStore("versions").index("project").getAll(id)),
    );
    return all.reverse().map((version) => ({ ...version, document: completed(version.document) }));
  }

  /**
   * @param {string} key
   * @param {Blob} picture
   */
  keepPicture(key, picture) {
    return this.#keep(key, picture);
  }

  /** @param {string} key  @returns {Promise<Blob | null>} */
  picture(key) {
    return this.#kept(key);
  }

  /**
   * Keeps a small picture that stands in for one that is not here.
   *
   * @param {string} key  of the whole
   * @param {Blob} picture
   */
  keepSmall(key, picture) {
    return this.#keep(smallKey(key), picture);
  }

  /** @param {string} key  of the whole  @returns {Promise<Blob | null>} */
  small(key) {
    return this.#kept(smallKey(key));
  }

  /**
   * @param {IDBValidKey} key
   * @param {Blob} picture
   * @returns {Promise<void>}
   */
  #keep(key, picture) {
    return this.database.run("pictures", "readwrite", (transaction) => {
      transaction.objectStore("pictures").put(picture, key);
    });
  }

  /** @param {IDBValidKey} key  @returns {Promise<Blob | null>} */
  async #kept(key) {
    const found = await this.database.run("pictures", "readonly", (transaction) =>
      done(/** @type {IDBRequest<Blob | undefined>} */ (transaction.objectStore("pictures").get(key))),
    );
    return found ?? null;
  }
}

/** @type {import("./database.js").Upgrade} */
function upgrade(database, from) {
  if (from < 1) {
    database.createObjectStore("projects", { keyPath: "id" });
    database.createObjectStore("versions", { keyPath: "key", autoIncrement: true }).createIndex("project", "project");
    database.createObjectStore("pictures");
  }
  if (from === 2) database.deleteObjectStore("newest");
  if (from < 3) database.createObjectStore("steps", { keyPath: ["project", "number"] });
  if (from < 4) database.createObjectStore("stash");
  database.createObjectStore(OPEN);
}

/** @param {string} key  of a picture  @returns {IDBValidKey} that of a small one in its place; no picture has such a key */
function smallKey(key) {
  return ["small", key];
}

/** @param {string} project  its id  @returns {IDBKeyRange} the keys of its steps */
function stepsOf(project) {
  return IDBKeyRange.bound([project], [project, Infinity]);
}

/** @param {import("../desk/types.js").Project} document  @returns {Decisions} */
function decisionsOf({ source: _, ...decisions }) {
  return decisions;
}

/**
 * The course after a kept step.
 *
 * @param {Course} course
 * @param {KeptStep} step
 * @returns {Course}
 */
function retraced(course, { kind, decisions }) {
  if (kind === "undo" || kind === "redo") return stepped(course, { kind });
  if (!decisions) return course;
  const { document } = course;
  return stepped(course, { kind, document: { ...document, ...renewed(document, decisions) } });
}

/**
 * The decisions that are others than a document's; those that are the same stay its very own, so that what was
 * computed of them holds.
 *
 * @param {Decisions} document
 * @param {Decisions} decisions
 */
function renewed(document, decisions) {
  const names = /** @type {(keyof Decisions)[]} */ (Object.keys(decisions));
  return Object.fromEntries(
    names.filter((name) => !isSame(document[name], decisions[name])).map((name) => [name, decisions[name]]),
  );
}

/**
 * The keys of all pictures that anything kept shows.
 *
 * @param {IDBTransaction} transaction
 * @returns {Promise<Set<string>>}
 */
async function picturesIn(transaction) {
  const [projects, steps, versions, stash] = await Promise.all(
    SHOWING.map((name) => done(transaction.objectStore(name).getAll())),
  );
  const kept = /** @type {Kept[]} */ (projects);
  const since = /** @type {KeptStep[]} */ (steps);
  const earlier = /** @type {Version[]} */ (versions);
  /** @type {Decisions[]} */
  const documents = [
    ...kept.flatMap(({ course: { document, past, future } }) => [document, ...past, ...future]),
    ...since.flatMap(({ decisions }) => decisions ?? []),
    ...earlier.map(({ document }) => document),
  ];
  const shelves = /** @type {Shelf[]} */ (stash).map((shelf) => ({ shelf, page: { blocks: [] } }));
  return new Set([...documents, ...shelves].flatMap((document) => [...picturesOf(document)]));
}

/**
 * @param {unknown} one  plain data
 * @param {unknown} other
 */
function isSame(one, other) {
  return JSON.stringify(one) === JSON.stringify(other);
}
