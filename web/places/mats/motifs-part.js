import { Fold } from "../../parts/fold.js";
import { make, write } from "../../parts/dom.js";
import { layOut } from "../../stage/layers/mats-layer.js";
import { say } from "../../words/words.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../motifs.js").ShownMotif} ShownMotif */
/** @typedef {import("../../desk/types.js").Box} Box */
/** @typedef {ShownMotif & {pieces: readonly number[]}} CutMotif */

/** So many motifs are listed at first. */
const FIRST = 12;

/** Which pieces on the mats belong together: a motif that is chosen here lights up there. */
export class MotifsPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    /** @type {readonly unknown[]} */
    this.shown = [];
    /** The project of which all motifs are listed. */
    this.allOf = "";
    this.list = make("div", { class: "motif-chips", role: "group", "aria-label": say("motifs") });
    this.more = make("button", { help: "mats.more-motifs", type: "button", class: "button-quiet", onclick: () => this.#showAll() });
    this.fold = new Fold(say("motifs"), make("p", { class: "soft small" }, say("mats.motifs-about")), this.list, this.more);
    this.element = make("section", { class: "part" }, this.fold.element);
    this.fold.element.addEventListener("toggle", () => this.#turn());
  }

  /** The numbers of the pieces that are lit, null where no motif is chosen. @returns {ReadonlySet<number> | null} */
  get lit() {
    const { lit } = this.room.session.hand;
    const pieces = this.#motifs().find(({ key }) => key === lit)?.pieces;
    return pieces ? new Set(pieces) : null;
  }

  /** What a piece's motif is called, "" where that is not known. @param {number} piece  its number */
  nameOf(piece) {
    return this.#motifs().find(({ pieces }) => pieces.includes(piece))?.title ?? "";
  }

  update() {
    const { bench, motifs, session, project } = this.room;
    const { plan } = bench;
    this.element.hidden = !plan || plan.trims.length === 0;
    if (!plan) return;
    const isTold = this.fold.element.open || project.motifs.length > 0 || session.hand.held !== null;
    if (isTold) void motifs.seek(() => this.room.session.dispatchEvent(new Event("change")));
    const seen = [motifs.known && motifs.all, bench.backing, session.hand.lit, this.allOf];
    if (seen.every((value, at) => value === this.shown[at])) return;
    this.shown = seen;
    const cut = this.#motifs().filter(({ pieces, name }) => pieces.length > 1 || name);
    write(this.fold.value, motifs.known ? String(cut.length) : "");
    const at = cut.findIndex(({ key }) => key === session.hand.lit);
    const most = this.allOf === project.id ? cut.length : Math.max(FIRST, at + 1);
    const held = document.activeElement instanceof HTMLElement ? document.activeElement.dataset["motif"] : undefined;
    this.list.replaceChildren(...cut.slice(0, most).map((motif) => this.#chip(motif)));
    this.more.hidden = cut.length <= most;
    this.more.textContent = say("mats.more-motifs", { count: cut.length - most });
    if (held) /** @type {HTMLElement | null} */ (this.list.querySelector(`[data-motif="${CSS.escape(held)}"]`))?.focus({ preventScroll: true });
  }

  /** The motifs with the pieces that they are cut as: a piece goes with its first opening. @returns {CutMotif[]} */
  #motifs() {
    const { bench, motifs } = this.room;
    if (!motifs.known) return [];
    const pieces = bench.backing?.pieces ?? [];
    return motifs.all
      .map((motif) => {
        const own = new Set(motif.openings);
        return { ...motif, pieces: pieces.filter(({ openings: [first = 0] }) => own.has(first)).map(({ number }) => number) };
      })
      .filter((motif) => motif.pieces.length > 0);
  }

  /** @param {CutMotif} motif */
  #chip(motif) {
    const { session } = this.room;
    const pressed = session.hand.lit === motif.key;
    return make(
      "button",
      {
        help: "kind-motif",
        type: "button",
        class: "piece-chip",
        "data-motif": motif.key,
        "aria-pressed": String(pressed),
        onclick: () => this.#light(pressed ? null : motif),
      },
      make("span", {}, motif.title),
      make("small", { class: "soft" }, say("mats.pieces", { count: motif.pieces.length })),
    );
  }

  /** @param {CutMotif | null} motif */
  #light(motif) {
    const { bench, session } = this.room;
    session.take({ lit: motif?.key ?? null });
    const { plan } = bench;
    if (!motif || !plan || plan.mats.length < 2) return;
    const laid = layOut(plan.mats);
    const own = new Set(motif.pieces);
    const boxes = plan.trims.filter(({ pieces }) => pieces.some(({ number }) => own.has(number))).map((trim) => laid.boxOf(trim));
    if (boxes.length > 0) this.room.lookAt(around(boxes));
  }

  /** Nothing is lit by what is folded away. */
  #turn() {
    if (this.fold.element.open) this.update();
    else this.room.session.take({ lit: null });
  }

  #showAll() {
    const next = this.list.childElementCount;
    this.allOf = this.room.project.id;
    this.update();
    /** @type {HTMLElement | undefined} */ (this.list.children[next])?.focus();
  }
}

/** @param {readonly Box[]} boxes  @returns {Box} what holds them all */
function around(boxes) {
  const [left, top, right, bottom] = [0, 1, 2, 3].map((side) => boxes.map((box) => box[/** @type {0 | 1 | 2 | 3} */ (side)]));
  return [Math.min(...(left ?? [])), Math.min(...(top ?? [])), Math.max(...(right ?? [])), Math.max(...(bottom ?? []))];
}
