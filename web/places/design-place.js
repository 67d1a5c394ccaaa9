import { Choice } from "../parts/choice.js";
import { icon, make } from "../parts/dom.js";
import { LengthField } from "../parts/length-field.js";
import { roundUp, writeAbout } from "../parts/lengths.js";
import { Toggle } from "../parts/toggle.js";
import { amend, give, share } from "../project/edits.js";
import { say } from "../words/words.js";
import { CheckList } from "./check-list.js";
import { StrengthKey } from "./strength-key.js";
import { pieceScene } from "./front.js";
import { LipPart } from "./lip-part.js";
import { MATS, matThatHolds, nameOfMat, withPlan } from "./mats/mat-sizes.js";
import { StrengthLayer } from "../stage/layers/strength-layer.js";
import { StripsLayer } from "../stage/layers/strips-layer.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */
/** @typedef {import("./place.js").Place} Place */
/** @typedef {import("../desk/types.js").Design} Design */
/** @typedef {import("../words/words.js").Key} Key */

/** The id of the demo's project. */
const DEMO = "harbour-panel";

const PIXELS_PER_INCH = [96, 90, 72];

/** The design and its check: how large, how read, what to mend before cutting, and the lip for the glue. */
export class DesignPlace {
  /**
   * @param {Workroom} room
   * @param {() => void} next
   */
  constructor(room, next) {
    this.room = room;
    this.name = /** @type {const} */ ("design");
    /** The opening that was tapped first, where pieces are joined or parted. @type {number | null} */
    this.first = null;
    this.tapTable = null;
    this.sweeps = false;
    const read = (/** @type {string} */ text) => room.desk.readLength(text, room.unit);
    const step = (/** @type {string} */ unit) => (unit === "in" ? 6.35 : 5);
    this.width = new LengthField(say("design.width"), {
      read,
      step,
      change: (mm) => this.#resize({ width_mm: mm, height_mm: null }),
    });
    this.height = new LengthField(say("design.height"), {
      read,
      step,
      change: (mm) => this.#resize({ width_mm: null, height_mm: mm }),
    });
    this.guess = /** @type {Choice<string>} */ (
      new Choice(say("design.guess"), (value) => this.#read({ px_per_inch: Number(value) }))
    );
    this.habit = /** @type {Choice<string>} */ (
      new Choice(say("design.reading"), (habit) => this.#readAgain({ habit }))
    );
    this.colour = /** @type {Choice<string>} */ (
      new Choice(say("design.card-colour"), (card_colour) => this.#readAgain({ card_colour }))
    );
    this.check = new CheckList(
      (warning, at) => this.#seeWarning(warning, at),
      (warning) => this.#offers(warning),
    );
    this.strength = new Toggle(say("design.strength"), (strength) => room.session.take({ strength }));
    this.lip = new LipPart(room, (warning) => this.#offers(warning));
    this.count = make("p", { class: "soft" });
    this.trouble = make("p", { class: "trouble", role: "alert" });
    this.panel = make(
      "div",
      {},
      this.trouble,
      make(
        "section",
        { class: "part" },
        make("h2", {}, say("design.size")),
        this.count,
        this.guess.element,
        make("div", { class: "fields" }, this.width.element, this.height.element),
      ),
      make(
        "section",
        { class: "part" },
        make("h2", {}, say("design.check")),
        this.check.element,
        this.strength.element,
        (this.key = new StrengthKey()).element,
      ),
      this.lip.element,
      (this.reading = make("section", { class: "part" }, this.habit.element, this.colour.element)),
    );
    this.foot = make(
      "button",
      { type: "button", class: "button-main button-wide", onclick: next },
      say("design.next"),
      icon("next"),
    );
  }

  enter() {}

  update() {
    const { bench, project, unit, session } = this.room;
    this.trouble.textContent = bench.trouble.get("design")?.(unit) ?? "";
    this.strength.show(session.hand.strength);
    this.key.show(session.hand.strength, project.limits.bar_mm, unit);
    this.lip.update();
    if (!session.hand.joins) this.first = null;
    const { design } = bench;
    if (!design) return;
    // A size that was just set is not yet the design's: steps go on from it.
    const { width_mm: width, height_mm: height } = project.reading;
    this.width.show(width ?? design.width_mm, unit, project.id);
    this.height.show((width === null ? height : null) ?? design.height_mm, unit, project.id);
    this.count.textContent = say("design.count", { count: design.openings.length });
    this.#showGuess(design, project.reading.px_per_inch);
    this.check.show(design.is_whole ? design.warnings : null, session.hand.warning, unit);
    this.habit.show(
      design.habits.toSorted().map((habit) => ({ value: habit, text: say(/** @type {Key} */ (`habit.${habit}`)) })),
      design.habit,
    );
    this.colour.element.hidden = design.habit !== "layers";
    this.colour.show(
      design.colours.map((colour) => ({ value: colour, text: colour, colour })),
      project.reading.card_colour ?? design.colours[0] ?? null,
    );
    this.reading.hidden = design.habits.length < 2 && this.colour.element.hidden;
  }

  /** While pieces are joined or parted, a tap does that. */
  get give() {
    return this.room.session.hand.joins ? (/** @type {number} */ number) => this.#join(number) : null;
  }

  /** @param {number} number  of the first or of the second opening */
  #join(number) {
    const { session, store, bench, notices, project } = this.room;
    const { first } = this;
    this.first = first === null ? number : null;
    session.take({ active: number });
    if (first === null || first === number) return;
    const piece = bench.backing?.pieces.find(({ openings }) => openings.includes(first));
    const isWanted = project.backing.joined.some((pair) => pair.includes(first) && pair.includes(number));
    const together = !isWanted && !piece?.openings.includes(number);
    store.edit("", (project) => share(project, first, number, together));
    notices.tell(say(together ? "design.joined" : "design.parted", { first, second: number }));
  }

  /**
   * What one tap can do about a warning, besides showing its place.
   *
   * @param {import("../desk/types.js").Warning} warning
   * @returns {import("./check-list.js").Offer[]}
   */
  #offers({ code, action, values }) {
    const { unit, store } = this.room;
    const setSize = { words: say("design.do-set-size"), act: () => this.width.input.focus() };
    if (action === "leave-open") return [{ words: say("design.do-leave-open"), act: () => this.#leaveSmallOnesOpen() }];
    if (action === "change-habit" && !this.reading.hidden) {
      return [{ words: say("design.do-change-habit"), act: () => this.habit.element.querySelector("input")?.focus() }];
    }
    const wanted = code === "narrow-lip" ? this.room.bench.backing?.smallest_width_mm : values.wanted_mm;
    if (action === "set-width" && wanted) {
      const wide = roundUp(wanted, unit);
      const act = () => this.#resize({ width_mm: wide, height_mm: null });
      return [{ words: say("design.do-set-width", { width: writeAbout([wide], unit) }), act }];
    }
    const mat = code === "larger-than-mat" && matThatHolds(values.width_mm ?? 0, values.height_mm ?? 0, unit);
    const size = mat && MATS[mat];
    if (size) {
      const act = () => store.edit("mat", (project) => withPlan(project, { mat_width_mm: size[0], mat_height_mm: size[1] }));
      return [{ words: say("design.do-take-mat", { mat: nameOfMat(mat, unit) }), act }, setSize];
    }
    return action === "set-size" || action === "set-width" ? [setSize] : [];
  }

  #leaveSmallOnesOpen() {
    const { bench, project, store, notices } = this.room;
    const small = (bench.design?.openings ?? []).filter(({ area_mm2: area }) => area < project.limits.opening_mm2);
    const numbers = small.map(({ number }) => number);
    store.edit("", (before) => give(before, numbers, null));
    notices.tell(say("design.left-open", { count: numbers.length }));
  }

  scene() {
    const { session, bench } = this.room;
    return pieceScene(
      this.room,
      [
        new StrengthLayer(() => (session.hand.strength ? (bench.design?.bars ?? []) : []), this.room.store.project?.limits.bar_mm ?? 1.5),
        new StripsLayer(() => this.#pieces()),
        new StripsLayer(() => this.#warningStrips()),
      ],
      session.hand.mirrored,
    );
  }

  hint() {
    if (this.room.session.hand.joins) return say("hint.joins");
    return say(this.room.project.id === DEMO ? "hint.demo" : "hint.design");
  }

  /**
   * @param {Design} design
   * @param {number} chosen
   */
  #showGuess(design, chosen) {
    this.guess.element.hidden = !design.size_is_a_guess;
    const pixels = design.width_mm / design.mm_per_px;
    this.guess.show(
      PIXELS_PER_INCH.map((ppi) => ({
        value: String(ppi),
        text: writeAbout([(pixels / ppi) * 25.4], this.room.unit),
        about: say("design.guess-note", { ppi }),
      })),
      String(chosen),
    );
  }

  /** @param {Partial<import("../desk/types.js").Reading>} change */
  #read(change) {
    this.room.store.edit("reading", (project) => amend(project, "reading", change));
  }

  /**
   * Reads the file another way; where its colours are layers, those in open openings become their papers.
   *
   * @param {Partial<import("../desk/types.js").Reading>} change
   */
  #readAgain(change) {
    void this.room.change([{ edit: "read_again", to: change }]);
  }

  /** @param {{width_mm: number | null, height_mm: number | null}} size */
  #resize(size) {
    this.room.store.edit("size", (project) => amend(project, "reading", size));
  }

  #pieces() {
    const { bench, session } = this.room;
    if (!session.hand.lips || !bench.backing) return [];
    const under = new Set(bench.backing.under_least_lip);
    const lines = under.size > 0 ? bench.backing.smallest_set_by : [];
    const setters = lines.map(([x0, y0, x1, y1]) => ({
      area: new Path2D(`M${x0} ${y0}L${x1} ${y1}`),
      fill: "transparent",
      edge: "#9b3418",
    }));
    const pieces = bench.backing.pieces.map(({ number, path }) => ({
      area: new Path2D(path),
      fill: under.has(number) ? "rgb(155 52 24 / 22%)" : "rgb(255 253 248 / 22%)",
      edge: under.has(number) ? "#e2683f" : "#fffdf8",
    }));
    return [...pieces, ...setters];
  }

  #warningStrips() {
    const { bench, session } = this.room;
    const shown = session.hand.warning;
    const caution = bench.backing?.warnings[session.hand.caution ?? -1]?.where;
    const cautions = caution ? [{ area: new Path2D(caution), fill: "rgb(226 104 63 / 55%)", edge: "#e2683f" }] : [];
    const warned = (bench.design?.warnings ?? []).flatMap(({ where, severity }, at) => {
      if (!where || (shown !== null ? at !== shown : severity < 3)) return [];
      return [{ area: new Path2D(where), fill: "rgb(226 104 63 / 55%)", edge: "#e2683f" }];
    });
    return [...warned, ...cautions];
  }

  /**
   * Shows where a warning is; one that is about the whole shows the whole.
   *
   * @param {import("../desk/types.js").Warning} warning
   * @param {number} at
   */
  #seeWarning({ at: [x, y], box }, at) {
    const { bench, session } = this.room;
    session.take({ warning: at });
    const { width_mm: width, height_mm: height } = bench.design ?? { width_mm: 0, height_mm: 0 };
    // The view keeps as much room on each side as the place itself takes: its middle third shows the whole.
    const whole = /** @type {const} */ ([width / 3, height / 3, (2 * width) / 3, (2 * height) / 3]);
    const [left, top, right, bottom] = box ?? [x, y, x, y];
    const near = [Math.min(x - 4, left), Math.min(y - 4, top), Math.max(x + 4, right), Math.max(y + 4, bottom)];
    this.room.lookAt(box ? /** @type {[number, number, number, number]} */ (near) : [...whole]);
  }

  /** The design's name and size, as the head shows it. */
  title() {
    const { design } = this.room.bench;
    return design ? writeAbout([design.width_mm, design.height_mm], this.room.unit) : "";
  }
}
