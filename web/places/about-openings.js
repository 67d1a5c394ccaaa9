import { Overtaken } from "../desk/questions.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */

/**
 * What the package tells of the openings that are seen; asked once for each design, when it is wanted.
 *
 * @template Told
 */
export class AboutOpenings {
  /**
   * @param {Workroom} room
   * @param {(project: import("../desk/types.js").Project, signal: AbortSignal) => Promise<Told>} ask
   */
  constructor(room, ask) {
    this.room = room;
    this.ask = ask;
    /** The openings that it was asked for. @type {import("../stage/shapes.js").Shapes | null} */
    this.of = null;
    /** @type {Told | null} */
    this.found = null;
  }

  /** What is known of the openings that are seen. */
  get known() {
    return this.of === this.room.shapes ? this.found : null;
  }

  /** Asks, once for each design. @param {() => void} then  once it is known */
  async seek(then) {
    const { shapes, bench, questions } = this.room;
    if (!shapes || shapes === this.of || !bench.design?.is_whole) return;
    this.of = shapes;
    this.found = null;
    try {
      const found = await questions.ask("design", this.ask);
      if (this.of !== shapes) return;
      this.found = found;
      then();
    } catch (error) {
      if (!(error instanceof Overtaken)) throw error;
      if (this.of === shapes) this.of = null;
    }
  }
}
