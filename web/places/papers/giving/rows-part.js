import { make } from "../../../parts/dom.js";
import { refill } from "../../../parts/refill.js";
import { swatch } from "../../../parts/swatch.js";
import { chosen } from "../../../project/edits.js";
import { say } from "../../../words/words.js";
import { View } from "../../../stage/view.js";
import { TONES } from "../../../stage/colours.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */
/** @typedef {import("../../../stage/shapes.js").OpeningShape} OpeningShape */
/** @typedef {{numbers: number[], shown: HTMLElement, said: string}} Row */

const PICTURE_PX = 40;
const MOST_ROWS = 60;

/** The openings as rows of alike ones: a tap gives a whole row what is in hand. */
export class RowsPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    /** @type {unknown} */
    this.shapes = null;
    /** Which openings counted as alike. @type {readonly number[]} */
    this.groups = [];
    /** The shelf's papers that the rows show. @type {unknown} */
    this.shelf = null;
    this.pictures = 0;
    /** @type {Row[]} */
    this.rows = [];
    this.list = make("ul", { class: "rows" });
    this.element = make(
      "details",
      { class: "fold", ontoggle: () => this.update() },
      make("summary", { help: "papers.rows" }, say("papers.rows")),
      this.list,
    );
  }

  update() {
    if (!this.element.open) return;
    const { shapes, project, paint, likeness } = this.room;
    const { papers: shelf } = project.shelf;
    const isStale = shelf !== this.shelf || paint.loaded !== this.pictures;
    this.shelf = shelf;
    this.pictures = paint.loaded;
    const groups = likeness.groups();
    if (shapes !== this.shapes || !sameNumbers(groups, this.groups)) this.#build(groups);
    const { papers, locked } = chosen(project);
    const lockedSet = new Set(locked);
    for (const row of this.rows) {
      const given = [...new Set(row.numbers.map((number) => papers[number] ?? ""))].sort();
      const said = `${given.join(" ")} ${row.numbers.filter((number) => lockedSet.has(number)).length}`;
      if (row.said === said && !isStale) continue;
      row.said = said;
      row.shown.replaceChildren(
        ...given.slice(0, 4).map((id) => {
          const paper = this.room.papers.get(id);
          return paper
            ? swatch(this.room.paint, paper, 22, 22)
            : make("small", { class: "soft" }, say("papers.row-open"));
        }),
      );
    }
  }

  /** @param {readonly number[]} groups  of the openings */
  #build(groups) {
    const { shapes } = this.room;
    this.shapes = shapes;
    this.groups = groups;
    /** @type {Map<number, OpeningShape[]>} */
    const alike = new Map();
    (shapes?.openings ?? []).forEach((opening, place) => {
      const group = groups[place] ?? opening.alike;
      const row = alike.get(group);
      if (row) row.push(opening);
      else alike.set(group, [opening]);
    });
    const sorted = [...alike.values()].sort((one, other) => other.length - one.length);
    this.rows = [];
    const rows = sorted.slice(0, MOST_ROWS).map((row) => this.#row(row));
    refill(this.list, sorted.length > MOST_ROWS ? [...rows, this.#rest(sorted.slice(MOST_ROWS))] : rows);
  }

  /** @param {OpeningShape[][]} rows */
  #rest(rows) {
    const item = make("li", {});
    item.append(
      make(
        "button",
        {
          help: "papers.rows",
          type: "button",
          class: "button-quiet",
          onclick: () => {
            const shown = rows.map((row) => this.#row(row));
            item.replaceWith(...shown);
            shown[0]?.querySelector("button")?.focus();
            this.update();
          },
        },
        say("papers.more-rows", { count: rows.length }),
      ),
    );
    return item;
  }

  /** @param {OpeningShape[]} openings */
  #row(openings) {
    const numbers = openings.map(({ number }) => number);
    const shown = make("span", { class: "row-papers" });
    this.rows.push({ numbers, shown, said: "?" });
    const [first] = openings;
    return make(
      "li",
      {},
      make(
        "button",
        {
          help: "papers.row-give",
          type: "button",
          class: "row",
          title: say("papers.row-give"),
          onclick: () => this.room.handle(numbers),
          onpointerenter: (/** @type {PointerEvent} */ event) =>
            event.pointerType === "mouse" && this.room.session.take({ hovered: numbers[0] ?? null }),
          onpointerleave: () => this.room.session.take({ hovered: null }),
        },
        first ? outline(first) : null,
        make("span", {}, say("papers.row", { count: numbers.length })),
        shown,
      ),
    );
  }
}

/**
 * @param {readonly number[]} one
 * @param {readonly number[]} other
 */
function sameNumbers(one, other) {
  return one.length === other.length && one.every((number, place) => number === other[place]);
}

/** @param {OpeningShape} opening */
function outline({ outline: path, box }) {
  const ratio = Math.min(devicePixelRatio || 1, 2);
  const size = PICTURE_PX * ratio;
  const canvas = make("canvas", { class: "row-shape", width: size, height: size, "aria-hidden": "true" });
  const context = canvas.getContext("2d");
  if (!context) return canvas;
  const view = View.fitting(box, { left: 4, top: 4, width: size - 8, height: size - 8 }, false);
  view.applyTo(context, 1);
  context.fillStyle = TONES.line;
  context.fill(path, "evenodd");
  return canvas;
}
