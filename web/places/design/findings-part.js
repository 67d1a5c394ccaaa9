import { icon, make, write } from "../../parts/dom.js";
import { refill } from "../../parts/refill.js";
import { copyOf, spotPicture } from "../../stage/spot-picture.js";
import { Cancelled } from "../../words/refusal.js";
import { holds } from "../../project/same.js";
import { sayMessage } from "../../words/messages.js";
import { keyOf, say } from "../../words/words.js";
import { findingsOf } from "./findings.js";
import { TONES } from "../../stage/colours.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").MendProposal} MendProposal */
/** @typedef {import("../../desk/types.js").Warning} Warning */
/** @typedef {import("./findings.js").Finding} Finding */
/** @typedef {{words: string, act: () => void}} Offer  what one tap can do about a warning */

/** Pictures of spots that stand in a row at first, and their sides in CSS px. */
const MOST_PICTURES = 12;
const PICTURE_PX = 52;
/** Kinds of findings that are always in sight; where there are two more at least, they are folded. */
const MOST_KINDS = 3;
/** So many while reading and size are still looked at, which take their room. */
const MOST_AT_FIRST = 1;
/** So much of a path's end tells it from others of its length at the same place. */
const TOLD_BY = 60;
const WAY_PX = 72;
const WORTH_MENDING = 2;
/** Mends that change more of the card make another picture of it, as the package has it too. */
export const MUCH_PERCENT = 8;
/** What takes longer shows that it is under way, and how to stop it. */
const LONG_MS = 400;

/** What to know before the first cut, by kind and worst first, with pictures of the spots and what mends them. */
export class FindingsPart {
  /**
   * @param {Workroom} room
   * @param {(warning: Warning) => Offer[]} offers
   * @param {HTMLElement} beforeAll  what to know before mending all
   */
  constructor(room, offers, beforeAll) {
    this.room = room;
    this.offers = offers;
    /** @type {Finding[]} */
    this.findings = [];
    /** @type {readonly unknown[]} */
    this.shown = [];
    /** How large the card is whose findings are shown. */
    this.size = "";
    /** Whether ways to mend are still sought. */
    this.isSeeking = true;
    /** The project whose findings are shown. @type {import("../../desk/types.js").Project | null} */
    this.of = null;
    /** Ways of spots that are mended: a card that is made anew has them no more. @type {WeakSet<MendProposal>} */
    this.taken = new WeakSet();
    /** Pictures of spots of one card, by what they show. @type {{of: unknown, drawn: Map<string, HTMLCanvasElement>}} */
    this.pictures = { of: null, drawn: new Map() };
    /** What was looked at before. @type {{finding: string, at: number} | null} */
    this.seen = null;
    this.list = make("ul", { class: "findings" });
    this.others = make("ul", { class: "findings" });
    this.further = make("details", { class: "fold findings-further" }, make("summary", { help: "findings.further" }), this.others);
    this.all = make("button", { help: "kind-mend-all", type: "button", class: "button-main button-wide mend-all", onclick: () => void this.#mendAll() });
    /** Ends the search for what mends all; null where there is none. @type {AbortController | null} */
    this.mending = null;
    this.waiting = 0;
    this.sofar = make("span", { class: "soft" });
    this.stop = make("button", { help: "kind-mend-stop", type: "button", class: "button", onclick: () => this.mending?.abort() }, icon("stop"), say("act.stop"));
    this.working = make("div", { class: "working", hidden: true }, make("progress", { class: "bar", "aria-label": say("mend.working") }), this.sofar, this.stop);
    this.element = make("div", { class: "stack" }, beforeAll, this.all, this.working, this.list, this.further);
  }

  /**
   * @param {readonly MendProposal[] | null} proposals  null while none is known
   * @param {boolean} isSeeking  whether there may be more
   */
  update(proposals, isSeeking) {
    const { bench, session, unit, project } = this.room;
    const { spot } = session.hand;
    const isNew = session.hand.arrived === this.room.project.id;
    const seen = [bench.design, bench.backing?.warnings, proposals, isSeeking, spot, unit, isNew];
    if (seen.every((value, at) => value === this.shown[at])) return;
    // While a mended card is looked at anew, what was found on it before stays: nothing moves under the hand.
    const size = sizeOf(bench.design);
    const isSame = this.of && holds("project", this.of, project) && this.of.reading === project.reading && this.size === size;
    if (!bench.design?.is_whole && isSame) return;
    this.of = project;
    this.size = size;
    this.shown = seen;
    this.isSeeking = isSeeking;
    const warnings = bench.design?.is_whole ? [...bench.design.warnings, ...(bench.backing?.warnings ?? [])] : null;
    this.findings = findingsOf(warnings ?? [], proposals ?? []);
    const mendable = this.worth;
    this.all.hidden = mendable.length === 0 || !this.working.hidden;
    const count = mendable.reduce((sum, finding) => sum + finding.count, 0);
    // Of a single mend it is told what it does; how much much is stands above the button.
    const [alone] = count === 1 ? (mendable[0]?.spots[0]?.ways ?? []) : [];
    const told = [alone ? wordsOf(alone) : null, this.changed > 0 && this.changed <= MUCH_PERCENT ? share(this.changed) : null];
    this.all.replaceChildren(icon("mend"), make("span", {}, say("mend.all", { count }), ...told.map((words) => words && make("small", {}, words))));
    const rows = this.findings.map((finding) => this.#row(finding));
    const good = make("li", { class: "check-good" }, icon("check"), make("span", {}, say("design.check-good")));
    const busy = make("li", { class: "soft" }, say("design.checking"));
    const kinds = isNew ? MOST_AT_FIRST : MOST_KINDS;
    const most = rows.length > kinds + 1 ? kinds : rows.length;
    refill(this.list, rows.length > 0 ? rows.slice(0, most) : [warnings ? good : busy]);
    refill(this.others, rows.slice(most));
    this.further.hidden = rows.length <= most;
    write(/** @type {HTMLElement} */ (this.further.firstElementChild), say("findings.further", { count: rows.length - most }));
    if (this.findings.slice(most).some(({ code }) => code === spot?.finding)) this.further.open = true;
    if (spot !== this.seen) this.#scroll();
    this.seen = spot;
  }

  /** Brings what is looked at, and what can be done about it, into view. */
  #scroll() {
    this.element.querySelector("[aria-expanded=true]")?.closest("li")?.scrollIntoView({ block: "nearest" });
    this.element.querySelector("[aria-current=true]")?.scrollIntoView({ block: "nearest", inline: "nearest" });
  }

  /** The finding that is looked at, and which of its spots. */
  get looked() {
    const { spot } = this.room.session.hand;
    const finding = spot && this.findings.find(({ code }) => code === spot.finding);
    return finding ? { finding, spot: finding.spots[spot.at] ?? null } : null;
  }

  /** How much of the card mending all changes, in percent; more where mends overlap. */
  get changed() {
    const ways = this.worth.flatMap(({ spots }) => spots.flatMap(({ ways: [first] }) => first ?? []));
    return ways.reduce((sum, { changed_percent: percent }) => sum + percent, 0);
  }

  /** @returns {Finding[]} findings worth mending that have a mend, or whose kind has while it is sought */
  get worth() {
    return this.findings.filter(
      ({ code, severity, spots }) =>
        severity >= WORTH_MENDING && ((this.isSeeking && MENDED.has(code)) || spots.some(({ ways }) => ways.length > 0)),
    );
  }

  /** @param {Finding} finding */
  #row(finding) {
    const { code, severity, count, spots } = finding;
    const looked = this.room.session.hand.spot;
    const isOpen = looked?.finding === code;
    const at = isOpen ? (looked?.at ?? 0) : 0;
    const title = keyOf("finding-name.", code);
    const about = say("finding.about", { name: title ? say(title) : "", count });
    const head = make(
      "button",
      { help: "kind-warning", type: "button", class: "check-row", "data-severity": severity, "aria-expanded": String(isOpen), onclick: () => this.#look(isOpen ? null : finding, 0) },
      icon(severity > 1 ? "warning" : "note"),
      title
        ? make("span", { class: "finding-name" }, make("strong", {}, say(title)), make("span", { class: "unseen" }, ` ${about}`))
        : make("span", { class: "finding-name" }, this.#sentence(finding)),
      count > 1 || title ? make("span", { class: "finding-count", "aria-hidden": "true" }, String(count)) : null,
    );
    return make(
      "li",
      { class: "finding" },
      head,
      make("div", { class: "finding-row" }, spots.length > 0 ? this.#pictures(finding, isOpen ? at : null) : null, this.#doing(finding)),
      isOpen && title ? make("p", { class: "small" }, this.#sentence(finding)) : null,
      isOpen && spots.length > 1 ? this.#pager(finding, at) : null,
      isOpen ? this.#ways(finding, at) : null,
      isOpen || !title || spots.length === 0 ? this.#advice(finding) : null,
    );
  }

  /** @param {Finding} finding */
  #sentence({ warnings: [first] }) {
    return first ? sayMessage(first.message, this.room.unit) : "";
  }

  /**
   * @param {Finding} finding
   * @param {number | null} looked
   */
  #pictures(finding, looked) {
    const { spots } = finding;
    // The row goes along with the spot that is looked at.
    const from = Math.max(0, Math.min((looked ?? 0) - 2, spots.length - MOST_PICTURES));
    return make(
      "div",
      { class: "spots" },
      ...spots.slice(from, from + MOST_PICTURES).map((_, place) => this.spotButton(finding, from + place, looked)),
    );
  }

  /**
   * A place as a small picture; a tap moves the table there.
   *
   * @param {Finding} finding
   * @param {number} at
   * @param {number | null} [looked]  the place that is looked at
   */
  spotButton(finding, at, looked = null) {
    const { spots, where } = finding;
    const { seen, ways } = spots[at] ?? { seen: [0, 0, 0, 0], ways: [] };
    return make(
      "button",
      {
        help: "kind-spot",
        type: "button",
        class: "spot",
        "aria-label": say("finding.spot", { number: at + 1, count: spots.length }),
        "aria-current": at === looked ? "true" : null,
        onclick: () => this.#look(finding, at),
      },
      this.#picture(PICTURE_PX, /** @type {import("../../desk/types.js").Box} */ (seen), [
        { path: where, colour: TONES.mark },
        { path: ways[0]?.added ?? "", colour: TONES.added },
        { path: ways[0]?.seams ?? "", colour: TONES.mark },
      ]),
    );
  }

  /**
   * @param {Finding} finding
   * @param {number} at
   */
  #pager(finding, at) {
    const { length } = finding.spots;
    const step = (/** @type {number} */ by) => () => this.#look(finding, (at + by + length) % length);
    return make(
      "div",
      { help: "kind-pager", class: "pager" },
      make("button", { type: "button", class: "button-icon", "aria-label": say("finding.before"), onclick: step(-1) }, icon("back")),
      make("span", {}, say("finding.place", { number: at + 1, count: length })),
      make("button", { type: "button", class: "button-icon", "aria-label": say("finding.after"), onclick: step(1) }, icon("next")),
    );
  }

  /**
   * What one tap does about the spot that is looked at, each with a picture of how it is then.
   *
   * @param {Finding} finding
   * @param {number} at
   */
  #ways(finding, at) {
    const spot = finding.spots[at];
    if (!spot || spot.ways.length === 0) return null;
    return make(
      "div",
      { class: "ways" },
      ...spot.ways.map((way) =>
        make(
          "button",
          {
            help: "kind-way",
            type: "button",
            class: "way",
            onclick: () => void this.#take([way], finding.code),
          },
          this.#picture(WAY_PX, spot.seen, [{ path: way.removed ?? "", colour: TONES.removed }, { path: way.added ?? "", colour: TONES.added }, { path: way.seams ?? "", colour: TONES.mark }]),
          make("span", {}, wordsOf(way)),
          way.changed_percent > 0 ? make("small", { class: "soft" }, share(way.changed_percent)) : null,
        ),
      ),
    );
  }

  /** What mends all spots of a finding with one tap. @param {Finding} finding */
  #doing(finding) {
    const { spots, code } = finding;
    const preferred = spots.flatMap(({ ways }) => ways[0] ?? []);
    const [first] = preferred;
    return (
      first &&
      make(
        "button",
        { help: "kind-mend", type: "button", class: "button", onclick: () => void this.#take(preferred, code) },
        preferred.some(({ choice }) => choice !== first.choice) ? say("mend.way-other", { count: finding.count }) : wordsOf(first, finding.count),
      )
    );
  }

  /** What else can be done about a finding. @param {Finding} finding */
  #advice(finding) {
    const [warning] = finding.warnings;
    const offers = warning ? this.offers(warning) : [];
    const leaving = { words: say("mend.way-leave", { count: finding.count }), act: () => void this.leave(finding.code) };
    const advice = (warning?.action === "leave-open" || !isLeft(finding) ? offers : [...offers, leaving]).map(({ words, act }) =>
      make("button", { help: "kind-advice", type: "button", class: "button-quiet", onclick: act }, words),
    );
    return advice.length > 0 ? make("div", { class: "finding-doings" }, ...advice) : null;
  }

  /**
   * Leaves what was found as it is, at each of its places, or as a whole where it has none of its own.
   *
   * @param {string} code
   */
  async leave(code) {
    const finding = this.findings.find((each) => each.code === code);
    if (!finding) return;
    const ways = finding.spots.flatMap(({ ways }) => ways.find(({ choice }) => choice === "leave") ?? []);
    if (ways.length > 0) await this.#take(ways, code);
    else if (isLeft(finding)) await this.room.mend([{ edit: "add_mends", to: { mends: [{ kind: "leave" }], finding: code } }], []);
  }

  /**
   * @param {number} px
   * @param {import("../../desk/types.js").Box} box
   * @param {readonly import("../../stage/spot-picture.js").Tint[]} tints
   */
  #picture(px, box, tints) {
    const { shapes } = this.room;
    if (this.pictures.of !== shapes) this.pictures = { of: shapes, drawn: new Map() };
    const { drawn } = this.pictures;
    // Findings come in time after time while their mends are sought: most of them look as before.
    const key = JSON.stringify([px, box, tints.map(({ path, colour }) => [colour, path.length, path.slice(-TOLD_BY)])]);
    const known = drawn.get(key);
    if (known) return copyOf(known);
    const picture = spotPicture(px, shapes?.cardWithin(wide(box)) ?? new Path2D(), box, tints.filter(({ path }) => path));
    drawn.set(key, picture);
    return picture;
  }

  /**
   * Shows where a finding is; one that is about the whole shows the whole.
   *
   * @param {Finding | null} finding
   * @param {number} at
   */
  #look(finding, at) {
    const { bench, session } = this.room;
    session.take({ spot: finding && { finding: finding.code, at } });
    if (!finding) return;
    const { width_mm: width, height_mm: height } = bench.design ?? { width_mm: 0, height_mm: 0 };
    const box = finding.spots[at]?.box;
    // The view keeps as much room on each side as the place itself takes: its middle third shows the whole.
    this.room.lookAt(box ?? [width / 3, height / 3, (2 * width) / 3, (2 * height) / 3]);
  }

  /**
   * @param {readonly MendProposal[]} ways
   * @param {string} finding
   */
  async #take(ways, finding) {
    this.room.session.take({ spot: null });
    for (const way of ways) {
      const spot = this.findings.flatMap(({ spots }) => spots).find(({ ways }) => ways.includes(way));
      for (const other of spot?.ways ?? [way]) this.taken.add(other);
    }
    await this.room.mend([addMends(ways, finding)], ways);
  }

  /** Seeks what mends all, which a design of thousands of openings makes long; the edit then takes it as found. */
  async #mendAll() {
    const { desk, notices, questions, session } = this.room;
    if (this.mending) return;
    session.take({ spot: null });
    const preferred = this.worth.flatMap(({ spots }) => spots.flatMap(({ ways }) => ways[0] ?? []));
    const mending = new AbortController();
    this.#work(mending);
    try {
      const told = (/** @type {{found: number}} */ { found }) => this.sofar.replaceChildren(found ? say("mend.found", { count: found }) : say("mend.working"));
      await questions.ask("design", (project, signal) => desk.mendAll(project, signal, told), mending.signal);
      await this.room.mend([{ edit: "mend_all", to: {} }], preferred);
    } catch (error) {
      if (!(error instanceof Cancelled)) notices.tellError(error, { stays: true });
    }
    this.#work(null);
  }

  /** Notes that mends are sought, which shows once it takes long; null when it has ended. @param {AbortController | null} mending */
  #work(mending) {
    this.mending = mending;
    this.sofar.replaceChildren(say("mend.working"));
    clearTimeout(this.waiting);
    if (mending) this.waiting = setTimeout(() => this.#showWork(), LONG_MS);
    else this.#showWork();
  }

  #showWork() {
    const { activeElement } = document;
    const isWorking = this.mending !== null;
    this.working.hidden = !isWorking;
    this.all.hidden = isWorking || this.worth.length === 0;
    if (isWorking && activeElement === this.all) this.stop.focus();
    else if (!isWorking && activeElement === this.stop) this.all.focus();
  }
}

/**
 * @param {readonly MendProposal[]} ways
 * @param {string} finding
 */
function addMends(ways, finding) {
  return { edit: "add_mends", to: { mends: ways.flatMap(({ mends }) => mends), finding } };
}

/** Findings that the package has mends for, wherever they are: all can be mended before each way is known. */
const MENDED = new Set(["loose-bit", "separate-parts", "touching-edges", "thin-bars", "thin-necks"]);
/** Findings that are left place by place: as a whole only once it is known where. */
const PLACED = new Set(["thin-bars", "thin-necks", "touching-edges", "separate-parts", "small-openings"]);
/** Loose bits have another way, which is to glue them by hand, and nothing helps where there is no opening. */
const NOT_LEFT = new Set(["loose-bit", "no-openings"]);

/** Whether a finding may be left as it is, by what is known of it now. @param {Finding} finding */
function isLeft({ code, spots }) {
  return !NOT_LEFT.has(code) && (!PLACED.has(code) || spots.some(({ ways }) => ways.some(({ choice }) => choice === "leave")));
}

/** How large a card is, to tell whether places in mm are still the same. @param {import("../../desk/types.js").Design | null} design */
function sizeOf(design) {
  return design ? `${design.width_mm} ${design.height_mm}` : "";
}

/** How much of the card changes, in words. @param {number} percent */
function share(percent) {
  return say("mend.changes", { percent: percent < 10 ? Math.max(Math.round(10 * percent) / 10, 0.1) : Math.round(percent) });
}

/**
 * @param {MendProposal} way
 * @param {number} [count]  of the places that are mended so
 */
function wordsOf({ choice }, count = 1) {
  return say(keyOf("mend.way-", choice) ?? "mend.way-other", { count });
}

/**
 * @param {import("../../desk/types.js").Box} box
 * @returns {import("../../desk/types.js").Box} with all that a picture of it can show
 */
function wide([left, top, right, bottom]) {
  const by = 2 * Math.max(right - left, bottom - top) + 10;
  return [left - by, top - by, right + by, bottom + by];
}
