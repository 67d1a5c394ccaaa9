import { Choice } from "../../../parts/choice.js";
import { make } from "../../../parts/dom.js";
import { showTrouble } from "../../../parts/trouble.js";
import { writeAbout } from "../../../words/lengths.js";
import { say } from "../../../words/words.js";
import { ProjectDialog } from "../../project-dialog.js";
import { readPhoto } from "../../../pictures/read-photo.js";
import { ScrapPicture } from "./scrap-picture.js";
import { SizeFields } from "../size-fields.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */
/** @typedef {Omit<import("../../../desk/types.js").Scrap, "id" | "paper">} Cut */

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
    const dialog = new ScrapDialog(room, picture, use);
    await dialog.seek();
    dialog.open();
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
   * @param {(cut: Cut) => void} use
   */
  constructor(room, photo, use) {
    this.room = room;
    this.take = use;
    /** @type {Cut | null} */
    this.cut = null;
    this.photo = photo;
    /** The size that was looked for last. @type {[number, number] | null} */
    this.sought = null;
    this.isCard = true;
    /** @type {[number, number]} */
    this.other = RULER_MM;
    this.asked = 0;
    this.known = /** @type {Choice<"card" | "other">} */ (new Choice("scrap.known", (known) => this.#choose(known === "card")));
    this.size = new SizeFields(room, "photo.size", (width, height) => {
      this.other = [width, height];
      void this.seek();
    });
    this.told = make("p", { role: "status" });
    this.lost = make("p", { hidden: true }, say("scrap.no-card"));
    this.without = make(
      "button",
      { help: "scrap.remove-point", type: "button", class: "button", onclick: () => this.picture.remove() },
      say("scrap.remove-point"),
    );
    this.use = make("button", { help: "scrap.use", type: "button", class: "button-main", onclick: () => this.#use() }, say("scrap.use"));
    this.picture = new ScrapPicture(photo, {
      settle: () => void this.#measure(),
      choose: () => {
        this.without.hidden = !this.picture?.canRemove;
      },
    });
    this.without.hidden = !this.picture.canRemove;
    this.dialog = new ProjectDialog(room, say("scrap.title"), { kind: "dialog-wide" });
    this.dialog.room.append(
      make("p", { class: "soft" }, say("scrap.about")),
      this.lost,
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
    this.#show();
  }

  open() {
    this.dialog.open();
  }

  /** @param {boolean} isCard */
  #choose(isCard) {
    this.isCard = isCard;
    this.#show();
    void this.seek();
  }

  #show() {
    const { isCard } = this;
    this.known.show(
      [
        { value: "card", text: say("scrap.card"), help: "scrap.card" },
        { value: "other", text: say("scrap.other"), help: "scrap.other" },
      ],
      isCard ? "card" : "other",
    );
    this.size.element.hidden = isCard;
    this.size.show(...this.other);
  }

  get #known() {
    return this.isCard ? CARD_MM : this.other;
  }

  /** Looks for the scrap, and for what lies beside it of the size told; what was marked by hand stays. */
  async seek() {
    const known = this.#known;
    if (!this.picture.isByHand && known !== this.sought) {
      this.sought = known;
      try {
        const found = await this.room.desk.findScrap(this.photo, known);
        if (known !== this.sought || this.picture.isByHand) return;
        this.picture.show(found.outline, found.corners);
      } catch (error) {
        // The outline and the corners can be drawn by hand all the same.
        showTrouble(this.dialog.trouble, error);
      }
    }
    await this.#measure();
  }

  /** Asks the package how large the scrap is as it is marked now. */
  async #measure() {
    const asked = ++this.asked;
    this.use.disabled = true;
    this.lost.hidden = this.picture.isMarked;
    if (!this.picture.isMarked) {
      this.told.textContent = "";
      return;
    }
    showTrouble(this.dialog.trouble, null);
    try {
      const { outline, corners } = this.picture;
      const cut = await this.room.desk.measureScrap(outline, corners, this.#known);
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
