import { make, write } from "../../../parts/dom.js";
import { field } from "../../../parts/field.js";
import { megabytes } from "../../../parts/files/megabytes.js";
import { sentenceOf } from "../../../words/sentence.js";
import { Toggle } from "../../../parts/toggle.js";
import { isZip, Zip } from "../../../project/travel/zip.js";
import { say } from "../../../words/words.js";
import { ProjectDialog } from "../../project-dialog.js";
import { newPaper } from "../paper-dialog.js";
import { wholeSheet } from "../picture-size.js";
import { readPhoto, smaller } from "../../../pictures/read-photo.js";
import { SizeFields } from "../size-fields.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */
/** @typedef {import("../../../desk/types.js").Paper} Paper */

/** Px of the longer side of what is shown: a sheet of 12 in at 85 px per inch, finer than a tablet shows it whole. */
const SHOWN_PX = 1024;
/** Px from which a picture's colour is told as well as from all of it. */
const COLOUR_PX = 256;
const MOST_FILE_BYTES = 256 * 1024 * 1024;
/** @type {Readonly<Record<string, string>>} */
const TYPES = { jpg: "image/jpeg", jpeg: "image/jpeg", png: "image/png", webp: "image/webp", gif: "image/gif", avif: "image/avif" };

/**
 * Makes papers of many pictures at once, or of those in a zip.
 *
 * @param {Workroom} room
 * @param {readonly File[]} files
 */
export async function papersFromFiles(room, files) {
  try {
    const pictures = [];
    let name = "";
    for (const file of files) {
      if (!(await isZip(file, file.name))) pictures.push(file);
      else {
        name ||= stemOf(file.name);
        pictures.push(...(await unpacked(file)));
      }
    }
    new CollectionDialog(room, pictures, name).open();
  } catch (error) {
    room.notices.tell(sentenceOf(error), { stays: true });
  }
}

class CollectionDialog {
  /**
   * @param {Workroom} room
   * @param {readonly File[]} files
   * @param {string} name  of the collection, where it is told
   */
  constructor(room, files, name) {
    this.room = room;
    this.files = files;
    /** The reading under way. @type {AbortController | null} */
    this.reading = null;
    this.size = { width: 304.8, height: 304.8 };
    this.keepsFiles = true;
    const bytes = files.reduce((sum, file) => sum + file.size, 0);
    this.dialog = new ProjectDialog(room, say("collection.title", { count: files.length }));
    this.name = make("input", { type: "text", value: name, maxlength: "80", autocomplete: "off" });
    this.sizes = new SizeFields(room, "collection.size", (width, height) => {
      this.size = { width, height };
    });
    this.sizes.show(304.8, 304.8);
    this.keeps = new Toggle("collection.keep-files", (on) => (this.keepsFiles = on), { size: megabytes(bytes) });
    this.keeps.show(true);
    this.bar = make("progress", { class: "bar", hidden: true, max: Math.max(1, files.length), "aria-label": say("collection.do") });
    this.status = make("p", { class: "soft", role: "status" });
    this.begin = make("button", { help: "collection.do", type: "button", class: "button-main", onclick: () => void this.#take() }, say("collection.do"));
    this.stop = make("button", { help: "act.stop", type: "button", class: "button", hidden: true, onclick: () => this.reading?.abort() }, say("act.stop"));
    this.dialog.room.append(
      field("paper.collection", this.name),
      this.sizes.element,
      make("p", { class: "soft small" }, say("collection.size-about")),
      this.keeps.element,
      this.bar,
      this.status,
    );
    this.dialog.foot.append(
      make("button", { help: "act.cancel", type: "button", class: "button", onclick: () => this.dialog.close() }, say("act.cancel")),
      this.stop,
      this.begin,
    );
    this.dialog.element.addEventListener("close", () => this.reading?.abort());
    void this.#seeRoom(bytes);
  }

  open() {
    this.dialog.open();
  }

  /** Where the device has no room for the files, they are not kept unless the person wants it. @param {number} bytes */
  async #seeRoom(bytes) {
    const { quota, usage } = (await navigator.storage?.estimate?.().catch(() => null)) ?? {};
    if (quota === undefined || usage === undefined || quota - usage > 2 * bytes) return;
    this.keepsFiles = false;
    this.keeps.show(false);
  }

  async #take() {
    if (!(await this.sizes.settled()) || !this.dialog.isOpen) return;
    const { room, dialog } = this;
    this.reading = new AbortController();
    this.#show(true);
    const told = { twins: 0, unread: 0, small: 0, unkept: 0 };
    const papers = await this.#papers(this.reading.signal, told);
    const isOpen = dialog.isOpen;
    this.reading = null;
    this.#show(false);
    if (!isOpen) return;
    const edits = papers.map((paper) => ({ edit: "put_paper", to: { paper } }));
    const refuse = (/** @type {unknown} */ error) => {
      dialog.trouble.textContent = sentenceOf(error);
    };
    if (edits.length > 0 && !(await room.change(edits, refuse))) return;
    dialog.close();
    if (papers.length > 0) room.session.bring(papers.map(({ id }) => id));
    const sentences = [say("collection.done", { count: papers.length })];
    const upright = papers.filter(({ direction }) => direction !== "any").length;
    if (upright > 0) sentences.push(say("collection.directed", { count: upright }));
    if (told.twins > 0) sentences.push(say("collection.twins", { count: told.twins }));
    if (told.unread > 0) sentences.push(say("collection.unread", { count: told.unread }));
    if (told.unkept > 0) sentences.push(say("collection.unkept", { count: told.unkept }));
    else if (told.small > 0) sentences.push(say("collection.small", { count: told.small }));
    room.notices.tell(sentences.join(" "), { stays: sentences.length > 1, here: true });
  }

  /**
   * Reads one picture after another, so that a tablet never holds more than one unpacked.
   *
   * @param {AbortSignal} signal
   * @param {{twins: number, unread: number, small: number, unkept: number}} told
   * @returns {Promise<Paper[]>} those read until it was stopped
   */
  async #papers(signal, told) {
    /** @type {Paper[]} */
    const papers = [];
    const seen = new Set();
    const collection = this.name.value.trim();
    for (const [at, file] of this.files.entries()) {
      if (signal.aborted) break;
      this.bar.value = at;
      write(this.status, say("collection.reading", { done: at + 1, count: this.files.length, name: file.name }));
      try {
        const print = await printOf(file);
        if (seen.has(print)) {
          told.twins += 1;
          continue;
        }
        seen.add(print);
        const { paper, kept } = await this.#paper(file, collection, papers);
        const { papers: held } = this.room.stash.shelf;
        if (held.some((one) => one.name === paper.name && one.collection === collection && one.picture !== null && collection !== "")) {
          told.twins += 1;
          continue;
        }
        if (this.keepsFiles) paper.original = await this.room.pictures.keepFile(file);
        if (this.keepsFiles && paper.original === null) told.small += 1;
        if (!kept) told.unkept += 1;
        papers.push(paper);
      } catch {
        told.unread += 1;
      }
    }
    return papers;
  }

  /**
   * @param {File} file
   * @param {string} collection
   * @param {readonly Paper[]} others  that come with it
   * @returns {Promise<{paper: Paper, kept: boolean}>} and whether its picture outlives this page
   */
  async #paper(file, collection, others) {
    const { desk, pictures, project } = this.room;
    const { picture, fileWidth, fileHeight } = await readPhoto(file, SHOWN_PX);
    const sheet = (await wholeSheet(file, fileWidth, fileHeight)) ?? this.#asked(fileWidth / fileHeight);
    const few = await smaller(picture, COLOUR_PX);
    const [width, height] = [few.width, few.height];
    const corners = /** @type {import("../../../desk/types.js").Point[]} */ ([[0, 0], [width, 0], [width, height], [0, height]]);
    const { colour, direction } = await desk.squarePicture(few, corners, sheet.width, sheet.height);
    const { key, kept } = await pictures.keep(picture);
    const paper = {
      ...newPaper([...project.shelf.papers, ...others]),
      name: stemOf(file.name) || say("photo.name"),
      colour,
      direction,
      collection,
      pattern: null,
      picture: key,
      picture_width_mm: sheet.width,
      sheet_width_mm: sheet.width,
      sheet_height_mm: sheet.height,
    };
    return { paper, kept };
  }

  /**
   * The size that was asked for, in the picture's proportions: as wide as said.
   *
   * @param {number} ratio  of width to height
   */
  #asked(ratio) {
    const { width, height } = this.size;
    const isAlike = Math.abs(ratio - width / height) < 0.02 * ratio;
    return isAlike ? this.size : { width, height: width / ratio };
  }

  /** @param {boolean} reading */
  #show(reading) {
    this.bar.hidden = !reading;
    this.stop.hidden = !reading;
    this.begin.hidden = reading;
  }
}

/**
 * The pictures in a zip, as they were named there.
 *
 * @param {File} file
 * @returns {Promise<File[]>}
 */
async function unpacked(file) {
  const zip = await Zip.open(file);
  const pictures = [];
  for (const path of zip.names.sort()) {
    const name = path.split("/").at(-1) ?? "";
    const type = TYPES[name.split(".").at(-1)?.toLowerCase() ?? ""];
    // Some systems put small companions beside each file, under names that begin so.
    if (!type || name.startsWith(".")) continue;
    pictures.push(new File([await zip.blob(path, MOST_FILE_BYTES)], name, { type }));
  }
  return pictures;
}

/** What tells a file's content from any other's (SHA-256). @param {Blob} file */
async function printOf(file) {
  const digest = await crypto.subtle.digest("SHA-256", await file.arrayBuffer());
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** A file's name as a person would say it. @param {string} name */
function stemOf(name) {
  return name.replace(/\.\w+$/, "").replace(/[_-]+/g, " ").trim().slice(0, 60);
}
