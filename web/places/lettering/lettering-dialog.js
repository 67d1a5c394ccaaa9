import { fileButton } from "../../parts/files/file-button.js";
import { icon, make } from "../../parts/dom.js";
import { showTrouble } from "../../parts/trouble.js";
import { graft } from "../../project/graft.js";
import { say } from "../../words/words.js";
import { ProjectDialog } from "../project-dialog.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Lettering} Lettering */
/** @typedef {import("../../desk/types.js").Words} Words */

/** Files of typefaces by the ends of names; browsers know no kinds for all. */
const TYPEFACES = ".ttf,.otf,.ttc,.woff,.woff2";
const STAND_IN = "Arimo";
/** So many of one typeface show what it is about. */
const MOST_SAMPLES = 3;

/**
 * Asks what words in the open design are drawn in.
 *
 * @param {Workroom} room
 */
export async function letterOpenDesign(room) {
  try {
    const words = await room.desk.words(room.project);
    new LetteringDialog(room, words, (lettering) => drawIn(room, lettering)).open();
  } catch (error) {
    room.notices.tellError(error);
  }
}

/**
 * Draws words in the open design, and tells what of them is not in its own typeface then.
 *
 * @param {Workroom} room
 * @param {Lettering} lettering
 * @returns {Promise<Words[]>} what is not
 */
export async function drawIn(room, lettering) {
  /** @type {Words[]} */
  let words = [];
  /** @type {unknown} */
  let trouble = null;
  const ask = async (/** @type {import("../../desk/types.js").Project} */ project) => {
    const answer = await room.desk.letter(project, { ...lettering, typefaces: lettering.typefaces.map((each) => each.slice(0)) });
    words = answer.words;
    return graft(project, answer.project);
  };
  await room.become(ask, (error) => (trouble = error));
  if (trouble) throw trouble;
  tell(room, words);
  return words;
}

/** @param {Workroom} room  @param {readonly Words[]} words  not in their own typeface */
function tell(room, words) {
  const missing = words.filter((each) => !each.drawn_in).length;
  const [other] = words.flatMap((each) => each.drawn_in || []);
  if (missing > 0) room.notices.tell(say("letter.missing", { count: missing }));
  else room.notices.tell(other ? say("letter.drawn-in", { typeface: other }) : say("letter.drawn"));
}

/** Shows words that lack their typeface, and takes one for them. */
export class LetteringDialog {
  /**
   * @param {Workroom} room
   * @param {readonly Words[]} words
   * @param {(lettering: Lettering) => Promise<readonly Words[]>} draw
   */
  constructor(room, words, draw) {
    this.draw = draw;
    this.dialog = new ProjectDialog(room, say("letter.title"));
    this.list = make("ul", { class: "letter-words" });
    this.ours = make(
      "button",
      { help: "letter.ours", type: "button", class: "button trace-way", onclick: () => void this.#use({ typefaces: [], standIn: true }) },
      icon("edit"),
      make("span", {}, make("strong", {}, say("letter.ours", { typeface: STAND_IN })), make("small", { class: "soft" }, say("letter.ours-about"))),
    );
    this.add = fileButton("open", "letter.add", { accept: TYPEFACES, multiple: true }, (_, files) => void this.#add(files));
    this.working = make("progress", { class: "bar", hidden: true, "aria-label": say("letter.working") });
    this.dialog.room.append(make("p", {}, say("letter.about")), this.list, this.add, this.ours, this.working);
    this.#show(words);
  }

  open() {
    this.dialog.open();
  }

  /** @param {readonly Words[]} words */
  #show(words) {
    const families = [...new Set(words.map(({ family }) => family))];
    this.list.replaceChildren(
      ...families.map((family) => {
        const own = words.filter((each) => each.family === family);
        const samples = own.slice(0, MOST_SAMPLES).map(({ sample }) => say("letter.sample", { sample }));
        const [drawn] = own.flatMap((each) => each.drawn_in || []);
        return make(
          "li",
          {},
          make("strong", {}, family || say("letter.unnamed")),
          make("span", {}, samples.join(" ")),
          make("small", { class: "soft" }, drawn ? say("letter.is-drawn-in", { typeface: drawn }) : say("letter.is-missing")),
        );
      }),
    );
  }

  /** @param {readonly File[]} files */
  async #add(files) {
    await this.#use({ typefaces: await Promise.all(files.map((file) => file.arrayBuffer())), standIn: false });
  }

  /** @param {Lettering} lettering */
  async #use(lettering) {
    const isWorking = (/** @type {boolean} */ is) => {
      this.working.hidden = !is;
      for (const button of this.dialog.room.querySelectorAll("button")) button.disabled = is;
    };
    isWorking(true);
    showTrouble(this.dialog.trouble, null);
    try {
      const words = await this.draw(lettering);
      if (words.every((each) => each.drawn_in)) this.dialog.close();
      else this.#show(words);
    } catch (error) {
      if (this.dialog.isOpen) showTrouble(this.dialog.trouble, error);
    }
    isWorking(false);
  }
}
