import { icon, make } from "../parts/dom.js";
import { LengthField } from "../parts/length-field.js";
import { roundUp, writeAbout } from "../words/lengths.js";
import { amend, give, share } from "../project/edits.js";
import { sameDesign } from "../project/same.js";
import { say } from "../words/words.js";
import { ArrivalPart } from "./design/arrival-part.js";
import { Asked } from "./design/asked.js";
import { FewPart } from "./design/few-part.js";
import { FindingsPart, MUCH_PERCENT } from "./design/findings-part.js";
import { FramePart } from "./design/frame-part.js";
import { GuessPart } from "./design/guess-part.js";
import { HandTools } from "./design/hand-tools.js";
import { LighterPart } from "./design/lighter-part.js";
import { MendsPart } from "./design/mends-part.js";
import { ReadingsPart } from "./design/readings-part.js";
import { SmoothPart } from "./design/smooth-part.js";
import { SummaryPart } from "./design/summary-part.js";
import { pieceScene, seamsLayer } from "./front.js";
import { LipPart } from "./lip-part.js";
import { MATS, matThatHolds, nameOfMat } from "./mats/mat-sizes.js";
import { outlineOf } from "../stage/outline.js";
import { StrengthLayer } from "../stage/layers/strength-layer.js";
import { StripsLayer } from "../stage/layers/strips-layer.js";
import { TONES } from "../stage/colours.js";
import { showTrouble } from "../parts/trouble.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */
/** @typedef {import("./place.js").Place} Place */
/** @typedef {import("../desk/types.js").Design} Design */

/** The id of the demo's project. */
const DEMO = "harbour-panel";

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
    this.sweeps = false;
    /** What a drag does now, where it may be one thing or another. @type {import("./place.js").Carrier | null} */
    this.carrier = null;
    /** The project whose mends were taken from elsewhere. @type {import("../desk/types.js").Project | null} */
    this.taken = null;
    const read = (/** @type {string} */ text) => room.desk.readLength(text, room.unit);
    const step = (/** @type {string} */ unit) => (unit === "in" ? 6.35 : 5);
    this.width = new LengthField("design.width", {
      read,
      step,
      change: (mm) => this.#resize({ width_mm: mm, height_mm: null }),
    });
    this.height = new LengthField("design.height", {
      read,
      step,
      change: (mm) => this.#resize({ width_mm: null, height_mm: mm }),
    });
    this.guess = new GuessPart(
      (px_per_inch) => this.#read({ px_per_inch, width_mm: null, height_mm: null }),
      (size) => this.#resize(size),
    );
    const heard = () => this.update();
    const onceReady = (/** @type {() => void} */ act) => room.desk.onceReady(act);
    /** The ways to mend that were known last, and of which card. @type {{reading: unknown, limits: unknown, proposals: import("../desk/types.js").MendProposal[]} | null} */
    this.former = null;
    this.possible = new Asked((project, signal) => room.desk.readings(project, signal), onceReady, heard);
    this.proposed = new Asked((project, signal, progress) => room.desk.mends(project, signal, progress), onceReady, heard, sameDesign);
    this.lightened = new Asked((project, signal, progress) => room.desk.lighter(project, signal, progress), onceReady, heard, sameDesign);
    this.readings = new ReadingsPart(room);
    this.lighter = new LighterPart(room, (choice) => this.#lighten(choice));
    this.findings = new FindingsPart(room, (warning) => this.#offers(warning), this.lighter.element);
    this.mends = new MendsPart(room);
    this.tools = new HandTools(room, this.mends.bars);
    this.frame = new FramePart(room);
    this.smooth = new SmoothPart(room);
    this.few = new FewPart(room);
    this.lip = new LipPart(room);
    this.summary = new SummaryPart(room, this.findings);
    this.arrival = new ArrivalPart(
      room,
      this.readings.element,
      this.guess.element,
      make("div", { class: "fields" }, this.width.element, this.height.element),
    );
    this.trouble = make("div", { class: "trouble", role: "alert" });
    this.panel = make(
      "div",
      {},
      this.trouble,
      make(
        "section",
        { class: "part" },
        this.summary.element,
        this.arrival.element,
      ),
      make("section", { class: "part" }, make("h2", {}, say("design.check")), this.findings.element, this.mends.element, make("div", { class: "depths" }, this.tools.element, this.frame.element, this.smooth.element)),
      this.few.element,
      this.lip.element,
    );
    this.onward = make(
      "button",
      { help: "design.next", type: "button", class: "button-main button-wide", onclick: next },
      say("design.next"),
      icon("next"),
    );
    this.foot = make("div", {}, this.arrival.right, this.onward);
  }

  enter() {}

  update() {
    const { bench, project, unit, session } = this.room;
    showTrouble(this.trouble, bench.trouble.get("design") ?? null, unit);
    this.lip.update();
    this.few.update();
    if (!session.hand.joins) this.first = null;
    const { design } = bench;
    if (!design) return;
    // A size that was just set is not yet the design's: steps go on from it.
    const { width_mm: width, height_mm: height } = project.reading;
    this.width.show(width ?? design.width_mm, unit, project.id);
    this.height.show((width === null ? height : null) ?? design.height_mm, unit, project.id);
    this.guess.update(project, design, unit, session.hand.arrived === project.id);
    this.#follow(design);
    this.readings.update(this.possible.answer?.readings ?? null);
    this.findings.update(this.#ways(), !this.proposed.isSettled);
    this.mends.update(this.proposed.answer?.mends ?? null);
    this.#showLighter();
    this.arrival.update();
    this.onward.hidden = !this.arrival.right.hidden;
    this.summary.update(session.hand.arrived === project.id, this.proposed.isSettled);
    this.tools.update();
    this.frame.update();
    this.smooth.update();
  }

  /**
   * Asks what mends the design, and then what else the file could mean, which takes longer.
   *
   * @param {Design} design
   */
  #follow(design) {
    const { project } = this.room;
    const { svg } = project.source;
    const { mends } = this.room.bench;
    if (mends && mends.of !== this.taken && sameDesign(mends.of, project)) {
      this.taken = mends.of;
      this.proposed.take(project, mends.answer);
    }
    this.proposed.follow(design.is_whole ? project : null, project);
    const hasChoice = design.habits.length > 1 || design.colours.length > 1;
    // They are of the file, whatever is mended: they stay while the card is made anew.
    const isKnown = this.possible.about === svg;
    this.possible.follow(isKnown || (design.is_whole && hasChoice && this.proposed.isSettled) ? svg : null, project);
  }

  /**
   * The mends proposed for what is still found; those of the card before stay, but for the ones that were taken, until
   * it is known which there are now.
   *
   * @returns {import("../desk/types.js").MendProposal[] | null}
   */
  #ways() {
    const { project } = this.room;
    /** @type {import("../desk/types.js").MendProposal[] | null} */
    const proposals = this.proposed.answer?.proposals ?? null;
    const { reading, limits } = project;
    if (this.proposed.isSettled && proposals) this.former = { reading, limits, proposals };
    const { former } = this;
    if (this.proposed.isSettled || former?.reading !== reading || former.limits !== limits) return proposals;
    const known = new Set(proposals?.map(({ finding }) => finding));
    const before = former.proposals.filter((way) => !known.has(way.finding) && !this.findings.taken.has(way));
    return [...(proposals ?? []), ...before];
  }

  /** Where mending all changes much, seeks what would change less. */
  #showLighter() {
    const percent = this.proposed.isSettled && this.findings.changed > MUCH_PERCENT ? this.findings.changed : null;
    this.lightened.follow(percent === null ? null : this.room.project, this.room.project);
    const choices = this.lightened.answer?.choices ?? null;
    // Whether the file is read as it was meant comes first.
    const isNew = this.room.session.hand.arrived === this.room.project.id;
    this.lighter.update(percent === null || isNew ? null : (choices?.[0]?.changed_percent ?? percent), choices, this.lightened.isSettled);
  }

  /** @param {import("../desk/types.js").LighterMend} choice */
  #lighten({ width_mm: width, bar_mm: bar }) {
    if (width !== null) this.#resize({ width_mm: width, height_mm: null });
    else if (bar !== null) this.room.store.edit("", (project) => amend(project, "limits", { bar_mm: bar }));
  }

  /** What mends in hand do to the table. */
  get tapTable() {
    return this.tools.tapTable;
  }

  /** A bar's ends are taken before the tool in hand begins anything. @returns {import("./place.js").Carrier | null} */
  get carries() {
    const { carries: tool } = this.tools;
    const { carries: bar } = this.mends.bars;
    if (!bar) return tool;
    return {
      hold: (x, y) => {
        this.carrier = [bar, tool].find((each) => each?.hold(x, y)) ?? null;
        return this.carrier !== null;
      },
      carry: (x, y) => this.carrier?.carry(x, y),
      drop: () => this.carrier?.drop?.(),
      letGo: () => this.carrier?.letGo?.(),
    };
  }

  leave() {
    this.room.session.take({ mending: null, mend: null, spot: null });
  }

  /** While pieces are joined or parted, a tap does that. */
  get give() {
    if (this.room.session.hand.mending) return this.tools.give;
    return this.room.session.hand.joins ? (/** @type {number} */ number) => this.#join(number) : null;
  }

  /** @param {number} number  of the first or of the second opening */
  #join(number) {
    const { session, store, bench, notices, project } = this.room;
    const { first } = this;
    this.first = first === null ? number : null;
    session.take({ active: number });
    if (first === null || first === number) return;
    const piece = bench.backingOfDesign?.pieces.find(({ openings }) => openings.includes(first));
    const isWanted = project.backing.joined.some((pair) => pair.includes(first) && pair.includes(number));
    const together = !isWanted && !piece?.openings.includes(number);
    store.edit("", (project) => share(project, first, number, together));
    notices.tell(say(together ? "design.joined" : "design.parted", { first, second: number }));
  }

  /**
   * What one tap can do about a warning, besides showing its place.
   *
   * @param {import("../desk/types.js").Warning} warning
   * @returns {import("./design/findings-part.js").Offer[]}
   */
  #offers({ code, action, message }) {
    const { unit, store } = this.room;
    const figure = (/** @type {string} */ name) => Number(message.figures[name] ?? 0);
    const setSize = { words: say("design.do-set-size"), act: () => this.arrival.open(this.width.input) };
    if (action === "leave-open") return [{ words: say("design.do-leave-open"), act: () => this.#leaveSmallOnesOpen() }];
    if (action === "letter") return [{ words: say("design.do-letter"), act: () => void this.#letter() }];
    if (action === "drop-lost-mends") return [{ words: say("design.do-drop-lost"), act: () => void this.#dropLost() }];
    if (action === "change-habit" && !this.readings.element.hidden) {
      return [{ words: say("design.do-change-habit"), act: () => this.arrival.open(this.readings.row.querySelector("input")) }];
    }
    const wanted = code === "narrow-lip" ? this.room.bench.backing?.smallest_width_mm : figure("wanted_least_mm");
    if (action === "set-width" && wanted) {
      const wide = roundUp(wanted, unit);
      const act = () => this.#resize({ width_mm: wide, height_mm: null });
      return [{ words: say("design.do-set-width", { width: writeAbout([wide], unit) }), act }];
    }
    if (code === "separate-parts") return [{ words: say("design.do-border"), act: () => this.frame.open() }];
    const mat = code === "larger-than-mat" && matThatHolds(figure("width_mm"), figure("height_mm"), unit);
    const size = mat && MATS[mat];
    if (size) {
      const act = () => store.edit("mat", (project) => amend(project, "plan", { mat_width_mm: size[0], mat_height_mm: size[1] }));
      return [{ words: say("design.do-take-mat", { mat: nameOfMat(mat, unit) }), act }, setSize];
    }
    return action === "set-size" || action === "set-width" ? [setSize] : [];
  }

  /** Asks what words are drawn in; what that takes is fetched only then. */
  async #letter() {
    const { letterOpenDesign } = await import("./lettering/lettering-dialog.js");
    await letterOpenDesign(this.room);
  }

  #leaveSmallOnesOpen() {
    const { bench, project, store, notices } = this.room;
    const small = (bench.design?.openings ?? []).filter(({ area_mm2: area }) => area < project.limits.opening_mm2);
    const numbers = small.map(({ number }) => number);
    store.edit("", (before) => give(before, numbers, null));
    notices.tell(say("design.left-open", { count: numbers.length }));
    void this.findings.leave("small-openings");
  }

  async #dropLost() {
    /** @type {readonly import("../desk/types.js").PlacedMend[]} */
    const made = this.proposed.answer?.mends ?? [];
    const lost = made.filter(({ is_lost: isLost }) => isLost);
    await this.room.change([{ edit: "remove_mends", to: { ids: lost.map(({ id }) => id) } }]);
  }

  scene() {
    const { session, bench } = this.room;
    return pieceScene(
      this.room,
      [
        new StrengthLayer(() => (session.hand.strength ? (bench.design?.bars ?? []) : []), this.room.store.project?.limits.bar_mm ?? 1.5),
        new StripsLayer(() => this.#pieces()),
        new StripsLayer(() => this.#marks()),
        seamsLayer(this.room),
        new StripsLayer(() => this.#promised()),
        { draw: (brush) => this.tools.draw(brush) },
        { draw: (brush) => this.mends.bars.draw(brush) },
      ],
      session.hand.mirrored,
    );
  }

  hint() {
    if (this.tools.hint) return this.tools.hint;
    if (this.room.session.hand.joins) return say("hint.joins");
    return this.room.project.id === DEMO ? say("hint.demo") : this.room.hints.of("hint.design");
  }

  /** @param {Partial<import("../desk/types.js").Reading>} change */
  #read(change) {
    this.room.store.edit("reading", (project) => amend(project, "reading", change));
  }

  /** @param {{width_mm: number | null, height_mm: number | null}} size */
  #resize(size) {
    this.room.store.edit("size", (project) => amend(project, "reading", size));
  }

  #pieces() {
    const { bench, session } = this.room;
    const { backingOfDesign: backing } = bench;
    if (!session.hand.lips || !backing) return [];
    const under = new Set(backing.under_least_lip);
    const lines = under.size > 0 ? backing.smallest_set_by : [];
    const setters = lines.map(([x0, y0, x1, y1]) => ({
      area: outlineOf(backing, `M${x0} ${y0}L${x1} ${y1}`),
      fill: "transparent",
      edge: TONES.alert,
    }));
    const pieces = backing.pieces.map((piece) => ({
      area: outlineOf(piece, piece.path),
      fill: under.has(piece.number) ? "rgb(155 52 24 / 22%)" : "rgb(255 253 248 / 22%)",
      edge: under.has(piece.number) ? TONES.mark : TONES.paper,
    }));
    return [...pieces, ...setters];
  }

  /** What was mended just now, until the design has it. */
  #promised() {
    const { store } = this.room;
    const { card_colour: card, behind_colour: behind } = store.project?.look ?? { card_colour: "", behind_colour: "" };
    return this.room.promised.flatMap((change) => [
      ...(change.removed ? [{ area: outlineOf(change, change.removed), fill: behind, edge: null }] : []),
      ...(change.added ? [{ area: outlineOf(change, change.added), fill: card, edge: null }] : []),
    ]);
  }

  /** The finding that is looked at, and what its mend adds and takes away; else what is worst. */
  #marks() {
    const { looked, findings } = this.findings;
    const marked = looked ? [looked.finding] : findings.filter(({ severity }) => severity > 2);
    const way = this.smooth.tried ?? this.frame.tried ?? looked?.spot?.ways[0];
    return [
      ...marked.flatMap((finding) => strip(finding, finding.where, TONES.mark, "55%")),
      ...(way
        ? [
            ...strip(way, way.removed, TONES.removed, "60%"),
            ...strip(way, way.added, TONES.added, "85%"),
            ...strip(way, "seams" in way ? way.seams : null, TONES.mark, "85%"),
          ]
        : []),
    ];
  }

  /** The design's name and size, as the head shows it. */
  title() {
    const { design } = this.room.bench;
    return design ? writeAbout([design.width_mm, design.height_mm], this.room.unit) : "";
  }
}

/**
 * @param {object} of  whose path it is
 * @param {string | null} path
 * @param {string} colour
 * @param {string} share  how much of what lies beneath it hides
 */
function strip(of, path, colour, share) {
  return path ? [{ area: outlineOf(of, path), fill: `color-mix(in srgb, ${colour} ${share}, transparent)`, edge: colour }] : [];
}
