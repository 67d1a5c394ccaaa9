import { Refusal } from "../../words/refusal.js";
import { completedShelf } from "../completed.js";
import { graft } from "../graft.js";
import { withPictures } from "./pack.js";
import { pictureEntries, textEntry } from "./parcel.js";
import { zipped } from "./zip.js";

/** @typedef {import("../archive.js").Archive} Archive */
/** @typedef {import("../pictures.js").Pictures} Pictures */
/** @typedef {import("../../desk/desk.js").Desk} Desk */
/** @typedef {import("../../desk/types.js").Project} Project */
/** @typedef {import("./parcel.js").Parcel} Parcel */
/** @typedef {import("./zip.js").Entry} Entry */
/** @typedef {import("./zip.js").Watch} Watch */
/** @typedef {{file: string, name: string, saved: number, thumbnail: string | null}} Listed */
/** @typedef {{saved: number, projects: Listed[]}} Contents */
/** @typedef {"added" | "beside" | "here"} Outcome  of one project of a backup */

const FORMAT = "peekpaper backup";
const VERSION = 1;
const STASH = "stash.json";
const HISTORY = "cuts.json";
const MOST_PROJECTS = 5000;
const MOST_THUMBNAIL_PX = 1_000_000;

/** @typedef {{archive: Archive, pictures: Pictures, desk: Desk}} Tools */

/**
 * All projects, the stash with what was cut from it, and their pictures as one file.
 *
 * @param {Tools} tools
 * @param {Project} project  any, for the form of a shelf file
 * @param {Watch} watch
 * @returns {Promise<{blob: Blob, projects: number, carried: import("./parcel.js").Carried & {lacking: number}}>}
 */
export async function packEverything({ archive, pictures, desk }, project, watch) {
  /** @type {Entry[]} */
  const entries = [];
  /** @type {Listed[]} */
  const projects = [];
  /** @type {import("../pictures-of.js").Showing[]} */
  const documents = [];
  for (const { id } of await archive.list()) {
    watch.signal?.throwIfAborted();
    const kept = await archive.read(id);
    if (!kept) continue;
    const { document } = kept.course;
    const place = `projects/${projects.length + 1}`;
    const layout = kept.plan ? { layout: kept.plan } : {};
    entries.push(textEntry(`${place}.json`, JSON.stringify({ ...document, ...layout })));
    if (kept.thumbnail) entries.push({ name: `${place}.webp`, blob: kept.thumbnail });
    const thumbnail = kept.thumbnail && `${place}.webp`;
    projects.push({ file: `${place}.json`, name: document.name, saved: kept.saved, thumbnail });
    documents.push(document);
  }
  const [shelf, bookings] = await Promise.all([archive.stash(), archive.bookings()]);
  if (shelf) {
    const envelope = JSON.parse((await desk.saveShelf(project)).text);
    entries.push(textEntry(STASH, JSON.stringify({ ...envelope, shelf })));
    if (bookings.length > 0) entries.push(textEntry(HISTORY, JSON.stringify({ bookings })));
    documents.push({ shelf, page: { blocks: [] } });
  }
  const carried = await pictures.carried(documents);
  const index = JSON.stringify({ format: FORMAT, version: VERSION, saved: Date.now(), projects });
  const all = [textEntry("backup.json", index), ...entries, ...pictureEntries(carried)];
  return { blob: await zipped(all, new Date(), watch), projects: projects.length, carried };
}

/**
 * @param {Parcel} parcel
 * @returns {Promise<Contents>}
 * @throws {Refusal} where it is broken, or a newer page saved it
 */
export async function contentsOf(parcel) {
  const told = parsed(await parcel.text());
  if (told?.format !== FORMAT || !Array.isArray(told.projects)) throw new Refusal({ key: "refusal.zip-broken", figures: {} });
  if (told.version !== VERSION) throw new Refusal({ key: "backup.newer", figures: {} });
  if (told.projects.length > MOST_PROJECTS) throw new Refusal({ key: "refusal.zip-too-much", figures: {} });
  return {
    saved: Number(told.saved) || 0,
    projects: told.projects.map((/** @type {Partial<Listed> | null} */ each) => ({
      file: String(each?.file),
      name: String(each?.name).slice(0, 200),
      saved: Number(each?.saved) || 0,
      thumbnail: typeof each?.thumbnail === "string" ? each.thumbnail : null,
    })),
  };
}

/**
 * Adds one project of a backup to what is kept: nothing where the same is here, beside it where another is here
 * under its id.
 *
 * @param {Parcel} parcel
 * @param {Listed} listed
 * @param {(name: string) => string} besideName  the name of one that is put beside
 * @param {Tools} tools
 * @param {AbortSignal} signal
 * @returns {Promise<Outcome>}
 */
export async function addOne(parcel, listed, besideName, { archive, pictures, desk }, signal) {
  const text = await parcel.text(listed.file);
  const opened = await desk.open(listed.name, new TextEncoder().encode(text).buffer, signal);
  if (opened.kind !== "project") throw new Refusal({ key: "refusal.zip-broken", figures: {} });
  const own = await withPictures(parcel, opened.project, pictures);
  const here = await archive.read(own.id);
  if (here && isSame(here.course.document, own)) return "here";
  const beside = here ? { ...own, id: await idOf(text), name: besideName(own.name) } : own;
  if (here && (await archive.read(beside.id))) return "here";
  const thumbnail = listed.thumbnail === null ? null : await parcel.picture(listed.thumbnail, MOST_THUMBNAIL_PX);
  const { id, name } = beside;
  const course = { document: beside, past: [], future: [] };
  await archive.save({ id, name, saved: listed.saved || Date.now(), thumbnail, course, views: null, plan: opened.kept });
  return here ? "beside" : "added";
}

/**
 * Adds the papers of a backup's stash that are not in the stash here, with their scraps and what was cut of them.
 *
 * @param {Parcel} parcel
 * @param {import("../stash.js").Stash} stash
 * @param {Project} project  any
 * @param {Tools} tools
 * @returns {Promise<number>} how many papers were added
 */
export async function addStash(parcel, stash, project, { pictures, desk }) {
  if (!parcel.has(STASH)) return 0;
  const text = await parcel.text(STASH);
  // Refused before anything is taken in.
  await desk.edit(project, "add_shelf", { text });
  const shelf = completedShelf(JSON.parse(text).shelf);
  const { bookings } = parcel.has(HISTORY) ? await desk.readHistory(parsed(await parcel.text(HISTORY))) : { bookings: [] };
  const pictured = await withPictures(parcel, { shelf, page: { blocks: [] } }, pictures);
  return stash.add(pictured.shelf, bookings);
}

/**
 * @param {unknown} one  plain data
 * @param {unknown} other
 */
function isSame(one, other) {
  return graft(one, other) === one;
}

/** @param {string} text  of a project  @returns {Promise<string>} an id that the same text always gets */
async function idOf(text) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", new TextEncoder().encode(text)));
  return Array.from(digest.subarray(0, 8), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** @param {string} text */
function parsed(text) {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
