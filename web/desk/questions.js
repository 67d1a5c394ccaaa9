import { holds } from "../project/same.js";
import { Cancelled } from "../words/refusal.js";

/** @typedef {import("./types.js").Project} Project */
/** @typedef {import("../project/same.js").Part} Part */

/** What was asked about is no longer open or no longer as it was: neither answer nor refusal tells anything of it. */
export class Overtaken extends Cancelled {}

/**
 * The questions under way about the open project, each with the part of it that the answer depends on: an answer
 * counts only while that part is as it was when asked. All that waits for an answer about a project asks here.
 */
export class Questions {
  constructor() {
    /** @type {Project | null} */
    this.project = null;
    /** @type {Set<{part: Part, about: Project, overtaken: AbortController}>} */
    this.open = new Set();
  }

  /**
   * Takes note of the project as it is now; must hear of it before anything else does.
   *
   * @param {Project} project
   */
  follow(project) {
    this.project = project;
    for (const { part, about, overtaken } of this.open) if (!holds(part, about, project)) overtaken.abort();
  }

  /**
   * @template Answer
   * @param {Part} part  that the answer depends on
   * @param {(project: Project, signal: AbortSignal) => Promise<Answer>} ask  the signal ends what is no longer wanted
   * @param {AbortSignal} [stop]  by which the person ends it
   * @returns {Promise<Answer>} rejects with Overtaken once the part is another, else as `ask` does
   */
  async ask(part, ask, stop) {
    const about = this.project;
    if (!about) throw new Overtaken();
    const overtaken = new AbortController();
    const question = { part, about, overtaken };
    const end = new AbortController();
    for (const signal of [stop, overtaken.signal]) {
      if (signal?.aborted) end.abort();
      signal?.addEventListener("abort", () => end.abort(), { once: true });
    }
    this.open.add(question);
    try {
      const answer = await ask(about, end.signal);
      if (overtaken.signal.aborted) throw new Overtaken();
      return answer;
    } catch (error) {
      throw overtaken.signal.aborted ? new Overtaken() : error;
    } finally {
      this.open.delete(question);
    }
  }
}
