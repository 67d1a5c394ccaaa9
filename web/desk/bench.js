import { sameBacking, sameDesign, sameSearch } from "../project/same.js";
import { Refusal } from "../words/refusal.js";
import { Cancelled } from "./messenger.js";
import { sentenceOf } from "../words/sentence.js";

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
  /** @param {Desk} desk */
  constructor(desk) {
    super();
    this.desk = desk;
    /** @type {Project | null} */
    this.project = null;
    /** @type {Design | null} */
    this.design = null;
    /** @type {Backing | null} */
    this.backing = null;
    /** Mends that were proposed elsewhere, and for which project. @type {{of: Project, answer: ProposedMends} | null} */
    this.mends = null;
    /** @type {Plan | null} */
    this.plan = null;
    /** @type {Preview | null} */
    this.preview = null;
    /**
     * The search under way, null when there is none: the seconds gone, and those that it takes; null where it
     * does again what was done before.
     *
     * @type {{elapsed: number, seconds: number | null} | null}
     */
    this.planning = null;
    /** What each step refused, told in a unit. @type {Map<StepName, (unit: string) => string>} */
    this.trouble = new Map();
    this.fresh = { design: false, backing: false, plan: false };
    this.busy = false;
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
    if (!before || !sameDesign(before, project)) this.#outdate("design");
    else if (!sameBacking(before, project)) this.#outdate("backing");
    else if (!sameSearch(before, project)) this.#outdate("plan");
    else if (before.speed !== project.speed) void this.timePlan(project);
    clearTimeout(this.resting);
    const onlyPapers = before && sameDesign(before, project) && before.backing === project.backing;
    if (!before) this.#catchUpIn(0);
    else if (onlyPapers && this.design) this.#catchUpIn(REST_MS);
    else void this.#catchUp();
  }

  /**
   * Takes what was computed for this project elsewhere, such as when the site was built.
   *
   * @param {{design: Design, backing: Backing, mends?: ProposedMends}} views
   */
  adopt({ design, backing, mends }) {
    this.mends = mends && this.project ? { of: this.project, answer: mends } : null;
    this.design = design;
    this.backing = backing;
    this.adopted = new Set(["design", "backing"]);
    this.dispatchEvent(new Event("design"));
    this.dispatchEvent(new Event("backing"));
    clearTimeout(this.resting);
    const { project } = this;
    this.desk.onceReady(() => this.project === project && this.#catchUpIn(CONFIRM_MS));
  }

  /** Design and backing where both are of the project as it is. */
  get views() {
    const { design, backing, fresh, adopted } = this;
    const hold = adopted.size === 2 || (fresh.design && fresh.backing && !this.busy);
    return design && backing && hold ? { design, backing } : null;
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
      const plan = await this.desk.plan(project, seconds, (found) => this.#found(search, found), search.signal);
      if (this.search === search) this.plan = plan;
    } catch (error) {
      if (!(error instanceof Cancelled)) this.#note("plan", error);
      else if (this.search === search) await this.#seeKept(project, search);
    }
    if (this.search !== search) return;
    this.search = null;
    this.planning = null;
    this.dispatchEvent(new Event("plan"));
    if (this.planHolds) this.dispatchEvent(new Event("planned"));
    if (this.project) await this.#seePreview(this.project);
  }

  /**
   * The plan that the desk kept from a search that was stopped: it may be ahead of what was shown.
   *
   * @param {Project} project
   * @param {AbortController} search
   */
  async #seeKept(project, search) {
    const anyRounds = { ...project, plan: { ...project.plan, rounds: null } };
    try {
      const plan = await this.desk.plan(anyRounds, 0, () => {}, new AbortController().signal);
      if (this.search === search) this.plan = plan;
    } catch (error) {
      // A search that ends because the project changed says nothing of the project as it is now.
      if (this.search === search && this.project === project) this.#note("plan", error);
    }
  }

  /** Takes the plan's time at another cutting speed. @param {Project} project */
  async timePlan(project) {
    if (!this.planHolds || this.search || project.plan.rounds === null) return;
    try {
      this.plan = await this.desk.plan(project, 0, () => {}, new AbortController().signal);
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
    return this.plan !== null && this.fresh.plan && !this.trouble.has("plan");
  }

  /**
   * @param {AbortController} search
   * @param {Partial<Plan> & {elapsed_s: number}} found
   */
  #found(search, { elapsed_s: elapsed, ...plan }) {
    if (this.search !== search || !this.planning) return;
    this.planning = { ...this.planning, elapsed };
    if (plan.trims) this.plan = /** @type {Plan} */ (plan);
    this.dispatchEvent(new Event("plan"));
  }

  /** @param {Project} project */
  async #seePreview(project) {
    if (!this.planHolds || this.project !== project) return;
    try {
      const preview = await this.desk.preview(project);
      if (!this.planHolds || this.search || this.project?.id !== project.id) return;
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
    this.design = null;
    this.backing = null;
    this.plan = null;
    this.preview = null;
    this.adopted.clear();
    this.trouble.clear();
  }

  /** @param {StepName} from  the first step that no longer holds */
  #outdate(from) {
    this.fresh.plan = false;
    this.trouble.delete("plan");
    this.preview = null;
    this.stopPlan();
    if (from === "plan") {
      this.dispatchEvent(new Event("plan"));
      return;
    }
    this.fresh.backing = false;
    this.adopted.delete("backing");
    if (from === "backing") return;
    this.fresh.design = false;
    this.adopted.delete("design");
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
      const project = this.project;
      if (!this.fresh.design) await this.#renew("design", project);
      else await this.#renew("backing", project);
    }
    this.busy = false;
  }

  /**
   * @param {"design" | "backing"} step
   * @param {Project} project
   */
  async #renew(step, project) {
    this.fresh[step] = true;
    try {
      const value =
        step === "design"
          ? await this.desk.design(project, (preview) => this.#foresee("design", project, preview))
          : await this.desk.backing(project, (preview) => this.#foresee("backing", project, preview));
      if (this.project?.id !== project.id) return;
      this.trouble.delete(step);
      const known = this.adopted.delete(step) && JSON.stringify(value) === JSON.stringify(this[step]);
      if (known) return;
      if (step === "design") this.design = /** @type {Design} */ (value);
      else this.backing = /** @type {Backing} */ (value);
    } catch (error) {
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
   * @param {Project} project
   * @param {Design | Backing} preview
   */
  #foresee(step, project, preview) {
    if (this.project !== project || this.adopted.has(step)) return;
    if (step === "design") this.design = /** @type {Design} */ (preview);
    else this.backing = /** @type {Backing} */ (preview);
    this.dispatchEvent(new Event(step));
  }

  /**
   * @param {StepName} step
   * @param {unknown} error
   */
  #note(step, error) {
    const fault = error instanceof Refusal ? null : sentenceOf(error);
    this.trouble.set(step, (unit) => fault ?? sentenceOf(error, unit));
    this.dispatchEvent(new Event("trouble"));
  }
}
