import { completed, completedCourse } from "./completed.js";
import { stepped } from "./course.js";
import { picturesOf } from "./pictures-of.js";
import { sameDesign } from "./same.js";

/** @typedef {import("./course.js").Course} Course */
/** @typedef {import("./course.js").Step} Step */
/** @typedef {{id: string, name: string, saved: number, thumbnail: Blob | null}} Entry */
/** @typedef {{design: import("../desk/types.js").Design, backing: import("../desk/types.js").Backing}} Views */
/**
 * A project as it is kept; its views are what was computed of the document, `form` tells in which form they are.
 *
 * @typedef {Entry & {course: Course, views: Views | null, form?: number}} Kept
 */
/** @typedef {Omit<import("../desk/types.js").Project, "source">} Decisions  a document but for its design's file */
/**
 * A step made since its project was saved as a whole; none for undo and redo.
 *
 * @typedef {{project: string, number: number, kind: Step["kind"], decisions: Decisions | null}} KeptStep
 */
/** @typedef {{key: number, project: string, saved: number, document: import("../desk/types.js").Project}} Version */

const NAME = "peekpaper";
const MOST_VERSIONS = 10;
/** Counts up where views take another form than those that an earlier page has kept. */
const VIEWS_FORM = 2;

/**
 * The projects kept in this browser: each with its undo history, a thumbnail, and its last ten versions; and
 * pictures of papers by key. Where the browser keeps nothing, every call rejects and the page says so.
 */
export class Archive {
  /** @param {IDBDatabase} database */
  constructor(database) {
    this.database = database;
    this.lastStep = 0;
  }

  /** @returns {Promise<Archive>} */
  static async open() {
    const opening = indexedDB.open(NAME, 3);
    opening.onupgradeneeded = ({ oldVersion }) => {
      const database = opening.result;
      if (oldVersion < 1) {
        database.createObjectStore("projects", { keyPath: "id" });
        database
          .createObjectStore("versions", { keyPath: "key", autoIncrement: true })
          .createIndex("project", "project");
        database.createObjectStore("pictures");
      }
      if (oldVersion === 2) database.deleteObjectStore("newest");
      database.createObjectStore("steps", { keyPath: ["project", "number"] });
    };
    const database = await done(opening);
    // A tab with a newer page must not wait for this one.
    database.onversionchange = () => database.close();
    return new Archive(database);
  }

  /**
   * Saves a project as a whole; the steps that led to it are needed no more.
   *
   * @param {Kept} kept
   */
  async save(kept) {
    const transaction = this.database.transaction(["projects", "steps"], "readwrite");
    transaction.objectStore("projects").put({ ...kept, form: VIEWS_FORM });
    transaction.objectStore("steps").delete(stepsOf(kept.id));
    transaction.commit();
    await finished(transaction);
  }

  /**
   * Saves a step alone, which takes no time: it is handed over before this returns, so that it stands also where
   * the page ends a moment later. The design's file is as in the project saved before.
   *
   * @param {string} project  its id
   * @param {Step} step
   */
  async saveStep(project, step) {
    // Later than any step of an earlier visit, even of two steps at once.
    const number = Math.max(Date.now(), this.lastStep + 1);
    this.lastStep = number;
    const decisions = "document" in step ? decisionsOf(step.document) : null;
    const transaction = this.database.transaction("steps", "readwrite");
    /** @type {KeptStep} */
    const kept = { project, number, kind: step.kind, decisions };
    transaction.objectStore("steps").put(kept);
    transaction.commit();
    await finished(transaction);
  }

  /** @param {string} id  @returns {Promise<Kept | null>} the project as of its last step */
  async read(id) {
    const transaction = this.database.transaction(["projects", "steps"]);
    const [kept, steps] = await Promise.all([
      done(/** @type {IDBRequest<Kept | undefined>} */ (transaction.objectStore("projects").get(id))),
      done(/** @type {IDBRequest<KeptStep[]>} */ (transaction.objectStore("steps").getAll(stepsOf(id)))),
    ]);
    if (!kept) return null;
    const course = steps.reduce(retraced, kept.course);
    const holds = kept.form === VIEWS_FORM && sameDesign(course.document, kept.course.document);
    return { ...kept, course: completedCourse(course), views: holds ? kept.views : null };
  }

  /** @returns {Promise<Entry[]>} the projects, the last saved first */
  async list() {
    /** @type {Kept[]} */
    const all = await done(this.#projects().getAll());
    return all
      .map(({ id, name, saved, thumbnail }) => ({ id, name, saved, thumbnail }))
      .sort((one, other) => other.saved - one.saved);
  }

  /**
   * Forgets a project on this computer: its history, its versions, and the pictures that no other one uses.
   *
   * @param {string} id
   */
  async forget(id) {
    const transaction = this.database.transaction(["projects", "steps", "versions", "pictures"], "readwrite");
    const projects = transaction.objectStore("projects");
    const steps = transaction.objectStore("steps");
    const versions = transaction.objectStore("versions");
    const pictures = transaction.objectStore("pictures");
    const before = await picturesIn(projects, steps, versions);
    projects.delete(id);
    steps.delete(stepsOf(id));
    for (const key of await done(versions.index("project").getAllKeys(id))) versions.delete(key);
    const after = await picturesIn(projects, steps, versions);
    for (const key of before) if (!after.has(key)) pictures.delete(key);
    await finished(transaction);
  }

  /**
   * Keeps a document as a version to go back to, unless the last one is the same; the oldest beyond ten goes.
   *
   * @param {import("../desk/types.js").Project} document
   */
  async keepVersion(document) {
    const transaction = this.database.transaction("versions", "readwrite");
    const versions = transaction.objectStore("versions");
    const keys = await done(versions.index("project").getAllKeys(document.id));
    const last = keys.at(-1);
    const same = last !== undefined && isSame((await done(versions.get(last))).document, document);
    if (!same) keys.push(await done(versions.add({ project: document.id, saved: Date.now(), document })));
    for (const key of keys.slice(0, Math.max(0, keys.length - MOST_VERSIONS))) versions.delete(key);
    await finished(transaction);
  }

  /** @param {string} id  @returns {Promise<Version[]>} the last first */
  async versions(id) {
    const store = this.database.transaction("versions").objectStore("versions");
    /** @type {Version[]} */
    const all = await done(store.index("project").getAll(id));
    return all.reverse().map((version) => ({ ...version, document: completed(version.document) }));
  }

  /** @param {string} key  @param {Blob} picture */
  async keepPicture(key, picture) {
    const transaction = this.database.transaction("pictures", "readwrite");
    transaction.objectStore("pictures").put(picture, key);
    await finished(transaction);
  }

  /** @param {string} key  @returns {Promise<Blob | null>} */
  async picture(key) {
    return (await done(this.database.transaction("pictures").objectStore("pictures").get(key))) ?? null;
  }

  #projects() {
    return this.database.transaction("projects").objectStore("projects");
  }
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
 * @param {IDBObjectStore} projects
 * @param {IDBObjectStore} steps
 * @param {IDBObjectStore} versions
 * @returns {Promise<Set<string>>}
 */
async function picturesIn(projects, steps, versions) {
  /** @type {[Kept[], KeptStep[], Version[]]} */
  const [kept, since, earlier] = await Promise.all([
    done(projects.getAll()),
    done(steps.getAll()),
    done(versions.getAll()),
  ]);
  /** @type {Decisions[]} */
  const documents = [
    ...kept.flatMap(({ course: { document, past, future } }) => [document, ...past, ...future]),
    ...since.flatMap(({ decisions }) => decisions ?? []),
    ...earlier.map(({ document }) => document),
  ];
  return new Set(documents.flatMap((document) => [...picturesOf(document)]));
}

/**
 * @param {unknown} one  plain data
 * @param {unknown} other
 */
function isSame(one, other) {
  return JSON.stringify(one) === JSON.stringify(other);
}

/**
 * @template Value
 * @param {IDBRequest<Value>} request
 * @returns {Promise<Value>}
 */
function done(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

/** @param {IDBTransaction} transaction  @returns {Promise<void>} */
function finished(transaction) {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onerror = () => reject(transaction.error);
    transaction.onabort = () => reject(transaction.error);
  });
}
