import { icon, make, write } from "../../parts/dom.js";
import { Reorder } from "../../parts/reorder.js";
import { swatch } from "../../parts/swatch.js";
import { chosen, movePaper, swapPapers } from "../../project/edits.js";
import { say } from "../../words/words.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Paper} Paper */
/** @typedef {{button: HTMLButtonElement, used: HTMLElement}} Sheet */

const LEAVE = "leave";
const LOCK = "lock";

/** The papers at hand as sheets on a shelf that stays in sight, and two tools beside them: leave open, and lock. */
export class PaperShelf {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    /** @type {readonly Paper[] | null} */
    this.papers = null;
    this.pictures = -1;
    /** What was in hand when the shelf was brought in step last. @type {string | undefined} */
    this.inHand = undefined;
    /** By paper id, `LEAVE` or `LOCK`. @type {Map<string, Sheet>} */
    this.sheets = new Map();
    this.element = make("ul", { class: "sheets", "aria-label": say("papers.title") });
    this.reorder = new Reorder(this.element, {
      move: (from, to) => {
        const paper = this.papers?.[from];
        if (paper) room.store.edit("", (project) => movePaper(project, paper.id, to));
      },
      over: (item, onto) => room.session.take({ swapped: onto && [idOf(item), idOf(onto)] }),
      onto: (item, onto) => this.#swap(idOf(item), idOf(onto)),
    });
  }

  update() {
    const { project, session, paint } = this.room;
    const isStale = project.shelf.papers !== this.papers || paint.loaded !== this.pictures;
    if (isStale && !this.reorder.isPressed) this.#build(project.shelf.papers);
    const { papers, locked } = chosen(project);
    const uses = new Map([[LOCK, locked.length]]);
    for (const id of Object.values(papers)) uses.set(id, (uses.get(id) ?? 0) + 1);
    const { tool, picked, swaps } = session.hand;
    const inHand = tool === "lock" ? LOCK : picked === null ? LEAVE : picked;
    this.element.toggleAttribute("data-swaps", swaps !== null);
    if (inHand !== this.inHand) this.#reveal(inHand);
    this.inHand = inHand;
    for (const [id, { button, used }] of this.sheets) {
      button.setAttribute("aria-pressed", String(id === inHand));
      const count = uses.get(id) ?? 0;
      write(used, count > 0 ? String(count) : "");
      used.title = count > 0 ? say(id === LOCK ? "papers.locked" : "papers.used", { count }) : "";
    }
  }

  /** @param {readonly Paper[]} papers */
  #build(papers) {
    this.papers = papers;
    this.pictures = this.room.paint.loaded;
    this.sheets.clear();
    const { session } = this.room;
    this.element.replaceChildren(
      ...papers.map((paper, at) =>
        this.#sheet(paper.id, "kind-paper", swatch(this.room.paint, paper, 140, 96), paper.name, String(at + 1), () =>
          this.#pick(paper.id),
        ),
      ),
      this.#sheet(LEAVE, "papers.leave", symbol("hole"), say("papers.leave"), "", () => session.take({ picked: null, tool: "paper", swaps: null })),
      this.#sheet(LOCK, "papers.lock", symbol("lock"), say("papers.lock"), "", () => session.take({ tool: "lock", swaps: null })),
    );
  }

  /** Takes a paper in hand, or lets it change places with the one that waits for it. @param {string} id */
  #pick(id) {
    const { session } = this.room;
    const { swaps } = session.hand;
    if (swaps !== null && swaps !== id) this.#swap(swaps, id);
    else session.take({ picked: id, tool: "paper", swaps: null });
  }

  /**
   * @param {string} one
   * @param {string} other
   */
  #swap(one, other) {
    const { session, store, notices, papers } = this.room;
    session.take({ swaps: null, swapped: null });
    const before = this.room.project;
    store.edit("", (project) => swapPapers(project, one, other));
    const names = { one: papers.get(one)?.name ?? "", other: papers.get(other)?.name ?? "" };
    notices.tell(say(this.room.project === before ? "papers.swapped-none" : "papers.swapped", names));
    this.room.hints.did("hint.swap");
  }

  /** Brings what is in hand into sight on the shelf. @param {string | undefined} id */
  #reveal(id) {
    const { element } = this;
    const item = this.sheets.get(id ?? "")?.button;
    if (!item || element.matches(":hover")) return;
    const [seen, box] = [element.getBoundingClientRect(), item.getBoundingClientRect()];
    const by = (/** @type {number} */ start, /** @type {number} */ end, /** @type {number} */ from, /** @type {number} */ to) => (from < start ? from - start : to > end ? to - end : 0);
    element.scrollBy(by(seen.left, seen.right, box.left, box.right), by(seen.top, seen.bottom, box.top, box.bottom));
  }

  /**
   * @param {string} id
   * @param {string} help  the key of what help tells of it
   * @param {HTMLElement} picture
   * @param {string} name
   * @param {string} number
   * @param {() => void} pick
   */
  #sheet(id, help, picture, name, number, pick) {
    const used = make("span", { class: "sheet-used" });
    const button = make(
      "button",
      { help, type: "button", class: "sheet", onclick: pick },
      picture,
      make(
        "span",
        { class: "sheet-name" },
        number ? make("span", { class: "sheet-number" }, number) : null,
        make("span", {}, name),
      ),
      used,
    );
    this.sheets.set(id, { button, used });
    return make("li", { "data-moves": String(number !== ""), "data-paper": id }, button);
  }
}

/** @param {HTMLElement} item */
function idOf(item) {
  return item.dataset["paper"] ?? "";
}

/** @param {string} name */
function symbol(name) {
  return make("span", { class: "swatch swatch-open" }, icon(name));
}
