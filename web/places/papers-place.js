import { icon, make } from "../parts/dom.js";
import { Tabs } from "../parts/tabs.js";
import { toTop } from "../parts/to-top.js";
import { chosen } from "../project/edits.js";
import { LocksLayer } from "../stage/layers/locks-layer.js";
import { MarksLayer } from "../stage/layers/marks-layer.js";
import { SpanLayer } from "../stage/layers/span-layer.js";
import { say } from "../words/words.js";
import { pieceScene } from "./front.js";
import { AlikeChip } from "./papers/giving/alike-chip.js";
import { ColourwaysPart } from "./papers/colours/colourways-part.js";
import { GivingPart } from "./papers/giving/giving-part.js";
import { HandPart } from "./papers/giving/hand-part.js";
import { paperFromPhoto } from "./papers/photos/photo-dialog.js";
import { PagePart } from "./papers/page-part.js";
import { pageScene } from "./papers/page-scene.js";
import { ShelfPart } from "./papers/shelf-part.js";
import { SuggestPart } from "./papers/colours/suggest-part.js";
import { TONES } from "../stage/colours.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */
/** @typedef {import("../parts/session.js").Hand["papersPart"]} PartName */

/** Papers: pick one, tap the openings that it should back; or let papers be spread; try them in colourways. */
export class PapersPlace {
  /**
   * @param {Workroom} room
   * @param {() => void} next
   */
  constructor(room, next) {
    this.room = room;
    this.name = /** @type {const} */ ("papers");
    const bringPhoto = (/** @type {File} */ file) => void paperFromPhoto(room, file);
    room.bringPhoto = bringPhoto;
    this.shelf = new ShelfPart(room, bringPhoto);
    this.giving = new GivingPart(room);
    this.suggest = new SuggestPart(room);
    this.colourways = new ColourwaysPart(room);
    this.page = new PagePart(room);
    this.chip = new AlikeChip(room);
    this.hand = new HandPart(room);
    this.tabs = /** @type {Tabs<PartName>} */ (
      new Tabs(
        say("papers.tabs"),
        [
          {
            name: "give",
            key: "papers.tab-give",
            panel: make("div", { class: "stack" }, this.shelf.element, this.giving.element),
          },
          { name: "suggest", key: "papers.tab-suggest", panel: this.suggest.element },
          { name: "colourways", key: "papers.tab-colourways", panel: this.colourways.element },
          { name: "page", key: "papers.tab-page", panel: this.page.element },
        ],
        (papersPart) => this.#turnTo(papersPart),
      )
    );
    // What stands in the parts are headings of the third rank.
    this.panel = make("div", {}, make("h2", { class: "unseen" }, say("place.papers")), this.tabs.element);
    this.foot = make(
      "button",
      { help: "papers.next", type: "button", class: "button-main button-wide", onclick: next },
      say("papers.next"),
      icon("next"),
    );
    this.over = this.chip.element;
    this.atHand = this.hand.element;
  }

  /** @param {PartName} papersPart */
  #turnTo(papersPart) {
    this.room.session.take({ papersPart, mirrored: false, motif: null });
    toTop(this.panel);
  }

  get #onPage() {
    return this.room.session.hand.papersPart === "page";
  }

  /** On the page a tap picks what lies there; else it gives. */
  get tapTable() {
    return this.#onPage ? (/** @type {number} */ x, /** @type {number} */ y) => this.page.tap(x, y) : null;
  }

  get carries() {
    return this.#onPage ? this.page : null;
  }

  get sweeps() {
    return !this.#onPage;
  }

  /** What the scene shows besides what every place's does. */
  get sceneOf() {
    return this.#onPage ? ["page", this.room.project.page] : [];
  }

  enter() {
    const { session, project } = this.room;
    this.chip.hide();
    session.take({ motif: null });
    const first = project.shelf.papers[0];
    const { picked } = session.hand;
    if (picked === undefined || (picked !== null && !this.room.papers.has(picked))) {
      session.take({ picked: first?.id ?? null });
    }
  }

  update() {
    this.room.desk.packSoon(this.room.project);
    const { papersPart } = this.room.session.hand;
    this.tabs.show(papersPart);
    this.hand.element.hidden = papersPart !== "give";
    this.hand.update();
    if (papersPart === "give") this.chip.update();
    else this.chip.hide();
    if (papersPart === "give") {
      this.shelf.update();
      this.giving.update();
    } else if (papersPart === "suggest") this.suggest.update();
    else if (papersPart === "page") this.page.update();
    else this.colourways.update();
  }

  scene() {
    const { shapes } = this.room;
    if (!shapes) return null;
    if (this.#onPage) return pageScene(this.room, () => this.page.aids);
    return pieceScene(
      this.room,
      [
        new MarksLayer(shapes, () => [this.#openings(), ...this.#likened(), ...this.#held()]),
        new LocksLayer(shapes, () => chosen(this.room.shown).locked),
        new SpanLayer(() => this.#span),
      ],
      this.room.session.hand.mirrored,
    );
  }

  /** The box around the openings that the keyboard spans, if any. */
  get #span() {
    const { spanned, active } = this.room.session.hand;
    return spanned === null || active === null ? null : (this.room.shapes?.boxOf([spanned, active]) ?? null);
  }

  hint() {
    const { papersPart, picked, tool, drag, gives, swaps, swapped, motif } = this.room.session.hand;
    if (this.#onPage) return say("hint.page");
    // Where no paper is in sight none is in hand to tell of.
    if (papersPart !== "give") return "";
    if (this.room.shapes?.openings.length === 0) return "";
    const { hints, papers } = this.room;
    if (swaps !== null) return say("hint.swap-with", { paper: papers.get(swaps)?.name ?? "" });
    if (swapped) return say("hint.swap");
    if (motif !== null) return say("hint.motif");
    if (tool === "lock") return hints.of("hint.lock");
    if (picked === undefined) return say("hint.pick");
    if (picked === null) return hints.of("hint.leave");
    const paper = papers.get(picked)?.name ?? "";
    return [hints.of(`hint.tap-${gives}`, { paper }), hints.of(`hint.drag-${drag}`)].filter(Boolean).join(" ");
  }

  /** What was done at the table: who has done it a few times is told of it no more. @param {"tap" | "drag"} by */
  #did(by) {
    const { picked, tool, gives, drag } = this.room.session.hand;
    const { hints } = this.room;
    if (tool === "lock") hints.did("hint.lock");
    else if (picked === null) hints.did("hint.leave");
    else hints.did(by === "tap" ? `hint.tap-${gives}` : `hint.drag-${drag}`);
  }

  /** A drag gave to openings. */
  swept() {
    this.#did("drag");
  }

  /** What takes in the openings that were drawn round, while a motif is changed. */
  get takesIn() {
    const { room } = this;
    return room.session.hand.motif === null ? null : (/** @type {readonly number[]} */ numbers) => room.motifs.turnOver(numbers);
  }

  /** @param {number} number */
  give(number) {
    if (this.takesIn) {
      this.takesIn([number]);
      return;
    }
    this.room.likeness.touched = number;
    this.room.handle(this.room.reachedFrom(number, this.room.session.hand.gives));
    this.chip.offer(number);
    this.#did("tap");
  }

  /** @param {number} number */
  giveAlike(number) {
    this.room.handle(this.room.alikeTo(number));
  }

  /** The openings that light up while it is being set how alike they must be. */
  #likened() {
    const { likened } = this.room.session.hand;
    if (likened === null) return [];
    const numbers = new Set(this.room.likeness.lit(likened));
    return [{ numbers, colour: TONES.accent, under: TONES.paper, width: 3 }];
  }

  /** The openings of the motif that is being changed. */
  #held() {
    const { held } = this.room.motifs;
    return held ? [{ numbers: new Set(held.openings), colour: TONES.accent, under: TONES.paper, width: 3 }] : [];
  }

  /** The openings left open, told apart from pale papers by a dashed edge. */
  #openings() {
    const { shown, shapes } = this.room;
    const { papers } = chosen(shown);
    const numbers = new Set((shapes?.openings ?? []).map(({ number }) => number).filter((number) => !papers[number]));
    return { numbers, colour: TONES.inkSoft, under: TONES.paper, width: 1, dashed: true };
  }
}
