import { icon, make, write } from "../../parts/dom.js";
import { Fold } from "../../parts/fold.js";
import { toTop } from "../../parts/to-top.js";
import { sizePicture } from "../../stage/size-picture.js";
import { writeAbout } from "../../words/lengths.js";
import { say } from "../../words/words.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */

const PICTURE_PX = 152;

/** How the file was read and how large it is: one card, open when a design comes in, which one tap closes. */
export class ArrivalPart {
  /**
   * @param {Workroom} room
   * @param {HTMLElement} reading  the choice of readings
   * @param {HTMLElement} guesses  sizes to choose from, where the file tells none
   * @param {HTMLElement} size  the size as it is set
   */
  constructor(room, reading, guesses, size) {
    this.room = room;
    /** What the picture shows. @type {readonly unknown[]} */
    this.shown = [];
    /** The project that the card was opened or closed for. */
    this.of = "";
    this.caption = make("figcaption", { class: "soft small" });
    this.picture = make("figure", { class: "size-picture" }, this.caption);
    /** Stands in the shelf's foot, so that it covers nothing of the card. */
    this.right = make(
      "button",
      { help: "arrival.right", type: "button", class: "button-main button-wide arrival-right", onclick: () => this.close() },
      icon("check"),
      say("arrival.right"),
    );
    this.fold = new Fold(say("arrival.title"), reading, make("div", { class: "arrival-size" }, this.picture, size), guesses);
    this.element = this.fold.element;
    this.element.classList.add("arrival");
  }

  /** Opens the card at one of its controls. @param {HTMLElement | null} control */
  open(control) {
    this.element.open = true;
    control?.focus();
  }

  /** Closes the card; the keyboard goes on at its line. */
  close() {
    const held = this.right === document.activeElement || this.element.contains(document.activeElement);
    this.element.open = false;
    this.room.session.take({ arrived: null });
    toTop(this.element);
    if (held) this.element.querySelector("summary")?.focus();
  }

  update() {
    const { project, shapes, unit, session } = this.room;
    const isNew = session.hand.arrived === project.id;
    if (this.of !== project.id) {
      this.of = project.id;
      this.element.open = isNew;
    }
    this.right.hidden = !isNew;
    if (!shapes) return;
    const { width_mm: width, height_mm: height } = shapes.design;
    const { width_mm: across, height_mm: down } = project.page;
    const shown = [shapes, across, down, unit];
    if (shown.every((value, at) => value === this.shown[at])) return;
    this.shown = shown;
    const size = writeAbout([width, height], unit);
    this.fold.show(size);
    write(this.caption, say("arrival.size", { page: writeAbout([across, down], unit) }));
    this.picture.replaceChildren(sizePicture(PICTURE_PX, shapes.card, [width, height], [across, down]), this.caption);
  }
}
