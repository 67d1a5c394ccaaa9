import { Choice } from "../../parts/choice.js";
import { icon, make } from "../../parts/dom.js";
import { LengthField } from "../../parts/length-field.js";
import { showTrouble } from "../../parts/trouble.js";
import { smaller } from "../../pictures/read-photo.js";
import { Cancelled } from "../../words/refusal.js";
import { say } from "../../words/words.js";
import { isByCamera, wholeSheet } from "../papers/picture-size.js";
import { SizeFields } from "../papers/size-fields.js";
import { ProjectDialog } from "../project-dialog.js";
import { CardPicture } from "./card-picture.js";
import { readPicture } from "./read-picture.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Tracing} Tracing */
/** @typedef {"dark" | "light" | "opaque" | "colour"} Card */

/** Px along the longer side of what is shown, and of what is looked at anew as choices move. */
const SHOWN_PX = 1600;
const LOOKED_AT_PX = 720;
/** How wide a design is taken to be whose picture tells no size (common practice, no published source). */
const USUAL_MM = 203.2;
/** Diameters of what is dropped, mm. */
const SPECKS = /** @type {const} */ ({ fine: 0.3, usual: 0.6, coarse: 1.5 });
const LEAST_THRESHOLD = 0.05;
/** Opacity below which a px shows what lies behind it. */
const SEE_THROUGH = 128;

/**
 * Makes a design of a picture: reads it, and asks what in it the card is and how large it really is.
 *
 * @param {Workroom} room
 * @param {File} file
 * @param {(svg: string) => void} take  takes the file of the design
 */
export async function designFromPicture(room, file, take) {
  const read = room.notices.tell(say("photo.reading"), { stays: true });
  try {
    const { picture, fileWidth, fileHeight } = await readPicture(file);
    const [shown, copy] = await Promise.all([smaller(picture, SHOWN_PX), smaller(picture, LOOKED_AT_PX)]);
    const sheet = await wholeSheet(file, fileWidth, fileHeight);
    const isPhoto = await isByCamera(file);
    new TracingDialog(room, { picture, shown, copy }, { width: sheet?.width ?? null, isPhoto }, take).open();
  } catch (error) {
    room.notices.tellError(error, { stays: true, name: file.name });
  } finally {
    read();
  }
}

class TracingDialog {
  /**
   * @param {Workroom} room
   * @param {{picture: ImageData, shown: ImageData, copy: ImageData}} pictures  the whole, and smaller copies
   * @param {{width: number | null, isPhoto: boolean}} told  by its file: mm of the whole picture, and whether a camera
   *   took it
   * @param {(svg: string) => void} take
   */
  constructor(room, pictures, { width, isPhoto }, take) {
    this.room = room;
    this.pictures = pictures;
    this.take = take;
    this.width = width ?? USUAL_MM;
    this.sheet = { width: 210, height: 297 };
    if (pictures.picture.width > pictures.picture.height) this.sheet = { width: 297, height: 210 };
    this.isMarked = false;
    /** What the person said; null leaves it to the picture. @type {Card | null} */
    this.card = null;
    /** What the picture was last taken for. @type {Card} */
    this.likely = "dark";
    /** Of the card, where that is what tells; null before one is picked. @type {string | null} */
    this.colour = null;
    this.hasSeeThrough = pictures.copy.data.some((value, at) => at % 4 === 3 && value < SEE_THROUGH);
    /** @type {number | null} */
    this.threshold = null;
    /** @type {keyof typeof SPECKS} */
    this.specks = "usual";
    this.looking = false;
    this.outdated = false;
    /** @type {AbortController | null} */
    this.tracing = null;
    this.shown = new CardPicture(
      this.pictures.shown,
      () => this.#look(),
      (colour) => {
        this.colour = colour;
        this.#look();
      },
    );
    this.shown.corners.takeWhole(true);
    this.part = /** @type {Choice<"whole" | "marked">} */ (
      new Choice("trace.part", (part) => this.#takePart(part === "marked"))
    );
    this.about = make("p", { class: "soft small" });
    this.cards = /** @type {Choice<Card>} */ (
      new Choice("trace.card", (card) => {
        this.card = card;
        this.threshold = null;
        this.#look();
      })
    );
    this.pick = make("p", { class: "soft small" }, say("trace.pick"));
    this.slider = make("input", {
      help: "trace.threshold",
      type: "range",
      min: LEAST_THRESHOLD,
      max: 1 - LEAST_THRESHOLD,
      step: 0.01,
      class: "slider",
      "aria-label": say("trace.threshold"),
      oninput: () => {
        this.threshold = 1 - this.slider.valueAsNumber;
        this.#look();
      },
    });
    this.small = /** @type {Choice<keyof typeof SPECKS>} */ (
      new Choice("trace.specks", (specks) => {
        this.specks = specks;
        this.#look();
      })
    );
    this.across = new LengthField("trace.width", {
      read: (text) => room.desk.readLength(text, room.unit),
      step: (unit) => (unit === "in" ? 6.35 : 5),
      change: (mm) => {
        this.width = mm;
        this.#look();
      },
    });
    this.size = new SizeFields(room, "trace.size", (width, height) => {
      this.sheet = { width, height };
      this.#look();
    });
    this.found = make("output", { class: "trace-found", "aria-live": "polite" });
    this.progress = make("progress", { class: "trace-progress", max: 5, value: 0, hidden: true });
    this.turn = make(
      "button",
      { help: "photo.turn", type: "button", class: "button", onclick: () => this.shown.corners.turn() },
      icon("turn"),
      say("photo.turn"),
    );
    this.dialog = new ProjectDialog(room, say("trace.title"), { kind: "dialog-wide" });
    this.dialog.room.append(
      make(
        "div",
        { class: "trace" },
        make("div", { class: "trace-picture" }, this.shown.element, this.found),
        make(
          "div",
          { class: "trace-choices" },
          this.part.element,
          this.about,
          this.cards.element,
          this.pick,
          make(
            "div",
            { class: "trace-threshold" },
            make("p", { class: "soft small", "aria-hidden": "true" }, say("trace.threshold")),
            make(
              "div",
              { class: "likeness-ends", "aria-hidden": "true" },
              make("span", {}, say("trace.less")),
              make("span", {}, say("trace.more")),
            ),
            this.slider,
          ),
          this.small.element,
          this.across.element,
          this.size.element,
          this.turn,
        ),
      ),
    );
    this.stop = make(
      "button",
      { help: "act.cancel", type: "button", class: "button", onclick: () => this.#stop() },
      say("act.cancel"),
    );
    this.use = make(
      "button",
      { help: "trace.use", type: "button", class: "button-main", onclick: () => void this.#use() },
      say("trace.use"),
    );
    this.dialog.foot.append(this.progress, this.stop, this.use);
    this.across.show(this.width, room.unit);
    this.size.show(this.sheet.width, this.sheet.height);
    this.#takePart(isPhoto);
    this.dialog.element.addEventListener("close", () => this.tracing?.abort());
  }

  open() {
    this.dialog.open();
  }

  /** @param {boolean} isMarked */
  #takePart(isMarked) {
    this.isMarked = isMarked;
    this.shown.corners.takeWhole(!isMarked);
    this.#look();
  }

  #showChoices() {
    const { cards, small, part } = this;
    part.show(
      [
        { value: "whole", text: say("trace.whole"), help: "trace.whole" },
        { value: "marked", text: say("trace.marked"), help: "trace.marked" },
      ],
      this.isMarked ? "marked" : "whole",
    );
    this.about.textContent = say(this.isMarked ? "trace.about-marked" : "trace.about-whole");
    cards.show(
      [
        { value: "dark", text: say("trace.dark") },
        { value: "light", text: say("trace.light") },
        ...(this.hasSeeThrough ? [{ value: /** @type {const} */ ("opaque"), text: say("trace.opaque") }] : []),
        { value: "colour", text: say("trace.colour"), ...(this.colour ? { colour: this.colour } : {}) },
      ],
      this.card ?? this.likely,
    );
    small.show(
      [
        { value: "fine", text: say("trace.specks-fine") },
        { value: "usual", text: say("trace.specks-usual") },
        { value: "coarse", text: say("trace.specks-coarse") },
      ],
      this.specks,
    );
    const isColour = this.card === "colour";
    this.pick.hidden = !isColour;
    this.shown.picks = isColour;
    this.shown.element.classList.toggle("picks", isColour);
    this.across.element.hidden = this.isMarked;
    this.size.element.hidden = !this.isMarked;
    this.turn.hidden = !this.isMarked;
  }

  /** Looks anew at the copy, once it is done with what it looks at. */
  #look() {
    this.#showChoices();
    if (this.looking) {
      this.outdated = true;
      return;
    }
    void this.#lookAnew();
  }

  async #lookAnew() {
    const { copy, shown } = this.pictures;
    this.looking = true;
    this.found.textContent ||= say("trace.looking");
    this.shown.element.classList.add("looks-anew");
    do {
      this.outdated = false;
      try {
        const seen = await this.room.desk.lookAtPicture(copy, shown.width, this.#choices);
        this.likely = /** @type {Card} */ (seen.card);
        if (this.threshold === null) this.slider.value = String(1 - seen.threshold);
        this.shown.show(seen.isCard, copy.width, copy.height);
        this.#tell(seen);
        showTrouble(this.dialog.trouble, null);
      } catch (error) {
        this.found.textContent = "";
        showTrouble(this.dialog.trouble, error);
      }
      this.#showChoices();
    } while (this.outdated && this.dialog.isOpen);
    this.looking = false;
    this.shown.element.classList.remove("looks-anew");
  }

  /** @param {import("../../desk/types.js").SeenPicture} seen */
  #tell({ openings, parts, dropped }) {
    const told = [say("trace.openings", { count: openings })];
    if (parts !== 1) told.push(say("trace.parts", { count: parts }));
    if (dropped > 0) told.push(say("trace.dropped", { count: dropped }));
    this.found.textContent = told.join(" · ");
  }

  /** @returns {Tracing} */
  get #choices() {
    const { isMarked, sheet } = this;
    return {
      card: this.card === "colour" && !this.colour ? null : this.card,
      colour: this.colour ?? "#000000",
      threshold: this.threshold,
      corners: isMarked ? this.shown.corners.places : null,
      width_mm: isMarked ? sheet.width : this.width,
      height_mm: isMarked ? sheet.height : null,
      speck_mm: SPECKS[this.specks],
    };
  }

  async #use() {
    const { pictures, room } = this;
    const isLength = this.isMarked ? await this.size.settled() : await this.across.settled;
    if (!isLength || !this.dialog.isOpen || this.tracing) return;
    const tracing = new AbortController();
    this.#work(tracing);
    showTrouble(this.dialog.trouble, null);
    try {
      const { svg } = await room.desk.tracePicture(
        pictures.picture,
        pictures.shown.width,
        { ...this.#choices, card: this.#choices.card ?? this.likely },
        ({ done }) => (this.progress.value = done),
        tracing.signal,
      );
      this.#work(null);
      this.take(svg);
    } catch (error) {
      this.#work(null);
      if (!(error instanceof Cancelled)) showTrouble(this.dialog.trouble, error);
    }
  }

  /** Shows that the picture is traced, or no more. @param {AbortController | null} tracing */
  #work(tracing) {
    this.tracing = tracing;
    this.progress.value = 0;
    this.progress.hidden = tracing === null;
    this.use.disabled = tracing !== null;
    this.use.textContent = say(tracing ? "trace.working" : "trace.use");
    this.stop.textContent = say(tracing ? "act.stop" : "act.cancel");
  }

  /** Ends the work, else closes. */
  #stop() {
    if (this.tracing) this.tracing.abort();
    else this.dialog.close();
  }
}
