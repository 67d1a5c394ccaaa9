import { isBare } from "../project/edits.js";
import { holds, sameBacking, sameDesign, sameSearch } from "../project/same.js";
import { Cancelled } from "../words/refusal.js";
import { Overtaken } from "./questions.js";

/** @typedef {import("./desk.js").Desk} Desk */
/** @typedef {import("./types.js").Project} Project */
/** @typedef {import("./types.js").Design} Design */
/** @typedef {import("./types.js").Backing} Backing */
/** @typedef {import("./types.js").ProposedMends} ProposedMends */
/** @typedef {import("./types.js").Plan} Plan */
/** @typedef {import("./types.js").Preview} Preview */
/** @typedef {"design" | "backing" | "plan"} StepName */

/** Seconds that the plan is sought for, and for how many more where the person wants to look longer. */
export const PLAN_SECONDS = 10;
export const LONGER_SECONDS = 30;

/** Papers are given tap by tap: the backing waits for the hand to rest, so that its answers delay no tap. */
const REST_MS = 300;
/** So many steps back find their design at once. */
const MOST_KNOWN = 6;

/** What was computed elsewhere is confirmed once nobody asks for anything: a file that is dropped first thing comes first. */
const CONFIRM_MS = 1000;

/**
 * What was computed for the open project, kept in step with it: the design and backing always, the plan when
 * asked for. What a step gave last stays until the next is there, also when the package refuses.
 *
 * Events: "design", "backing", "plan", "trouble", each when that value is another; "planned" when a search for
 * the project as it is has ended, by itself or stopped.
 */
export class Bench extends EventTarget {
  /**
   * @param {Desk} desk
   * @param {import("./questions.js").Questions} questions
   */
  constructor(desk, questions) {
    super();
    this.desk = desk;
    this.questions = questions;
    /** @type {Project | null} */
    this.project = null;
    /** @type {Design | null} */
    this.design = null;
    /** @type {Backing | null} */
    this.backing = null;
    /** Mends that were proposed elsewhere, and for which project. @type {{of: Project, answer: ProposedMends} | null} */
    this.mends = null;
    /** Designs of the last states of the project. @type {{of: Project, design: Design}[]} */
    this.known = [];
    /** @type {Plan | null} */
    this.plan = null;
    /** The last plan as it is kept with the project, for the package to go on from on another day. @type {unknown} */
    this.keptPlan = null;
    /** The project that each value was made of; the last state of it where that made no difference. @type {Record<StepName, Project | null>} */
    this.madeOf = { design: null, backing: null, plan: null };
    /** @type {Preview | null} */
    this.preview = null;
    /**
     * The search under way, null when there is none: the seconds gone, and those that it takes; null where it
     * does again what was done before.
     *
     * @type {{elapsed: number, seconds: number | null} | null}
     */
    this.planning = null;
    /** Why a step has no value of the project as it is. @type {Map<StepName, unknown>} */
    this.trouble = new Map();
    this.fresh = { design: false, backing: false, plan: false };
    this.busy = false;
    /** Whether the design was seen to change under a backing, of which most may hold. */
    this.isToTouchUp = false;
    this.resting = 0;
    /** Steps whose value came from elsewhere and is still to be confirmed. @type {Set<StepName>} */
    this.adopted = new Set();
    /** @type {AbortController | null} */
    this.search = null;
    /** Resolves once the last search has ended. @type {Promise<void>} */
    this.settled = Promise.resolve();
  }

  /**
   * @param {Project} project
   * @param {boolean} opened  it is another project, nothing computed holds
   */
  follow(project, opened) {
    const before = opened ? null : this.project;
    this.project = project;
    if (!before) {
      this.#forget();
      // Until its design is there no hand may act on the openings of the former one.
      this.dispatchEvent(new Event("design"));
    }
    for (const step of /** @type {const} */ (["design", "backing", "plan"])) {
      if (this.#holds(step)) this.madeOf[step] = project;
    }
    if (!before || !sameDesign(before, project)) {
      this.#outdate("design");
      this.#recall(project);
    } else if (!sameBacking(before, project)) this.#outdate("backing");
    else if (!sameSearch(before, project)) this.#outdate("plan");
    else if (before.speed !== project.speed) void this.timePlan();
    clearTimeout(this.resting);
    const onlyPapers = before && sameDesign(before, project) && before.backing === project.backing;
    if (!before) this.#catchUpIn(0);
    else if (onlyPapers && this.design) this.#catchUpIn(REST_MS);
    else void this.#catchUp();
  }

  /**
   * Remembers the design of a project that is about to be followed, so that it is there with it: openings have
   * other numbers after a mend, and papers given by those must not lie on the former ones.
   *
   * @param {Project} project
   * @param {Design} design
   */
  prepare(project, design) {
    const others = this.known.filter(({ of }) => !sameDesign(of, project));
    this.known = [{ of: project, design }, ...others].slice(0, MOST_KNOWN);
  }

  /** Takes the design of a project that is known, as after a mend or a step back. @param {Project} project */
  #recall(project) {
    const known = this.known.find(({ of }) => sameDesign(of, project));
    if (!known) return;
    const hadBacking = this.backing !== null;
    this.#take("design", known.design);
    this.fresh.design = known.design.is_whole;
    this.isToTouchUp = hadBacking && !known.design.is_whole;
    this.trouble.delete("design");
    this.dispatchEvent(new Event("design"));
  }

  /**
   * Takes what was computed for this project elsewhere, such as when the site was built.
   *
   * @param {{design: Design, backing: Backing, mends?: ProposedMends}} views
   */
  adopt({ design, backing, mends }) {
    this.mends = mends && this.project ? { of: this.project, answer: mends } : null;
    this.#take("design", design);
    this.#take("backing", backing);
    this.adopted = new Set(["design", "backing"]);
    if (this.project) this.prepare(this.project, design);
    this.dispatchEvent(new Event("design"));
    this.dispatchEvent(new Event("backing"));
    clearTimeout(this.resting);
    const { project } = this;
    this.desk.onceReady(() => this.project === project && this.#catchUpIn(CONFIRM_MS));
  }

  /**
   * Takes what was seen of the project's design when its file was read.
   *
   * @param {Design} design
   */
  foresee(design) {
    if (design.is_whole) this.adopted.add("design");
    this.#take("design", design);
    this.dispatchEvent(new Event("design"));
  }

  /** Design and backing where both are of the project as it is. */
  get views() {
    const { design, backing, fresh, adopted } = this;
    const whole = adopted.size === 2 || (fresh.design && fresh.backing && !this.busy);
    return design && backing && whole && this.#holds("design") && this.#holds("backing") ? { design, backing } : null;
  }

  /** Whether the design is not, or not yet, of the project as it is. */
  get isBehind() {
    return this.project !== null && !this.#holds("design");
  }

  /**
   * Whether what lies on the table is of another reading or size than the project is: mends show on the card at once,
   * and limits change nothing that is seen.
   */
  get hasOldDesign() {
    const { design } = this.madeOf;
    return design !== null && design.reading !== this.project?.reading;
  }

  /** Whether the plan is of other pieces than the project has. */
  get hasOldPlan() {
    const { plan } = this.madeOf;
    return plan !== null && this.project !== null && !holds("backing", plan, this.project);
  }

  /** The backing where it is of the design: its pieces lie behind the openings that are there. */
  get backingOfDesign() {
    const { design, backing } = this.madeOf;
    return design && backing && holds("design", design, backing) ? this.backing : null;
  }

  /** @param {StepName} step  @returns {boolean} whether its value is of the project as it is */
  #holds(step) {
    const of = this.madeOf[step];
    return of !== null && this.project !== null && holds(step, of, this.project);
  }

  /**
   * Seeks trims and mats for the project as it is: for some seconds, or for the rounds that it says were done.
   *
   * @param {number} [seconds]
   * @returns {Promise<void>} resolves once that has ended
   */
  seekPlan(seconds = PLAN_SECONDS) {
    this.settled = this.#seek(seconds);
    return this.settled;
  }

  /** Ends the search under way with the best plan so far; resolves once that is there. */
  async settlePlan() {
    this.stopPlan();
    await this.settled;
  }

  /** Whether there is a plan, or the search for one may be ended at any time. */
  get canSettle() {
    return this.planning ? this.fresh.plan && this.planning.seconds !== null : this.planHolds;
  }

  /** @param {number} seconds */
  async #seek(seconds) {
    this.stopPlan();
    const project = this.project;
    if (!project) return;
    const search = new AbortController();
    this.search = search;
    // A document of an older version may tell rounds by which no plan comes again.
    const comesAgain = Array.isArray(project.plan.rounds);
    this.planning = { elapsed: 0, seconds: comesAgain ? null : seconds };
    this.fresh.plan = true;
    this.trouble.delete("plan");
    this.dispatchEvent(new Event("plan"));
    try {
      const plan = await this.questions.ask(
        "plan",
        (asked, signal) => this.desk.plan(asked, seconds, this.keptPlan, (found) => this.#found(search, found), signal),
        search.signal,
      );
      if (this.search === search) this.#takePlan(plan);
    } catch (error) {
      if (!(error instanceof Cancelled)) this.#note("plan", error);
      else if (this.search === search && !(error instanceof Overtaken)) await this.#seeKept(search);
    }
    if (this.search !== search) return;
    this.search = null;
    this.planning = null;
    this.dispatchEvent(new Event("plan"));
    if (this.planHolds) this.dispatchEvent(new Event("planned"));
    if (this.project?.speed !== project.speed) await this.timePlan();
    await this.#seePreview();
  }

  /**
   * The plan that the desk kept from a search that was stopped: it may be ahead of what was shown.
   *
   * @param {AbortController} search
   */
  async #seeKept(search) {
    try {
      const plan = await this.questions.ask("plan", (project, signal) =>
        this.desk.plan({ ...project, plan: { ...project.plan, rounds: null } }, 0, null, () => {}, signal),
      );
      if (this.search === search) this.#takePlan(plan);
    } catch (error) {
      if (this.search === search) this.#note("plan", error);
    }
  }

  /** @param {Plan & {kept: unknown}} answer */
  #takePlan({ kept, ...plan }) {
    this.keptPlan = kept;
    this.#take("plan", plan);
  }

  /** Takes the plan's time at another cutting speed. */
  async timePlan() {
    if (!this.planHolds || this.search || this.project?.plan.rounds === null) return;
    try {
      this.#takePlan(await this.questions.ask("time", (project, signal) => this.desk.plan(project, 0, this.keptPlan, () => {}, signal)));
      this.dispatchEvent(new Event("plan"));
    } catch (error) {
      this.#note("plan", error);
    }
  }

  /** The worker was started anew and knows no plan any more; the last one stays in sight. */
  loseWorker() {
    // A search under way is asked for again.
    if (!this.search) this.fresh.plan = false;
    this.preview = null;
    this.dispatchEvent(new Event("plan"));
  }

  /** Stops the search under way; the best plan so far stays. */
  stopPlan() {
    this.search?.abort();
  }

  /** Whether the plan is of the project as it is. */
  get planHolds() {
    return this.plan !== null && this.fresh.plan && this.#holds("plan") && !this.trouble.has("plan");
  }

  /**
   * @param {AbortController} search
   * @param {Partial<Plan> & {elapsed_s: number}} found
   */
  #found(search, { elapsed_s: elapsed, ...plan }) {
    if (this.search !== search || search.signal.aborted || !this.planning) return;
    this.planning = { ...this.planning, elapsed };
    if (plan.trims) this.#take("plan", /** @type {Plan} */ (plan));
    this.dispatchEvent(new Event("plan"));
  }

  /** Sees where in its paper each piece of the plan comes from. */
  async #seePreview() {
    if (!this.planHolds) return;
    try {
      const preview = await this.questions.ask("plan", (project) => this.desk.preview(project));
      if (!this.planHolds || this.search) return;
      this.preview = preview;
      this.dispatchEvent(new Event("backing"));
    } catch (error) {
      this.#note("plan", error);
    }
  }

  #forget() {
    this.stopPlan();
    this.search = null;
    this.planning = null;
    this.known = [];
    this.design = null;
    this.backing = null;
    this.plan = null;
    this.keptPlan = null;
    this.preview = null;
    this.madeOf = { design: null, backing: null, plan: null };
    this.adopted.clear();
    this.trouble.clear();
  }

  /** @param {StepName} from  the first step that no longer holds */
  #outdate(from) {
    this.fresh.plan = false;
    this.trouble.delete("plan");
    this.preview = null;
    this.stopPlan();
    // Where nothing is given there is nothing to lay out anew, and the last mats are of papers taken back.
    if (this.project && isBare(this.project)) this.plan = this.madeOf.plan = null;
    if (from === "plan") {
      this.dispatchEvent(new Event("plan"));
      return;
    }
    this.fresh.backing = false;
    this.adopted.delete("backing");
    if (from === "backing") return;
    this.fresh.design = false;
    this.adopted.delete("design");
    this.trouble.delete("design");
  }

  /** @param {number} delay */
  #catchUpIn(delay) {
    clearTimeout(this.resting);
    this.resting = setTimeout(() => void this.#catchUp(), delay);
  }

  async #catchUp() {
    if (this.busy) return;
    this.busy = true;
    while (this.project && !(this.fresh.design && this.fresh.backing)) {
      if (this.isToTouchUp) await this.#touchUp();
      await this.#renew(this.fresh.design ? "backing" : "design");
    }
    this.busy = false;
  }

  /** Shows what mends changed of the last backing, before all of it is made anew. */
  async #touchUp() {
    this.isToTouchUp = false;
    try {
      const { backing } = await this.questions.ask("backing", (project) => this.desk.backingTouchedUp(project));
      if (!backing) return;
      this.#take("backing", backing);
      this.dispatchEvent(new Event("backing"));
    } catch {
      // What can't be made says so where it is made as a whole.
    }
  }

  /** @param {"design" | "backing"} step */
  async #renew(step) {
    this.fresh[step] = true;
    try {
      const value = await this.questions.ask(step, (project, signal) => {
        const foresee = (/** @type {Design | Backing} */ preview) => {
          if (!signal.aborted) this.#foresee(step, preview);
        };
        return /** @type {Promise<Design | Backing>} */ (this.desk[step](project, foresee, signal));
      });
      this.trouble.delete(step);
      const known = this.adopted.delete(step) && JSON.stringify(value) === JSON.stringify(this[step]);
      if (known) return;
      this.#take(step, value);
      if (step === "design" && this.project) this.prepare(this.project, /** @type {Design} */ (value));
    } catch (error) {
      if (error instanceof Overtaken) return;
      // Of a design that can't be made there is no backing.
      if (step === "design") this.fresh.backing = true;
      this.#note(step, error);
    }
    this.dispatchEvent(new Event(step));
  }

  /**
   * Shows what is quickly known while the whole is made; not over a whole that was taken from elsewhere and may
   * hold.
   *
   * @param {"design" | "backing"} step
   * @param {Design | Backing} preview
   */
  #foresee(step, preview) {
    if (this.adopted.has(step)) return;
    this.#take(step, preview);
    this.dispatchEvent(new Event(step));
  }

  /**
   * Takes the value of a step for the project as it is.
   *
   * @param {StepName} step
   * @param {Design | Backing | Plan} value
   */
  #take(step, value) {
    this.madeOf[step] = this.project;
    if (step === "design") this.design = /** @type {Design} */ (value);
    else if (step === "backing") this.backing = /** @type {Backing} */ (value);
    else this.plan = /** @type {Plan} */ (value);
  }

  /**
   * @param {StepName} step
   * @param {unknown} error
   */
  #note(step, error) {
    // What was stopped, or asked of what is no longer so, says nothing of the project as it is.
    if (error instanceof Cancelled) return;
    this.trouble.set(step, error);
    this.dispatchEvent(new Event("trouble"));
  }
}
