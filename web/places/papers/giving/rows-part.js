import { make } from "../../../parts/dom.js";
import { refill } from "../../../parts/refill.js";
import { swatch } from "../../../parts/swatch.js";
import { chosen } from "../../../project/edits.js";
import { say } from "../../../words/words.js";
import { View } from "../../../stage/view.js";
import { TONES } from "../../../stage/colours.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */
/** @typedef {import("../../../stage/shapes.js").OpeningShape} OpeningShape */
/** @typedef {import("../../../words/words.js").Key} Key */
/** @typedef {{numbers: number[], shown: HTMLElement, said: string}} Row */

const PICTURE_PX = 40;
const MOST_ROWS = 60;

/**
 * What the rows are: `groups` has a number for each opening, the same for those of a row; `key` is another whenever
 * rows with the same openings are to be written anew; `beside` makes what stands beside a row.
 *
 * @typedef {{
 *   fold: Key, give: Key, groups: () => readonly number[], key?: () => unknown,
 *   name: (group: number, count: number) => string, about?: (group: number, count: number) => string,
 *   beside?: (group: number) => HTMLElement,
 * }} Kind
 */

/** The openings in rows: a tap gives a whole row what is in hand. */
export class RowsPart {
  /**
   * @param {Workroom} room
   * @param {Kind} kind
   */
  constructor(room, kind) {
    this.room = room;
    this.kind = kind;
    /** @type {unknown} */
    this.key = null;
    /** @type {unknown} */
    this.shapes = null;
    /** The row of each opening. @type {readonly number[]} */
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
      make("summary", { help: kind.fold }, say(kind.fold)),
      this.list,
    );
  }

  update() {
    if (!this.element.open) return;
    const { shapes, project, paint } = this.room;
    const { papers: shelf } = project.shelf;
    const isStale = shelf !== this.shelf || paint.loaded !== this.pictures;
    this.shelf = shelf;
    this.pictures = paint.loaded;
    const groups = this.kind.groups();
    const key = this.kind.key?.() ?? null;
    if (shapes !== this.shapes || key !== this.key || !sameNumbers(groups, this.groups)) this.#build(groups);
    this.key = key;
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

  /** @param {readonly number[]} groups  of the openings; none while they are not known */
  #build(groups) {
    const { shapes } = this.room;
    this.shapes = shapes;
    this.groups = groups;
    /** @type {Map<number, OpeningShape[]>} */
    const byGroup = new Map();
    (shapes?.openings ?? []).forEach((opening, place) => {
      const group = groups[place];
      if (group === undefined) return;
      const row = byGroup.get(group);
      if (row) row.push(opening);
      else byGroup.set(group, [opening]);
    });
    const sorted = [...byGroup].sort(([, one], [, other]) => other.length - one.length);
    this.rows = [];
    const rows = sorted.slice(0, MOST_ROWS).map((row) => this.#row(...row));
    refill(this.list, sorted.length > MOST_ROWS ? [...rows, this.#rest(sorted.slice(MOST_ROWS))] : rows);
  }

  /** @param {[number, OpeningShape[]][]} rows */
  #rest(rows) {
    const item = make("li", {});
    item.append(
      make(
        "button",
        {
          help: this.kind.fold,
          type: "button",
          class: "button-quiet",
          onclick: () => {
            const shown = rows.map((row) => this.#row(...row));
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

  /**
   * @param {number} group
   * @param {OpeningShape[]} openings
   */
  #row(group, openings) {
    const { kind } = this;
    const numbers = openings.map(({ number }) => number);
    const shown = make("span", { class: "row-papers" });
    this.rows.push({ numbers, shown, said: "?" });
    const box = this.room.shapes?.boxOf(numbers);
    const about = kind.about?.(group, numbers.length);
    return make(
      "li",
      {},
      make(
        "button",
        {
          help: kind.give,
          type: "button",
          class: "row",
          title: say(kind.give),
          onclick: () => this.room.handle(numbers),
          onpointerenter: (/** @type {PointerEvent} */ event) =>
            event.pointerType === "mouse" && this.room.session.take({ hovered: numbers[0] ?? null }),
          onpointerleave: () => this.room.session.take({ hovered: null }),
        },
        box ? outline(openings, box) : null,
        make("span", {}, kind.name(group, numbers.length), about ? make("small", { class: "soft row-about" }, about) : null),
        shown,
      ),
      kind.beside?.(group),
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

/**
 * @param {readonly OpeningShape[]} openings
 * @param {import("../../../desk/types.js").Box} box  around them
 */
function outline(openings, box) {
  const ratio = Math.min(devicePixelRatio || 1, 2);
  const size = PICTURE_PX * ratio;
  const canvas = make("canvas", { class: "row-shape", width: size, height: size, "aria-hidden": "true" });
  const context = canvas.getContext("2d");
  if (!context) return canvas;
  const view = View.fitting(box, { left: 4, top: 4, width: size - 8, height: size - 8 }, false);
  view.applyTo(context, 1);
  context.fillStyle = TONES.line;
  for (const { outline: path } of openings) context.fill(path, "evenodd");
  return canvas;
}
