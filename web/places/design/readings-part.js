import { make } from "../../parts/dom.js";
import { cardPicture } from "../../stage/spot-picture.js";
import { say } from "../../words/words.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").PossibleReading} PossibleReading */
/** @typedef {import("../../words/words.js").Key} Key */

const PICTURE_PX = 64;
const LIKELY = 4;

/** The ways in which the file can be read, as pictures, the likeliest first; one tap takes another one. */
export class ReadingsPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    this.showsAll = false;
    /** @type {readonly unknown[]} */
    this.shown = [];
    this.of = "";
    this.row = make("div", { class: "readings" });
    this.more = make("button", { help: "reading.more", type: "button", class: "button-quiet", onclick: () => this.#showAll() });
    this.element = make("fieldset", { class: "choice" }, make("legend", {}, say("design.reading")), this.row, this.more);
    this.element.hidden = true;
  }

  /** @param {readonly PossibleReading[] | null} readings  null while they are sought: those of before stay */
  update(readings) {
    const { bench, project } = this.room;
    const { design } = bench;
    this.element.hidden = (design?.habits.length ?? 0) < 2 && (design?.colours.length ?? 0) < 2;
    // What was read before is no reading of this file.
    if (project.source.svg !== this.of) {
      this.of = project.source.svg;
      this.showsAll = false;
      this.more.hidden = true;
      this.row.replaceChildren(make("p", { class: "soft" }, say("reading.seeking")));
    }
    if (!readings || !design) return;
    const { card_colour, opening_colour, to_page, card_number } = project.reading;
    const seen = [readings, design.habit, card_colour, opening_colour, to_page, card_number, this.showsAll];
    if (seen.every((value, at) => value === this.shown[at])) return;
    this.shown = seen;
    this.element.hidden = readings.length < 2;
    const now = {
      habit: design.habit,
      card_colour: card_colour ?? design.colours[0] ?? null,
      opening_colour: opening_colour ?? design.colours.at(-1) ?? null,
      to_page: to_page ?? readings[0]?.choice.to_page ?? false,
      card_number,
    };
    const chosen = readings.findIndex((each) => isChosen(each, now));
    const most = this.showsAll ? readings.length : Math.max(LIKELY, chosen + 1);
    const held = this.row.contains(document.activeElement);
    this.row.replaceChildren(...readings.slice(0, most).map((each, at) => this.#option(each, at === chosen)));
    if (held) /** @type {HTMLElement | null} */ (this.row.querySelector("input:checked"))?.focus();
    this.more.hidden = readings.length <= most;
    this.more.textContent = say("reading.more", { count: readings.length - most });
  }

  #showAll() {
    this.showsAll = true;
    this.room.session.dispatchEvent(new Event("change"));
  }

  /**
   * @param {PossibleReading} reading
   * @param {boolean} checked
   */
  #option({ choice, openings, card, width, height }, checked) {
    const name = nameOf(choice);
    const input = make("input", {
      type: "radio",
      class: "unseen",
      name: "reading",
      onchange: () => void this.room.change([{ edit: "read_again", to: choice }]),
    });
    input.checked = checked;
    const colour = choice.card_colour ?? choice.opening_colour;
    const patch = colour && make("i", { class: "reading-colour" });
    if (patch) patch.style.background = colour;
    return make(
      "label",
      { help: "kind-reading", class: "choice-option reading" },
      input,
      make(
        "span",
        {},
        cardPicture(PICTURE_PX, card, width, height),
        make("b", {}, patch, say("design.count", { count: openings })),
        make("small", {}, name),
      ),
    );
  }
}

/** @param {PossibleReading["choice"]} choice */
function nameOf({ habit, to_page, card_number }) {
  const name = say(/** @type {Key} */ (`habit.${habit}`));
  if (to_page) return say("reading.to-page", { habit: name });
  return card_number === null ? name : say("reading.card-number", { number: card_number });
}

/**
 * @param {PossibleReading} reading
 * @param {{habit: string | null, card_colour: string | null, opening_colour: string | null,
 *   to_page: boolean, card_number: number | null}} now
 */
function isChosen({ choice }, now) {
  return (
    choice.habit === now.habit &&
    choice.to_page === now.to_page &&
    choice.card_number === now.card_number &&
    (choice.card_colour === null || choice.card_colour === now.card_colour) &&
    (choice.opening_colour === null || choice.opening_colour === now.opening_colour)
  );
}
