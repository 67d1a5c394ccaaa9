import { Choice } from "../parts/choice.js";
import { icon, make } from "../parts/dom.js";
import { chosen } from "../project/edits.js";
import { say } from "../words/words.js";
import { pieceScene } from "./front.js";
import { PaperShelf } from "./paper-shelf.js";
import { MarksLayer } from "../stage/layers/marks-layer.js";
import { sentenceOf } from "../parts/sentence.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */

/** Papers: pick one, tap the openings that it should back. */
export class PapersPlace {
  /**
   * @param {Workroom} room
   * @param {() => void} next
   */
  constructor(room, next) {
    this.room = room;
    this.name = /** @type {const} */ ("papers");
    this.tapTable = null;
    this.sweeps = true;
    this.seed = 0;
    this.shelf = new PaperShelf(room);
    this.gives = /** @type {Choice<"one" | "alike">} */ (
      new Choice(say("papers.gives"), (gives) => room.session.take({ gives }))
    );
    this.suggestButton = make(
      "button",
      { type: "button", class: "button", title: say("papers.suggest-about"), onclick: () => void this.#suggest() },
      icon("shuffle"),
      say("papers.suggest"),
    );
    this.left = make("p", { class: "soft", "aria-live": "polite" });
    this.panel = make(
      "div",
      {},
      make(
        "section",
        { class: "part" },
        make("div", { class: "part-head" }, make("h2", {}, say("papers.title")), this.suggestButton),
        this.shelf.element,
        this.gives.element,
        this.left,
      ),
    );
    this.foot = make(
      "button",
      { type: "button", class: "button-main button-wide", onclick: next },
      say("papers.next"),
      icon("next"),
    );
  }

  enter() {
    const { session, project } = this.room;
    const first = project.shelf.papers[0];
    if (session.hand.picked === undefined && first) session.take({ picked: first.id });
  }

  update() {
    const { session, shapes, project } = this.room;
    this.shelf.update();
    this.gives.show(
      [
        { value: "one", text: say("papers.gives-one") },
        { value: "alike", text: say("papers.gives-alike") },
      ],
      session.hand.gives,
    );
    const open = (shapes?.openings.length ?? 0) - Object.keys(chosen(project).papers).length;
    this.left.textContent = open > 0 ? say("papers.open-count", { count: open }) : say("papers.all-backed");
  }

  scene() {
    const { shapes } = this.room;
    const open = shapes && new MarksLayer(shapes, () => [this.#openings()]);
    return pieceScene(this.room, open ? [open] : [], this.room.session.hand.mirrored);
  }

  hint() {
    const { picked } = this.room.session.hand;
    if (picked === undefined) return say("hint.pick");
    return picked === null
      ? say("hint.leave")
      : say("hint.give", { paper: this.room.papers.get(picked)?.name ?? "" });
  }

  /** @param {number} number */
  give(number) {
    const { gives } = this.room.session.hand;
    this.room.give(gives === "alike" ? this.room.alikeTo(number) : [number], "");
  }

  /** The openings left open, told apart from pale papers by a dashed edge. */
  #openings() {
    const { project, shapes } = this.room;
    const { papers } = chosen(project);
    const numbers = new Set((shapes?.openings ?? []).map(({ number }) => number).filter((number) => !papers[number]));
    return { numbers, colour: "#5d5447", under: "#fffdf8", width: 1, dashed: true };
  }

  async #suggest() {
    const { project, desk, store, notices } = this.room;
    this.seed += 1;
    this.suggestButton.disabled = true;
    try {
      const { papers, reasons } = await desk.suggest(project, project.shelf.papers.length, this.seed);
      store.edit("", (now) => ({
        ...now,
        colourways: now.colourways.map((each) => (each.id === chosen(now).id ? { ...each, papers } : each)),
      }));
      this.room.repaint(null);
      notices.tell(reasons[0] ?? say("papers.suggested"));
    } catch (error) {
      notices.tell(sentenceOf(error));
    } finally {
      this.suggestButton.disabled = false;
    }
  }
}
