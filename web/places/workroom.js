import { Overtaken } from "../desk/questions.js";
import { Refusal } from "../words/refusal.js";
import { amend, chosen, give, lock, swappedWith } from "../project/edits.js";
import { graft } from "../project/graft.js";
import { linkedTo, shelved } from "../project/stash.js";
import { sameDesign } from "../project/same.js";
import { Faces } from "../stage/faces.js";
import { OpeningFinder } from "../stage/opening-finder.js";
import { Shapes } from "../stage/shapes.js";
import { say } from "../words/words.js";
import { Hints } from "./hints.js";
import { Likeness } from "./likeness.js";
import { Motifs } from "./motifs.js";

/** @typedef {import("../desk/types.js").Paper} Paper */
/** @typedef {import("../desk/types.js").Project} Project */
/** @typedef {import("../desk/types.js").Affine} Affine */
/** @typedef {import("../stage/stage.js").Stage} Stage */

/** How often the package is asked to do an edit anew because the person went on meanwhile. */
const MOST_TRIES = 6;
/** Edits by which a person tells of papers that they have. */
const SHELF_EDITS = new Set(["put_paper", "put_scraps", "duplicate_paper", "add_shelf"]);

/** What the places share: the project, what was computed for it, what is in hand, and the table it lies on. */
export class Workroom {
  /**
   * @param {{
   *   store: import("../project/store.js").Store,
   *   desk: import("../desk/desk.js").Desk,
   *   questions: import("../desk/questions.js").Questions,
   *   bench: import("../desk/bench.js").Bench,
   *   session: import("../parts/session.js").Session,
   *   pictures: import("../project/pictures.js").Pictures,
   *   stash: import("../project/stash.js").Stash,
   *   paint: import("../stage/paper-paint.js").PaperPaint,
   *   notices: import("../parts/notices.js").Notices,
   *   repaint: (region: import("../desk/types.js").Box | null) => void,
   *   lookAt: (box: import("../desk/types.js").Box) => void,
   *   view: () => import("../stage/view.js").View,
   * }} tools
   */
  constructor({ store, desk, questions, bench, session, pictures, stash, paint, notices, repaint, lookAt, view }) {
    this.store = store;
    this.desk = desk;
    this.questions = questions;
    this.bench = bench;
    this.session = session;
    this.pictures = pictures;
    this.stash = stash;
    this.paint = paint;
    /** What is done with a picture that is dropped on the page. @type {(file: File) => void} */
    this.bringPhoto = () => {};
    this.notices = notices;
    this.repaint = repaint;
    this.lookAt = lookAt;
    /** How the table is looked at. */
    this.view = view;
    /** @type {Shapes | null} */
    this.shapes = null;
    /** @type {OpeningFinder | null} */
    this.finder = null;
    /** Which openings count as alike. */
    this.likeness = new Likeness(this);
    /** Which openings belong together in the picture. */
    this.motifs = new Motifs(this);
    /** What is written on the table of what hands do. */
    this.hints = new Hints();
    /** Typefaces for words on the page. */
    this.faces = new Faces();
    /** @type {Map<string, Paper>} */
    this.papers = new Map();
    /** What mends of the card will do once the design has them. @type {readonly import("../desk/types.js").Changed[]} */
    this.promised = [];
    bench.addEventListener("design", () => this.#reshape());
    bench.addEventListener("planned", () => this.#noteRounds());
    /** By paper id, where papers that were changed here are in the stash. @type {Map<string, string>} */
    this.links = new Map();
    /** The project before its last step. @type {Project | null} */
    this.before = null;
    /** Resolves once what changed on the shelf here changed in the stash, too. @type {Promise<void>} */
    this.laidIn = Promise.resolve();
    stash.addEventListener("change", (event) => {
      // A step back would bring counts and scraps back that are gone meanwhile.
      if (!(/** @type {CustomEvent<{laidIn: boolean}>} */ (event).detail.laidIn)) this.links.clear();
    });
    store.addEventListener("change", (event) => {
      const { step } = /** @type {CustomEvent<import("../project/store.js").Change>} */ (event).detail;
      this.#restock();
      this.#layBack(step);
    });
  }

  /** @returns {Project} */
  get project() {
    if (!this.store.project) throw new Error("no project is open");
    return this.store.project;
  }

  get unit() {
    return this.store.project?.units ?? "in";
  }

  /**
   * The project as it lies on the table: where the design of the project as it is is still to be made, the project as
   * it was, whose numbers are those of the openings that are seen.
   *
   * @returns {Project}
   */
  get shown() {
    return this.bench.madeOf.design ?? this.project;
  }

  /** @param {number} number  of an opening  @returns {Paper | null} */
  paperOf(number) {
    if (!this.store.project) return null;
    const { papers, locked } = chosen(this.shown);
    const { swapped } = this.session.hand;
    const given = papers[number] ?? "";
    return this.papers.get(swapped && !locked.includes(number) ? swappedWith(given, ...swapped) : given) ?? null;
  }

  /** Where an opening's piece comes from in its paper, once planned. @param {number} number  @returns {Affine | null} */
  placeOf(number) {
    return this.bench.preview?.openings[number] ?? null;
  }

  /** @param {number} number  @returns {readonly number[]} the openings that count as alike to this one, itself too */
  alikeTo(number) {
    return this.likeness.to(number);
  }

  /**
   * @param {number} number  of an opening
   * @param {import("../parts/session.js").Hand["gives"]} gives
   * @returns {readonly number[]} the openings that a tap on this one reaches, itself too
   */
  reachedFrom(number, gives) {
    if (gives === "one") return [number];
    if (gives === "alike") return this.alikeTo(number);
    if (gives === "motif") return this.motifs.around(number);
    const shape = this.shapes?.byNumber.get(number)?.same_shape;
    return (this.shapes?.openings ?? []).filter((each) => each.same_shape === shape).map((each) => each.number);
  }

  /** A paper's place on the shelf, by which it is told apart besides its look. @param {string} id */
  shelfNumber(id) {
    return this.project.shelf.papers.findIndex((paper) => paper.id === id) + 1;
  }

  /**
   * Changes the project by the package's rules, in one step to undo; tells the person where that is refused.
   *
   * @param {readonly {edit: string, to: Record<string, unknown>}[]} edits
   * @param {(error: unknown) => void} [refuse]
   * @returns {Promise<boolean>} whether it was done
   */
  async change(edits, refuse = (error) => this.notices.tellError(error, { stays: true })) {
    const edited = async (/** @type {Project} */ project) => {
      let after = project;
      for (const { edit, to } of edits) after = graft(after, await this.desk.edit(after, edit, to));
      return after;
    };
    const isShelf = edits.some(({ edit }) => SHELF_EDITS.has(edit));
    return this.become(edited, refuse, (before, after) => isShelf && this.#layIn(shelved(before, after)));
  }

  /**
   * Lets the project be another that is asked for, in one step to undo.
   *
   * @param {(project: Project) => Promise<Project>} ask
   * @param {(error: unknown) => void} refuse
   * @param {(before: Project, after: Project) => void} [then]
   * @returns {Promise<boolean>} whether it was done
   */
  async become(ask, refuse, then = () => {}) {
    try {
      for (let tries = 0; tries < MOST_TRIES; tries += 1) {
        const before = this.project;
        const after = await this.questions.ask("project", ask);
        // The person went on meanwhile: the edits are for what the project is now.
        if (this.project !== before) continue;
        await this.#prepare(before, after);
        if (this.project.id !== before.id) return false;
        if (this.project !== before) continue;
        this.store.edit("", () => after);
        then(before, after);
        return true;
      }
      throw new Refusal({ key: "act.overtaken", figures: {} });
    } catch (error) {
      if (!(error instanceof Overtaken)) refuse(error);
      return false;
    }
  }

  /**
   * Lays papers that were changed on the shelf into the stash, too.
   *
   * @param {readonly string[]} papers  their ids
   */
  #layIn(papers) {
    if (papers.length > 0) this.laidIn = Promise.all([this.laidIn, this.#layInNow(papers)]).then(() => {});
  }

  /** @param {readonly string[]} papers */
  async #layInNow(papers) {
    try {
      this.linkTo(await this.questions.ask("project", (project) => this.stash.layIn(project, papers)));
    } catch (error) {
      if (!(error instanceof Overtaken)) this.notices.tell(say("stash.not-kept"), { stays: true });
    }
  }

  /**
   * Lets a step back or forth hold for the stash, too, where papers were changed here.
   *
   * @param {import("../project/course.js").Step | null} step
   */
  #layBack(step) {
    const { before, project } = this;
    this.before = project;
    if (!step) this.links.clear();
    if (!before || !step || (step.kind !== "undo" && step.kind !== "redo")) return;
    const papers = shelved(before, project).filter((id) => this.links.has(id));
    if (papers.length === 0) return;
    this.linkTo(Object.fromEntries(this.links));
    this.#layIn(papers);
  }

  /**
   * Notes which papers of the stash those on the shelf are.
   *
   * @param {Readonly<Record<string, string>>} links  by paper id
   */
  linkTo(links) {
    for (const [paper, stashed] of Object.entries(links)) this.links.set(paper, stashed);
    this.store.note((project) => linkedTo(project, links));
  }

  /**
   * Has what is seen of the design made that the project is about to have, if that is another one.
   *
   * @param {Project} before
   * @param {Project} after
   */
  async #prepare(before, after) {
    if (sameDesign(before, after)) return;
    const design = await this.desk.designSeen(after).catch(() => null);
    if (design && this.project === before) this.bench.prepare(after, design);
  }

  /**
   * Does to openings what is in hand: locks or unlocks them, else gives them the picked paper.
   *
   * @param {readonly number[]} numbers
   * @param {string} [name]  of the step to undo; steps of one name in a row are one
   * @param {boolean} [locks]  whether to lock; where it is left out, all locked ones are unlocked
   */
  handle(numbers, name = "", locks = !this.areLocked(numbers)) {
    if (this.#isBehind()) return;
    if (this.session.hand.tool === "paper") this.give(numbers, name);
    else this.store.edit(name, (project) => lock(project, numbers, locks));
  }

  /** @param {readonly number[]} numbers  @returns {boolean} whether all of them are locked */
  areLocked(numbers) {
    const locked = new Set(chosen(this.shown).locked);
    return numbers.every((number) => locked.has(number));
  }

  /**
   * Gives openings the picked paper; the next frame shows it.
   *
   * @param {Iterable<number>} numbers
   * @param {string} name  of the step to undo; steps of one name in a row are one
   */
  give(numbers, name = "") {
    if (this.#isBehind()) return;
    const { picked } = this.session.hand;
    if (picked === undefined || (picked !== null && !this.papers.has(picked))) return;
    this.store.edit(name, (project) => give(project, numbers, picked));
  }

  /**
   * Makes mends, which show on the card at once.
   *
   * @param {readonly {edit: string, to: Record<string, unknown>}[]} edits
   * @param {readonly (import("../desk/types.js").Changed & {box: import("../desk/types.js").Box})[]} changes  what
   *   they add to the card and take away, and where
   */
  async mend(edits, changes) {
    this.promised = [...this.promised, ...changes];
    // One spot is on the table with this very frame; many are drawn with the rest.
    this.repaint(changes.length === 1 ? (changes[0]?.box ?? null) : null);
    await this.change(edits);
    this.promised = this.promised.filter((each) => !changes.some((change) => change === each));
    this.repaint(null);
  }

  /**
   * Whether the openings that are seen have other numbers than the project's, or it isn't known yet which are alike
   * while all alike are to be given; says so to a hand.
   */
  #isBehind() {
    const { design } = this.bench;
    const isBehind = this.bench.isBehind || (this.session.hand.gives !== "one" && design?.is_whole === false);
    if (isBehind) this.notices.tell(say("stage.renewing"));
    return isBehind;
  }

  #reshape() {
    const { design } = this.bench;
    if (!design) this.promised = [];
    const shapes = design && new Shapes(design);
    this.shapes = shapes;
    // Before a hand asks for them, and after what is seen.
    if (shapes) setTimeout(() => this.shapes === shapes && shapes.cardRings);
    this.finder = this.shapes && new OpeningFinder(this.shapes);
  }

  /** The rounds that went into the plan stand in the project, so that it comes again as it is. */
  #noteRounds() {
    const { plan } = this.bench;
    if (plan) this.store.note((project) => amend(project, "plan", { rounds: plan.rounds }));
  }

  #restock() {
    const { papers } = this.project.shelf;
    this.papers = new Map(papers.map((paper) => [paper.id, paper]));
    // A step back may take the paper in hand off the shelf.
    const { picked } = this.session.hand;
    if (picked && !this.papers.has(picked)) this.session.take({ picked: papers[0]?.id ?? null });
  }
}
