import { Choice } from "../../../parts/choice.js";
import { icon, make } from "../../../parts/dom.js";
import { field } from "../../../parts/field.js";
import { showTrouble } from "../../../parts/trouble.js";
import { say } from "../../../words/words.js";
import { ProjectDialog } from "../../project-dialog.js";
import { Corners } from "./corners.js";
import { newPaper } from "../paper-dialog.js";
import { wholeSheet } from "../picture-size.js";
import { readPhoto } from "../../../pictures/read-photo.js";
import { SizeFields } from "../size-fields.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */

/** Pictures come out at 2048 px a side at most; twice that keeps what the corners cut away from costing detail. */
const MOST_SIDE_PX = 4096;

/**
 * Makes a paper of a photo: reads it, asks where the paper lies in it and how large it really is.
 *
 * @param {Workroom} room
 * @param {File} file
 */
export async function paperFromPhoto(room, file) {
  const read = room.notices.tell(say("photo.reading"), { stays: true });
  try {
    const photo = await readPhoto(file, MOST_SIDE_PX);
    new PhotoDialog(room, photo, file, await wholeSheet(file, photo.fileWidth, photo.fileHeight)).open();
  } catch (error) {
    room.notices.tellError(error, { stays: true });
  } finally {
    read();
  }
}

class PhotoDialog {
  /**
   * @param {Workroom} room
   * @param {import("../../../pictures/read-photo.js").Photo} photo
   * @param {File} file  that the picture was read from
   * @param {import("../picture-size.js").SheetMm | null} sheet  its size where the whole picture is a sheet
   */
  constructor(room, { picture: photo }, file, sheet) {
    this.room = room;
    this.photo = photo;
    this.file = file;
    this.width = sheet?.width ?? 304.8;
    this.height = sheet?.height ?? 304.8;
    this.corners = new Corners(photo);
    this.part = /** @type {Choice<"whole" | "marked">} */ (
      new Choice("photo.part", (part) => this.#takePart(part === "whole"))
    );
    this.name = make("input", { type: "text", value: nameOf(file), maxlength: "80", autocomplete: "off" });
    this.size = new SizeFields(room, "photo.size", (width, height) => {
      this.width = width;
      this.height = height;
    });
    this.size.show(this.width, this.height);
    this.use = make(
      "button",
      { help: "photo.use", type: "button", class: "button-main", onclick: () => void this.#use() },
      say("photo.use"),
    );
    this.dialog = new ProjectDialog(room, say("photo.title"), { kind: "dialog-wide" });
    this.dialog.room.append(
      this.part.element,
      (this.about = make("p", { class: "soft" })),
      this.corners.element,
      make(
        "div",
        { class: "fields photo-fields" },
        field("paper.name", this.name),
        this.size.element,
        make(
          "button",
          { help: "photo.turn", type: "button", class: "button", onclick: () => this.corners.turn() },
          icon("turn"),
          say("photo.turn"),
        ),
      ),
    );
    this.#takePart(sheet !== null);
    this.dialog.foot.append(
      make("button", { help: "act.cancel", type: "button", class: "button", onclick: () => this.dialog.close() }, say("act.cancel")),
      this.use,
    );
  }

  open() {
    this.dialog.open();
  }

  /** @param {boolean} isWhole */
  #takePart(isWhole) {
    this.corners.takeWhole(isWhole);
    this.about.textContent = say(isWhole ? "photo.about-whole" : "photo.about");
    this.part.show(
      [
        { value: "whole", text: say("photo.whole"), help: "photo.whole" },
        { value: "marked", text: say("photo.marked"), help: "photo.marked" },
      ],
      isWhole ? "whole" : "marked",
    );
  }

  async #use() {
    const { room } = this;
    if (!(await this.size.settled()) || !this.dialog.isOpen) return;
    this.use.disabled = true;
    this.use.textContent = say("photo.working");
    try {
      const { picture, colour } = await room.desk.squarePicture(
        this.photo,
        this.corners.places,
        this.width,
        this.height,
      );
      if (!this.dialog.isOpen) return;
      const { key, kept } = await room.pictures.keep(picture);
      // The whole picture the right way up: its file holds the same at full resolution, for printing.
      const original = this.corners.isAsItCame ? await room.pictures.keepFile(this.file) : null;
      if (!this.dialog.isOpen) return;
      const paper = {
        ...newPaper(room.project.shelf.papers),
        name: this.name.value.trim() || say("photo.name"),
        colour,
        pattern: null,
        picture: key,
        original,
        picture_width_mm: this.width,
        sheet_width_mm: this.width,
        sheet_height_mm: this.height,
      };
      const refuse = (/** @type {unknown} */ error) => {
        showTrouble(this.dialog.trouble, error);
      };
      if (!(await room.change([{ edit: "put_paper", to: { paper } }], refuse))) return;
      this.dialog.close();
      room.session.bring([paper.id]);
      if (room.session.hand.place !== "papers") room.notices.tell(say("photo.on-shelf", { paper: paper.name }));
      if (!kept) room.notices.tell(say("photo.not-kept"), { stays: true });
    } catch (error) {
      showTrouble(this.dialog.trouble, error);
    } finally {
      this.use.disabled = false;
      this.use.textContent = say("photo.use");
    }
  }
}

/** @param {File} file */
function nameOf(file) {
  const stem = file.name.replace(/\.\w+$/, "").replace(/[_-]+/g, " ").trim();
  return stem && !/^(image|img|dsc|photo)?\s*\d*$/i.test(stem) ? stem.slice(0, 60) : say("photo.name");
}
