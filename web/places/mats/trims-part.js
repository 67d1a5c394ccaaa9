import { icon, make } from "../../parts/dom.js";
import { writeAbout } from "../../words/lengths.js";
import { swatch } from "../../parts/swatch.js";
import { isPinned } from "../../project/pins.js";
import { layOut } from "../../stage/layers/mats-layer.js";
import { say } from "../../words/words.js";
import { sizeToCut } from "./trim-size.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Plan} Plan */
/** @typedef {import("../../desk/types.js").Trim} Trim */
/** @typedef {import("../../project/pins.js").Held} Held */

/** So many trims are listed at first. */
const FIRST = 6;

/** The trims as a list: size, place on the mat, pieces; each can be taken in hand here as on the mat. */
export class TrimsPart {
  /**
   * @param {Workroom} room
   * @param {(held: Held | null) => void} take
   */
  constructor(room, take) {
    this.room = room;
    this.take = take;
    /** @type {readonly unknown[]} */
    this.shown = [];
    /** The project of which all trims are listed. */
    this.allOf = "";
    this.more = make("button", { help: "mats.more-trims", type: "button", class: "button-quiet", onclick: () => this.#showAll() });
    this.list = make("ol", { class: "trims" });
    this.element = make(
      "section",
      { class: "part" },
      make("h3", {}, say("mats.trim-list")),
      this.list,
      this.more,
    );
  }

  update() {
    const { bench, session, project, unit, paint } = this.room;
    const { plan } = bench;
    const { held } = session.hand;
    this.element.hidden = !plan || plan.trims.length === 0;
    const { trim_pins, piece_pins } = project.plan;
    const seen = [plan, held, trim_pins, piece_pins, unit, project.shelf.papers, paint.loaded];
    if (seen.every((value, at) => value === this.shown[at])) return;
    this.shown = seen;
    const focused = document.activeElement instanceof HTMLElement ? document.activeElement.dataset["held"] : undefined;
    const trims = plan?.trims ?? [];
    const at = held ? trims.findIndex((trim) => isHeld(trim, held)) : -1;
    const most = this.allOf === project.id ? trims.length : Math.max(FIRST, at + 1);
    this.list.replaceChildren(...trims.slice(0, most).map((trim) => this.#row(trim, held)));
    this.more.hidden = trims.length <= most;
    this.more.textContent = say("mats.more-trims", { count: trims.length - most });
    if (focused) {
      const again = this.list.querySelector(`[data-held="${CSS.escape(focused)}"]`);
      if (again instanceof HTMLElement) again.focus({ preventScroll: true });
    }
  }

  #showAll() {
    const next = this.list.childElementCount;
    this.allOf = this.room.project.id;
    this.shown = [];
    this.update();
    this.list.children[next]?.querySelector("button")?.focus();
  }

  /**
   * @param {Trim} trim
   * @param {Held | null} held
   */
  #row(trim, held) {
    const { unit, papers, paint, project } = this.room;
    const paper = papers.get(trim.paper);
    const open = held !== null && isHeld(trim, held);
    const notes = [
      say("mats.on-mat", { mat: trim.mat, x: writeAbout([trim.x_mm], unit), y: writeAbout([trim.y_mm], unit) }),
      trim.turned ? say("mats.turned") : "",
      trim.scrap ? say("mats.from-scrap") : "",
      trim.sheet ? say(trim.printed ? "mats.from-page" : "mats.from-sheet", { sheet: trim.sheet }) : "",
    ].filter(Boolean);
    return make(
      "li",
      {},
      make(
        "button",
        {
          help: "kind-trim",
          type: "button",
          class: "trim-row",
          "data-held": trim.id,
          "aria-pressed": String(open && held?.piece === null),
          onclick: () => this.#takeTrim(trim, open && held?.piece === null),
        },
        paper ? swatch(paint, paper, 44, 44) : null,
        make(
          "span",
          {},
          make(
            "strong",
            {},
            say("mats.trim", { paper: paper?.name ?? "", size: sizeToCut(trim, unit) }),
          ),
          make("small", { class: "soft" }, notes.join("; ")),
        ),
        isPinned(project, { trim: trim.id, piece: null }) ? icon("pin") : null,
      ),
      open ? this.#pieces(trim, held) : null,
    );
  }

  /**
   * @param {Trim} trim
   * @param {Held | null} held
   */
  #pieces(trim, held) {
    return make(
      "div",
      { class: "trim-pieces", role: "group", "aria-label": say("mats.its-pieces") },
      ...trim.pieces.map(({ number }) =>
        make(
          "button",
          {
            help: "kind-piece",
            type: "button",
            class: "piece-chip",
            "data-held": `${trim.id} ${number}`,
            "aria-label": say("mats.piece", { number }),
            "aria-pressed": String(held?.piece === number),
            onclick: () => this.take({ trim: trim.id, piece: held?.piece === number ? null : number }),
          },
          String(number),
          isPinned(this.room.project, { trim: trim.id, piece: number }) ? icon("pin") : null,
        ),
      ),
    );
  }

  /**
   * @param {Trim} trim
   * @param {boolean} held
   */
  #takeTrim(trim, held) {
    this.take(held ? null : { trim: trim.id, piece: null });
    const { plan } = this.room.bench;
    if (!held && plan && plan.mats.length > 1) this.room.lookAt(layOut(plan.mats).boxOf(trim));
  }
}

/**
 * @param {Trim} trim
 * @param {Held} held
 */
function isHeld(trim, held) {
  return held.piece === null ? held.trim === trim.id : trim.pieces.some(({ number }) => number === held.piece);
}
