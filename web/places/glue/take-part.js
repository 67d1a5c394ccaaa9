import { Cancelled } from "../../words/refusal.js";
import { icon, make } from "../../parts/dom.js";
import { megabytes } from "../../parts/files/megabytes.js";
import { showTrouble } from "../../parts/trouble.js";
import { say } from "../../words/words.js";
import { NarrowLips } from "../narrow-lips.js";
import { CutPart } from "./cut-part.js";
import { cautions } from "./cautions.js";
import { FileList } from "./file-list.js";
import { paperLooks } from "./paper-looks.js";
import { printedPatterns } from "./printed-patterns.js";
import { TakeChoices } from "./take-choices.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Project} Project */

/** The longest link that a QR code of the guide could hold, in characters (ISO/IEC 18004, version 40-L, bytes). */
const MOST_IN_CODE = 2953;

/** The sheets to take away: chosen, written on demand, then each to be saved or shared, or all in one. */
export class TakePart {
  /**
   * @param {Workroom} room
   * @param {() => void} toDesign
   */
  constructor(room, toDesign) {
    this.room = room;
    /** The writing under way. @type {AbortController | null} */
    this.writing = null;
    this.button = make(
      "button",
      { help: "take.do", type: "button", class: "button-main button-wide", onclick: () => void this.#take() },
      icon("save"),
      say("take.do"),
    );
    this.stop = make(
      "button",
      { help: "act.stop", type: "button", class: "button button-wide", hidden: true, onclick: () => this.writing?.abort() },
      icon("stop"),
      say("act.stop"),
    );
    this.lips = new NarrowLips(room, toDesign);
    this.status = make("p", { class: "soft", role: "status" });
    this.bar = make("progress", { class: "bar", hidden: true, "aria-label": say("take.do") });
    this.trouble = make("div", { class: "trouble", role: "alert" });
    this.planTrouble = make("div", { class: "trouble", role: "alert" });
    this.files = new FileList();
    this.choices = new TakeChoices(() => this.#stale());
    this.cut = new CutPart(room);
    this.element = make(
      "div",
      { class: "stack" },
      // What is told of lips comes late: it must not push the button from under the finger.
      make("div", { class: "take" }, this.button, this.stop, this.lips.element, this.status, this.bar, this.planTrouble, this.trouble, this.files.element),
      this.cut.element,
      this.choices.element,
      cautions("glue.caution-blade", "glue.caution-small", "glue.caution-makers"),
    );
    /** What the files tell of. @type {readonly unknown[]} */
    this.takenOf = [];
    /** Kinds of files whose writers are loaded, or about to be. @type {Set<string>} */
    this.prepared = new Set();
  }

  update() {
    const { bench, project } = this.room;
    const ready = bench.canSettle;
    this.choices.update(project.units, bench.plan?.trims.some(({ printed }) => printed) ?? false);
    this.lips.update();
    this.cut.update();
    showTrouble(this.planTrouble, bench.trouble.get("plan") ?? null, project.units);
    this.button.disabled = !ready || this.choices.isEmpty;
    if (ready) this.#prepare();
    if (this.writing) return;
    this.#seeWhetherStale();
    if (bench.planning !== null) this.status.textContent = say(ready ? "take.at-once" : "take.plan-first");
    else if (!ready) this.status.textContent = bench.trouble.has("plan") ? "" : say("take.wait");
    else if (!this.files.isFull) this.status.textContent = bench.plan?.trims.length ? "" : say("take.nothing");
  }

  async #take() {
    const { bench, desk, questions } = this.room;
    this.writing = new AbortController();
    showTrouble(this.trouble, null);
    this.#show(true);
    this.files.clear();
    this.status.textContent = say("take.begin");
    this.bar.removeAttribute("value");
    try {
      if (bench.planning !== null) await bench.settlePlan();
      const { project } = this.room;
      this.takenOf = this.#told;
      const wished = this.choices.asked(project.units);
      const sheets = await questions.ask(
        "plan",
        async (asked, signal) => {
          const choices = { ...wished, link: await this.#link(asked) };
          const patterns = this.choices.prints ? await printedPatterns(this.room) : [];
          return desk.sheets(asked, choices, patterns, await paperLooks(this.room), (step) => this.#tell(step), signal);
        },
        this.writing.signal,
      );
      this.files.show(sheets);
      this.status.textContent = say("take.done", { count: sheets.length });
    } catch (error) {
      this.status.textContent = error instanceof Cancelled ? say("take.stopped") : "";
      if (!(error instanceof Cancelled)) showTrouble(this.trouble, error, this.room.unit);
    } finally {
      this.writing = null;
      this.#show(false);
      this.#seeWhetherStale();
    }
  }

  /** What files tell of: the plan, and of the project what changes no plan. */
  get #told() {
    const { bench, project } = this.room;
    const { name, units, look, page, colourway } = project;
    return [bench.plan, bench.planHolds, name, units, look, page, colourway];
  }

  /** A project's link where a code can hold it, for the guide. @param {Project} project */
  async #link(project) {
    const address = new URL(location.href);
    address.hash = `p=${await this.room.desk.link(project).catch(() => "-".repeat(MOST_IN_CODE))}`;
    return address.href.length <= MOST_IN_CODE ? address.href : null;
  }

  /**
   * Readies the writers of the files that are likely to be asked for: they take longer to load than to write. Where
   * that fails it is told once files are asked for.
   */
  #prepare() {
    const kinds = this.choices.wishes.kinds.filter((kind) => !this.prepared.has(kind));
    for (const kind of kinds) this.prepared.add(kind);
    if (kinds.length > 0) this.room.desk.prepareSheets(kinds).catch(() => this.prepared.clear());
  }

  /** @param {{done: number, total: number, name: string} | {fetched: {bytes: number, total: number}}} step */
  #tell(step) {
    if ("fetched" in step) {
      const { bytes, total } = step.fetched;
      this.bar.max = Math.max(1, total);
      this.bar.value = bytes;
      this.status.textContent = say("take.fetching", { done: megabytes(bytes), total: megabytes(total) });
      return;
    }
    this.bar.max = step.total;
    this.bar.value = step.done;
    this.status.textContent = step.name ? say("take.writing", { done: step.done, count: step.total, name: step.name }) : say("take.begin");
  }

  /** @param {boolean} writing */
  #show(writing) {
    this.button.hidden = writing;
    this.stop.hidden = !writing;
    this.bar.hidden = !writing;
    this.choices.element.inert = writing;
  }

  #seeWhetherStale() {
    if (this.files.isFull && this.#told.some((value, at) => value !== this.takenOf[at])) this.#stale();
  }

  /** What was written is no longer what is asked for. */
  #stale() {
    this.files.clear();
    this.status.textContent = "";
    showTrouble(this.trouble, null);
    this.update();
  }
}
