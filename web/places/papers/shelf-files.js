import { Refusal } from "../../words/refusal.js";
import { download } from "../../parts/files/download.js";
import { fileOf, withPictures } from "../../project/travel/pack.js";
import { Parcel } from "../../project/travel/parcel.js";
import { isZip } from "../../project/travel/zip.js";
import { say } from "../../words/words.js";
import { tellLeft, tellShort } from "../short-pictures.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */

/** @param {Workroom} room */
export async function saveShelf(room) {
  try {
    const { project } = room;
    const { shelf, page } = project;
    const carried = await room.pictures.carried([{ shelf, page: { ...page, blocks: [] } }]);
    const { name, blob } = await fileOf("shelf", await room.desk.saveShelf(project), carried);
    download(name, blob);
    tellLeft(room, carried);
  } catch (error) {
    room.notices.tellError(error, { stays: true });
  }
}

/**
 * Puts the papers of a shelf file on the open project's shelf, with their pictures.
 *
 * @param {Workroom} room
 * @param {string} name
 * @param {Blob} file
 */
export async function addShelf(room, name, file) {
  const before = room.project.shelf.papers.length;
  try {
    const text = await room.questions.ask("project", () => shelfText(room, name, file));
    if (!(await room.change([{ edit: "add_shelf", to: { text } }]))) return;
  } catch (error) {
    room.notices.tellError(error, { stays: true });
    return;
  }
  room.notices.tell(say("shelf.loaded", { count: room.project.shelf.papers.length - before }));
  await tellShort(room, room.project);
}

/**
 * Reads a shelf file, and takes in the pictures that it brings.
 *
 * @param {Workroom} room
 * @param {string} name
 * @param {Blob} file
 * @returns {Promise<string>} its text, with its pictures' keys as they are here
 */
async function shelfText(room, name, file) {
  const parcel = (await isZip(file, name)) ? await Parcel.open(file) : null;
  if (parcel && parcel.kind !== "shelf") throw new Refusal({ key: "shelf.none-in-file", figures: {} });
  const text = await (parcel ?? file).text();
  // Refused before anything is taken in.
  await room.desk.edit(room.project, "add_shelf", { text });
  return parcel ? withOwnKeys(parcel, text, room) : text;
}

/**
 * Saves all papers that the person has, with their pictures.
 *
 * @param {Workroom} room
 */
export async function saveStash(room) {
  const { shelf } = room.stash;
  const carried = await room.pictures.carried([{ shelf, page: { blocks: [] } }]);
  const { name, blob } = await fileOf("shelf", await room.desk.saveStash(shelf), carried);
  download(name, blob);
  tellLeft(room, carried);
}

/**
 * Adds the papers of a shelf file to those that the person has.
 *
 * @param {Workroom} room
 * @param {File} file
 */
export async function addToStash(room, file) {
  const text = await shelfText(room, file.name, file);
  await room.stash.change(async (shelf) => (await room.desk.addToStash(room.project, shelf, text)).stash);
}

/**
 * @param {Parcel} parcel
 * @param {string} text  of a shelf file that holds
 * @param {Workroom} room
 */
async function withOwnKeys(parcel, text, { project, pictures }) {
  const { shelf, ...envelope } = JSON.parse(text.replace(/^\ufeff/, ""));
  const own = await withPictures(parcel, { shelf, page: { ...project.page, blocks: [] } }, pictures);
  return JSON.stringify({ ...envelope, shelf: own.shelf });
}
