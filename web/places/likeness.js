import { Overtaken } from "../desk/questions.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */
/** @typedef {import("../desk/types.js").Likeness} Found */

/** Which openings count as alike: as the person set it, else as suits the design. */
export class Likeness {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    /** The openings that it was asked for. @type {import("../stage/shapes.js").Shapes | null} */
    this.of = null;
    /** @type {Found | null} */
    this.found = null;
    /** The opening that the person touched last. @type {number | null} */
    this.touched = null;
  }

  /** What is known of the openings that are seen; until then those of the same shape and size alone are alike. */
  get known() {
    return this.of === this.room.shapes ? this.found : null;
  }

  /** How alike openings must be. */
  get degree() {
    return this.room.project.likeness ?? this.known?.usual ?? 0;
  }

  /** Asks which openings are alike, once for each design. @param {() => void} then  once it is known */
  async seek(then) {
    const { shapes, bench, desk, questions } = this.room;
    if (!shapes || shapes === this.of || !bench.design?.is_whole) return;
    this.of = shapes;
    this.found = null;
    this.touched = null;
    try {
      const found = await questions.ask("design", (project, signal) => desk.likeness(project, signal));
      if (this.of !== shapes) return;
      this.found = found;
      then();
    } catch (error) {
      if (!(error instanceof Overtaken)) throw error;
      if (this.of === shapes) this.of = null;
    }
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
