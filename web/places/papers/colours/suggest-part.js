import { Overtaken } from "../../../desk/questions.js";
import { Choice } from "../../../parts/choice.js";
import { icon, make } from "../../../parts/dom.js";
import { swatch } from "../../../parts/swatch.js";
import { chosen, giveSuggested, lock } from "../../../project/edits.js";
import { holds } from "../../../project/same.js";
import { sayMessage } from "../../../words/messages.js";
import { say } from "../../../words/words.js";
import { LikenessField } from "../giving/likeness-field.js";
import { AmongPart } from "./among-part.js";
import { StoryPart } from "./story-part.js";

/** @typedef {import("../../../desk/types.js").Message} Message */
/** @typedef {import("../../workroom.js").Workroom} Workroom */
/** @typedef {import("../../../desk/types.js").Suggestion} Suggestion */
/** @typedef {import("../../../words/words.js").Key} Key */

const FIRST_COUNT = 5;

/** Suggestions: papers spread over the openings, and papers that suit a photo, each with its reasons. */
export class SuggestPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    this.count = 0;
    this.seed = 0;
    /** The project that reasons are told for. @type {import("../../../desk/types.js").Project | null} */
    this.of = null;
    this.number = make("output", { class: "stepper-number" });
    this.fewer = stepButton("minus", "suggest.fewer", () => this.#step(-1));
    this.more = stepButton("plus", "suggest.more", () => this.#step(1));
    /** @type {AbortController | null} */
    this.search = null;
    this.going = make("span", {});
    this.go = make(
      "button",
      { help: "suggest.do", type: "button", class: "button-main", onclick: () => void this.#suggest() },
      icon("shuffle"),
      this.going,
    );
    /** Why nothing can be suggested. */
    this.none = make("p", { class: "soft", id: "suggest-none", hidden: true }, say("refusal.no-openings-to-suggest"));
    this.stop = make("button", { help: "act.stop", type: "button", class: "button", onclick: () => this.search?.abort() }, say("act.stop"));
    this.working = make(
      "div",
      { class: "working", hidden: true },
      make("progress", { class: "bar", "aria-label": say("suggest.working") }),
      make("span", { class: "soft" }, say("suggest.working")),
      this.stop,
    );
    this.reasons = make("div", { class: "reasons", "aria-live": "polite" });
    /** Whether papers follow one another from the middle outwards. */
    this.isRamp = false;
    /** Whether each kind of motif gets papers of its own. */
    this.isByMotif = false;
    this.way = /** @type {Choice<"mixed" | "motifs" | "ramp">} */ (
      new Choice("suggest.way", (way) => {
        this.isRamp = way === "ramp";
        this.isByMotif = way === "motifs";
        this.update();
      })
    );
    this.among = new AmongPart(room, () => this.#choose());
    this.stories = new StoryPart(room, () => this.count, (ids, isRamp) => this.#use(ids, isRamp));
    /** The papers that were brought in when it was looked last. @type {readonly string[]} */
    this.brought = [];
    this.likeness = new LikenessField(room, () => {});
    this.element = make(
      "div",
      {},
      make(
        "section",
        { class: "part" },
        make("p", { class: "soft" }, say("suggest.about")),
        make(
          "div",
          { class: "stepper" },
          make("span", {}, say("suggest.count")),
          this.fewer,
          this.number,
          this.more,
        ),
        this.go,
        this.none,
        this.working,
        this.reasons,
        this.among.element,
        this.way.element,
        this.likeness.element,
        make(
          "div",
          { class: "choice-row" },
          make("button", { help: "suggest.lock-given", type: "button", class: "button", onclick: () => this.#lock(true) }, icon("lock"), say("suggest.lock-given")),
          make("button", { help: "suggest.unlock", type: "button", class: "button", onclick: () => this.#lock(false) }, say("suggest.unlock")),
        ),
      ),
      this.stories.element,
    );
  }

  update() {
    const { project } = this.room;
    if (this.of && this.of.id !== project.id) {
      this.among.forget();
      this.isRamp = false;
    }
    const { brought } = this.room.session.hand;
    if (brought !== this.brought) {
      this.brought = brought;
      // Who brings in several papers for a design means these.
      if (brought.length > 1) this.among.take(brought);
    }
    if (!this.of || !holds("design", this.of, project)) this.#begin();
    this.of = project;
    const most = this.among.papers.length || this.room.project.shelf.papers.length;
    if (this.count === 0) this.count = Math.min(FIRST_COUNT, most);
    this.count = Math.max(1, Math.min(this.count, most));
    this.number.textContent = String(this.count);
    this.fewer.disabled = this.count <= 1;
    this.more.disabled = this.count >= most;
    const hasNone = this.room.shapes?.openings.length === 0;
    this.none.hidden = !hasNone;
    this.go.disabled = this.among.isOpen || hasNone;
    this.among.update(this.isRamp);
    this.way.show(
      [
        { value: "mixed", text: say("suggest.way-mixed") },
        { value: "motifs", text: say("suggest.way-motifs") },
        { value: "ramp", text: say("suggest.way-ramp") },
      ],
      this.isRamp ? "ramp" : this.isByMotif ? "motifs" : "mixed",
    );
    this.stories.update();
    this.likeness.update();
    this.going.textContent = say(this.seed === 0 ? "suggest.do" : "suggest.again");
  }

  /** Forgets what was told of another project, or of another reading of this one. */
  #begin() {
    this.seed = 0;
    this.reasons.replaceChildren();
    this.stories.clear();
  }

  /** Takes as many papers as are chosen. */
  #choose() {
    this.count = this.among.papers.length || FIRST_COUNT;
    this.update();
  }

  /**
   * @param {string[]} ids  of the only papers to suggest
   * @param {boolean} isRamp
   */
  #use(ids, isRamp) {
    this.isRamp = isRamp;
    this.among.take(ids);
    this.element.scrollIntoView({ block: "start" });
    void this.#suggest();
  }

  /** @param {number} by */
  #step(by) {
    this.count += by;
    this.update();
  }

  /** @param {boolean} locked */
  #lock(locked) {
    const colourway = chosen(this.room.project);
    const numbers = locked ? Object.keys(colourway.papers).map(Number) : colourway.locked;
    this.room.store.edit("", (project) => lock(project, numbers, locked));
  }

  async #suggest() {
    const { desk, notices, project, questions } = this.room;
    const search = new AbortController();
    /** @type {Suggestion | null} */
    let found = null;
    const keep = (/** @type {Suggestion} */ soFar) => {
      found = soFar;
    };
    const seed = this.seed + 1;
    const wish = () => ({ count: this.count, seed, among: this.among.papers, ramp: this.isRamp, by_motif: this.isByMotif });
    let isBehind = false;
    this.#work(search);
    try {
      const ask = (/** @type {typeof project} */ asked, /** @type {AbortSignal} */ signal) =>
        desk.suggest(asked, wish(), keep, signal);
      keep(await questions.ask("design", ask, search.signal));
    } catch (error) {
      if (error instanceof Overtaken) {
        found = null;
        isBehind = this.room.project.id === project.id;
      }
      // What was found before the person stopped it is given all the same.
      notices.tellError(error, { stays: true });
    }
    this.#work(null);
    // Where the openings became others meanwhile, such as by mends, papers are still wanted for them.
    if (isBehind) await this.#suggest();
    else if (found) this.#give(project, seed, found);
  }

  /** Shows that papers are sought, and how to stop it; null when it has ended. @param {AbortController | null} search */
  #work(search) {
    const stopHeld = document.activeElement === this.stop;
    this.search = search;
    this.go.hidden = search !== null;
    this.working.hidden = search === null;
    if (search) this.stop.focus();
    else if (stopHeld) this.go.focus();
    this.update();
  }

  /**
   * @param {import("../../../desk/types.js").Project} project  that it was sought for
   * @param {number} seed
   * @param {Suggestion} suggestion
   */
  #give(project, seed, { papers, reasons, unmet }) {
    this.seed = seed;
    this.room.store.edit("", (now) => giveSuggested(now, project, papers));
    this.#explain(papers, reasons, unmet);
  }

  /**
   * Shows how many openings each paper got; the reasons on asking.
   *
   * @param {Readonly<Record<number, string>>} papers  ids by opening
   * @param {readonly Message[]} reasons
   * @param {readonly Message[]} unmet
   */
  #explain(papers, reasons, unmet) {
    const told = (/** @type {Key} */ title, /** @type {readonly Message[]} */ sentences, /** @type {boolean} */ open) =>
      sentences.length > 0
        ? make(
            "details",
            { class: "fold", open },
            make("summary", { help: title }, say(title)),
            make("ul", { class: "sentences" }, ...sentences.map((sentence) => make("li", {}, sayMessage(sentence, this.room.unit)))),
          )
        : null;
    /** @type {Map<string, number>} */
    const counts = new Map();
    for (const id of Object.values(papers)) counts.set(id, (counts.get(id) ?? 0) + 1);
    const shares = [...counts].toSorted(([, one], [, other]) => other - one).map(([id, count]) => this.#share(id, count));
    const parts = [told("suggest.unmet", unmet, true), make("ul", { class: "by-paper" }, ...shares), told("suggest.why", reasons, false)];
    this.reasons.replaceChildren(...parts.filter((part) => part !== null));
  }

  /**
   * @param {string} id  of a paper
   * @param {number} count  of its openings
   */
  #share(id, count) {
    const { papers, paint } = this.room;
    const paper = papers.get(id);
    return make(
      "li",
      {},
      paper ? swatch(paint, paper, 28, 28) : null,
      make("span", {}, paper?.name ?? id),
      make("small", { class: "soft" }, say("papers.used", { count })),
    );
  }
}

/**
 * @param {string} picture
 * @param {Key} key
 * @param {() => void} act
 */
function stepButton(picture, key, act) {
  return make(
    "button",
    { help: key, type: "button", class: "button-icon", "aria-label": say(key), title: say(key), onclick: act },
    icon(picture),
  );
}
