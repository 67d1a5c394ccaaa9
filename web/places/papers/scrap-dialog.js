import { Choice } from "../../parts/choice.js";
import { make } from "../../parts/dom.js";
import { showTrouble } from "../../parts/trouble.js";
import { writeAbout } from "../../words/lengths.js";
import { say } from "../../words/words.js";
import { ProjectDialog } from "../project-dialog.js";
import { readPhoto } from "./read-photo.js";
import { ScrapPicture } from "./scrap-picture.js";
import { SizeFields } from "./size-fields.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {Omit<import("../../desk/types.js").Scrap, "id" | "paper">} Cut */

/** Fine enough for half a millimetre on a table of 30 cm, and soon looked through. */
const MOST_SIDE_PX = 2000;
/** A card of size ID-1 (ISO/IEC 7810). @type {[number, number]} */
const CARD_MM = [85.6, 53.98];
/** A ruler of 30 cm, about (common practice, no published source). @type {[number, number]} */
const RULER_MM = [310, 35];

/**
 * Makes a scrap of any shape of a photo of it beside something of known size.
 *
 * @param {Workroom} room
 * @param {File} file
 * @param {(cut: Cut) => void} use
 */
export async function scrapFromPhoto(room, file, use) {
  const working = room.notices.tell(say("scrap.working"), { stays: true });
  try {
    const { picture } = await readPhoto(file, MOST_SIDE_PX);
    const found = await room.desk.findScrap(picture, CARD_MM);
    new ScrapDialog(room, picture, found, use).open();
  } catch (error) {
    room.notices.tellError(error, { stays: true });
  } finally {
    working();
  }
}

class ScrapDialog {
  /**
   * @param {Workroom} room
   * @param {ImageData} photo
   * @param {Awaited<ReturnType<import("../../desk/desk.js").Desk["findScrap"]>>} found
   * @param {(cut: Cut) => void} use
   */
  constructor(room, photo, found, use) {
    this.room = room;
    this.take = use;
    /** @type {Cut | null} */
    this.cut = null;
    this.isCard = true;
    /** @type {[number, number]} */
    this.other = RULER_MM;
    this.asked = 0;
    this.picture = new ScrapPicture(photo, () => void this.#measure());
    this.picture.show(found.outline, found.corners);
    this.known = /** @type {Choice<"card" | "other">} */ (new Choice("scrap.known", (known) => this.#choose(known === "card")));
    this.size = new SizeFields(room, "photo.size", (width, height) => {
      this.other = [width, height];
      void this.#measure();
    });
    this.told = make("p", { role: "status" });
    this.without = make(
      "button",
      { help: "scrap.remove-point", type: "button", class: "button", onclick: () => this.picture.remove() },
      say("scrap.remove-point"),
    );
    this.use = make("button", { help: "scrap.use", type: "button", class: "button-main", onclick: () => this.#use() }, say("scrap.use"));
    this.dialog = new ProjectDialog(room, say("scrap.title"), { kind: "dialog-wide" });
    this.dialog.room.append(
      make("p", { class: "soft" }, say("scrap.about")),
      found.corners ? "" : make("p", {}, say("scrap.no-card")),
      this.picture.element,
      this.told,
      this.known.element,
      this.size.element,
    );
    this.dialog.foot.append(
      make("button", { help: "act.cancel", type: "button", class: "button", onclick: () => this.dialog.close() }, say("act.cancel")),
      this.without,
      this.use,
    );
    this.#choose(true);
  }

  open() {
    this.dialog.open();
  }

  /** @param {boolean} isCard */
  #choose(isCard) {
    this.isCard = isCard;
    this.known.show(
      [
        { value: "card", text: say("scrap.card"), help: "scrap.card" },
        { value: "other", text: say("scrap.other"), help: "scrap.other" },
      ],
      isCard ? "card" : "other",
    );
    this.size.element.hidden = isCard;
    this.size.show(...this.other);
    void this.#measure();
  }

  /** Asks the package how large the scrap is as it is marked now. */
  async #measure() {
    const asked = ++this.asked;
    this.use.disabled = true;
    showTrouble(this.dialog.trouble, null);
    try {
      const { outline, corners } = this.picture;
      const cut = await this.room.desk.measureScrap(outline, corners, this.isCard ? CARD_MM : this.other);
      if (asked !== this.asked) return;
      this.cut = cut;
      this.use.disabled = false;
      this.told.textContent = say("scrap.size", { size: writeAbout([cut.width_mm, cut.height_mm], this.room.unit) });
    } catch (error) {
      if (asked !== this.asked) return;
      this.told.textContent = "";
      showTrouble(this.dialog.trouble, error);
    }
  }

  #use() {
    if (!this.cut) return;
    this.take(this.cut);
    this.dialog.close();
  }
}
