import { chosen } from "../project/edits.js";

/** @typedef {import("../places/workroom.js").Workroom} Workroom */
/** @typedef {import("../parts/session.js").Hand} Hand */
/**
 * @typedef {{papers: Record<string, string>, locked: readonly number[], hand: Readonly<Hand>,
 *   whole: readonly unknown[]}} Seen
 */

/** Finds what of the scene must be drawn anew, so that giving a paper or pointing redraws a spot, not the table. */
export class Redraw {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    /** @type {Seen | null} */
    this.last = null;
  }

  /**
   * Compares with what was seen at the last call.
   *
   * @returns {{all: boolean, given: number[], touched: number[]}} whether all must be drawn; the openings whose
   *   paper or lock changed; these and those whose marks changed
   */
  since() {
    const seen = this.#see();
    const { last } = this;
    this.last = seen;
    if (!last) return { all: true, given: [], touched: [] };
    const given = [...changedKeys(last.papers, seen.papers), ...changedNumbers(last.locked, seen.locked)];
    const touched = new Set(given);
    for (const hand of [last.hand, seen.hand]) for (const number of this.#marked(hand)) touched.add(number);
    const marksSame = ["hovered", "active", "likened"].every(
      (name) => last.hand[/** @type {keyof Hand} */ (name)] === seen.hand[/** @type {keyof Hand} */ (name)],
    );
    return {
      all: seen.whole.some((value, at) => value !== last.whole[at]),
      given,
      touched: marksSame ? given : [...touched],
    };
  }

  /** @returns {Seen} */
  #see() {
    const { bench, session, project, shown } = this.room;
    const { hand } = session;
    const { papers, locked } = chosen(shown);
    return {
      papers,
      locked,
      hand,
      whole: [
        bench.preview,
        (hand.lips || hand.spot !== null) && bench.backingOfDesign,
        project.shelf.papers,
        project.look,
        project.page,
        project.ticked,
        project.ticked_bits,
        this.room.paint.loaded,
        hand.strength,
        hand.lips,
        hand.spanned !== null && hand.active,
        hand.spot,
        hand.motif,
        hand.motif !== null && project.motifs,
        hand.place,
        hand.papersPart,
        hand.swapped,
      ],
    };
  }

  /** @param {Readonly<Hand>} hand  @returns {number[]} */
  #marked({ hovered, active, gives, likened }) {
    const around = hovered === null ? [] : this.room.reachedFrom(hovered, gives);
    const alike = likened === null ? [] : this.room.likeness.lit(likened);
    return active === null ? [...around, ...alike] : [...around, ...alike, active];
  }
}

/**
 * @param {readonly number[]} before
 * @param {readonly number[]} after
 */
function changedNumbers(before, after) {
  if (before === after) return [];
  const [had, has] = [new Set(before), new Set(after)];
  return [...before.filter((number) => !has.has(number)), ...after.filter((number) => !had.has(number))];
}

/**
 * @param {Record<string, string>} before
 * @param {Record<string, string>} after
 */
function changedKeys(before, after) {
  if (before === after) return [];
  const keys = new Set([...Object.keys(before), ...Object.keys(after)]);
  return [...keys].filter((key) => before[key] !== after[key]).map(Number);
}
