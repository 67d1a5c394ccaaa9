import { AboutOpenings } from "./about-openings.js";

/** @typedef {import("../desk/types.js").Likeness} Found */

/**
 * Which openings count as alike: as the person set it, else as suits the design; until that is known, those of the
 * same shape and size alone.
 *
 * @extends {AboutOpenings<Found>}
 */
export class Likeness extends AboutOpenings {
  /** @param {import("./workroom.js").Workroom} room */
  constructor(room) {
    super(room, (project, signal) => room.desk.likeness(project, signal));
    /** The opening that the person touched last. @type {number | null} */
    this.touched = null;
  }

  /** How alike openings must be. */
  get degree() {
    return this.room.project.likeness ?? this.known?.usual ?? 0;
  }

  /** @param {() => void} then */
  async seek(then) {
    if (this.of !== this.room.shapes) this.touched = null;
    await super.seek(then);
  }

  /** @param {number} [degree]  @returns {readonly number[]} the number of each opening's group, openings in order */
  groups(degree = this.degree) {
    return this.known?.groups[degree] ?? (this.room.shapes?.openings ?? []).map(({ alike }) => alike);
  }

  /**
   * @param {number} number  of an opening
   * @param {number} [degree]
   * @returns {readonly number[]} the openings alike to it, itself too
   */
  to(number, degree = this.degree) {
    const openings = this.room.shapes?.openings ?? [];
    const groups = this.groups(degree);
    const at = openings.findIndex((opening) => opening.number === number);
    return at < 0 ? [] : openings.filter((_, place) => groups[place] === groups[at]).map((each) => each.number);
  }

  /** The openings that show how alike: those of the touched one, else the largest group. @param {number} degree */
  lit(degree) {
    const { active } = this.room.session.hand;
    const touched = this.touched ?? active;
    if (touched !== null) return this.to(touched, degree);
    /** @type {Map<number, number>} */
    const counts = new Map();
    const groups = this.groups(degree);
    for (const group of groups) counts.set(group, (counts.get(group) ?? 0) + 1);
    const [largest] = [...counts].sort(([, one], [, other]) => other - one)[0] ?? [];
    const openings = this.room.shapes?.openings ?? [];
    return openings.filter((_, place) => groups[place] === largest).map((each) => each.number);
  }
}
