import { icon, make } from "../../parts/dom.js";
import { swatch } from "../../parts/swatch.js";
import { say } from "../../words/words.js";
import { nameOf, notesOf } from "./step-notes.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("./glue-steps.js").PartStep} PartStep */

/** The piece to glue next, and a button that a finger full of glue can't miss. */
export class StepCard {
  /**
   * @param {Workroom} room
   * @param {{glue: (step: PartStep, glued: boolean) => void, again: () => void, see: () => void,
   *   recolour: () => void, next: () => void}} ways  the last three lead on from the finished work
   */
  constructor(room, { glue, again, see, recolour, next }) {
    this.room = room;
    /** @type {PartStep | null} */
    this.current = null;
    /** @type {PartStep | null} */
    this.last = null;
    this.pictures = 0;
    this.paper = make("div", { class: "step-paper" });
    this.name = make("strong", { class: "step-name" });
    this.of = make("span", { class: "soft" });
    this.motif = make("span", { class: "soft" });
    this.notes = make("p", { class: "small step-notes" });
    this.count = make("span", { class: "soft step-count" });
    this.bar = make("progress", { class: "bar", "aria-hidden": "true" });
    this.done = make(
      "button",
      {
        help: "glue.done",
        type: "button",
        class: "button-main step-done",
        onclick: () => this.current && glue(this.current, true),
      },
      icon("check"),
      say("glue.done"),
    );
    this.back = make(
      "button",
      {
        help: "glue.back",
        type: "button",
        class: "button step-back",
        "aria-label": say("glue.back"),
        title: say("glue.back"),
        onclick: () => this.last && glue(this.last, false),
      },
      icon("back"),
    );
    const way = (/** @type {string} */ picture, /** @type {import("../../words/words.js").Key} */ key, /** @type {() => void} */ act, kind = "button") =>
      make("button", { help: key, type: "button", class: `${kind} button-wide`, onclick: act }, icon(picture), say(key));
    this.end = make(
      "div",
      { class: "step-end" },
      (this.seeing = make("div", { class: "step-acts" }, way("photo", "finished.see", see, "button-main"))),
      way("papers", "finished.recolour", recolour),
      way("open", "finished.next", next),
      way("again", "glue.again", again, "button-quiet"),
    );
    this.element = make(
      "section",
      { class: "step", "aria-label": say("glue.next-piece") },
      make(
        "div",
        { class: "step-what", role: "status" },
        this.paper,
        make("div", { class: "step-words" }, this.name, this.of, this.motif),
      ),
      this.notes,
      make("div", { class: "step-so-far" }, this.bar, this.count),
      (this.acts = make("div", { class: "step-acts" }, this.back, this.done)),
      this.end,
    );
  }

  /**
   * @param {readonly PartStep[]} steps
   * @param {PartStep | null} current
   * @param {ReadonlySet<string>} ticked  keys
   */
  show(steps, current, ticked) {
    const glued = steps.filter(({ key }) => ticked.has(key));
    const all = steps.length > 0 && glued.length === steps.length;
    this.last = (current ? glued.filter((step) => steps.indexOf(step) < steps.indexOf(current)) : glued).at(-1) ?? null;
    const held = all && document.activeElement === this.done;
    this.done.hidden = all;
    this.done.disabled = current === null;
    this.#layBack(all);
    this.back.disabled = this.last === null;
    this.end.hidden = !all;
    if (held) /** @type {HTMLElement | null} */ (this.seeing.querySelector(".button-main"))?.focus();
    this.bar.max = Math.max(1, steps.length);
    if (steps.length > 0) this.bar.value = glued.length;
    else this.bar.removeAttribute("value");
    this.bar.hidden = this.#isEmpty;
    this.acts.hidden = all || this.#isEmpty;
    this.count.textContent = steps.length > 0 ? say("glue.progress", { done: glued.length, count: steps.length }) : "";
    const { loaded } = this.room.paint;
    if (current && current === this.current && loaded === this.pictures) return;
    this.current = current;
    this.pictures = loaded;
    const paper = this.room.papers.get(current?.paper ?? "");
    this.paper.replaceChildren(...(paper ? [swatch(this.room.paint, paper, 56, 56)] : []));
    this.name.textContent = current ? nameOf(current) : this.#rest(all);
    this.of.textContent = paper ? `${this.room.shelfNumber(paper.id)}. ${paper.name}` : "";
    this.motif.textContent = current?.motif ?? "";
    this.motif.hidden = !current?.motif;
    this.notes.textContent = current ? notesOf(current).join(". ") : this.#isEmpty ? say("glue.nothing-about") : "";
  }

  /** The way back stands beside what is likely next. @param {boolean} all */
  #layBack(all) {
    const beside = all ? this.seeing : this.acts;
    if (this.back.parentElement === beside) return;
    const held = document.activeElement === this.back;
    beside.prepend(this.back);
    if (held) this.back.focus();
  }

  /** Whether there is nothing to glue. */
  get #isEmpty() {
    const { backing, design } = this.room.bench;
    return backing?.pieces.length === 0 && design?.loose_bits.length === 0;
  }

  /** @param {boolean} all */
  #rest(all) {
    if (all) return say("glue.all-done");
    return this.#isEmpty ? say("glue.nothing") : say("glue.ordering");
  }
}
