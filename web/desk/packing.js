import { Fault, UnknownSource } from "./messenger.js";

/** @typedef {import("./desk.js").Desk} Desk */
/** @typedef {import("./types.js").Plan} Plan */
/** @typedef {import("./types.js").Project} Project */
/** @typedef {(plan: Partial<Plan> & {elapsed_s: number}) => void} Tell */
/** @typedef {{paper: string, pieces: number, text: string}} Work  what a packer is given for one paper */

/** Better plans are shown no more often: each takes time of the worker that is to stay free for edits. */
const SHOWN_EACH_MS = 500;

/**
 * Seeks a plan by several workers, paper by paper; by the one that answers all calls where there are none, or where
 * they can't go on.
 *
 * @param {Desk} desk
 * @param {Project} project
 * @param {number} seconds
 * @param {unknown} kept  of a plan found before, to go on from; null without
 * @param {Tell} tell
 * @param {AbortSignal} signal
 * @returns {Promise<Plan & {kept: unknown}>} rejects with Refusal, Cancelled or Fault
 */
export async function seekPlan(desk, project, seconds, kept, tell, signal) {
  if (desk.pool.size > 0) {
    try {
      return await new Packing(desk, project, tell, signal).plan(seconds, kept);
    } catch (error) {
      if (!(error instanceof Fault) || error instanceof UnknownSource) throw error;
    }
  }
  return desk.planAlone(project, seconds, kept, tell, signal);
}

/** One search: what packers find is gathered by paper, and the desk makes a plan of it from time to time. */
class Packing {
  /**
   * @param {Desk} desk
   * @param {Project} project
   * @param {Tell} tell
   * @param {AbortSignal} signal
   */
  constructor(desk, project, tell, signal) {
    this.desk = desk;
    this.project = project;
    this.tell = tell;
    this.signal = signal;
    this.begun = performance.now();
    /** What packers told last, by paper. @type {Record<string, string>} */
    this.found = {};
    this.papers = 0;
    this.isNews = false;
    this.isShowing = false;
    this.isOver = false;
  }

  /**
   * @param {number} seconds
   * @param {unknown} kept
   */
  async plan(seconds, kept) {
    const { pool } = this.desk;
    const { plan: known, work } = await this.desk.packing(this.project, seconds, kept, this.signal);
    if (known) this.#tell(known);
    if (known && work.length === 0) return known;
    this.papers = work.length;
    const clock = setInterval(() => this.#tell({}), SHOWN_EACH_MS);
    try {
      const asked = shared(work, pool.size).map((texts) => ({ work: texts, seconds }));
      const told = await pool.ask("pack", asked, ({ found }) => this.#take(found), this.signal);
      for (const { found } of told) Object.assign(this.found, found);
    } finally {
      this.isOver = true;
      clearInterval(clock);
    }
    return this.desk.packed(this.project, this.found, true, this.signal);
  }

  /** @param {Partial<Plan>} plan */
  #tell(plan) {
    this.tell({ ...plan, elapsed_s: (performance.now() - this.begun) / 1000 });
  }

  /** @param {Record<string, string>} found */
  #take(found) {
    Object.assign(this.found, found);
    this.isNews = true;
    if (!this.isShowing && Object.keys(this.found).length === this.papers) void this.#show();
  }

  /** Shows what is found by now, and what is found meanwhile, until there is nothing new. */
  async #show() {
    this.isShowing = true;
    try {
      while (this.isNews && !this.isOver) {
        this.isNews = false;
        const plan = await this.desk.packed(this.project, this.found, false, this.signal);
        if (!this.isOver) this.#tell(plan);
        await new Promise((rested) => setTimeout(rested, SHOWN_EACH_MS));
      }
    } catch {
      // The last plan of the search fails in its turn, and says so.
    }
    this.isShowing = false;
  }
}

/**
 * Shares papers out among packers, so that each has about as many pieces: the largest first, to who has fewest.
 *
 * @param {readonly Work[]} work
 * @param {number} packers
 * @returns {string[][]} what each is given; none is given nothing
 */
export function shared(work, packers) {
  const shares = Array.from({ length: Math.min(packers, work.length) }, () => ({ pieces: 0, texts: /** @type {string[]} */ ([]) }));
  for (const { pieces, text } of work.toSorted((one, other) => other.pieces - one.pieces)) {
    const least = shares.reduce((lesser, share) => (share.pieces < lesser.pieces ? share : lesser));
    least.pieces += pieces;
    least.texts.push(text);
  }
  return shares.map(({ texts }) => texts);
}
