/** @typedef {import("./workroom.js").Workroom} Workroom */
/** @typedef {import("../parts/session.js").PlaceName} PlaceName */

const SETTLE_MS = 600;

/** Seeks a plan for the project as it is once the hand rests, where none holds and the place still lies open. */
export class PlanSeeker {
  /**
   * @param {Workroom} room
   * @param {PlaceName} place
   */
  constructor(room, place) {
    this.room = room;
    this.place = place;
    this.waiting = 0;
  }

  /** Whether nothing keeps a search from being begun. */
  get isWanted() {
    const { bench, session, store } = this.room;
    const idle = bench.planning === null && !bench.planHolds && !bench.trouble.has("plan");
    return store.project !== null && session.hand.place === this.place && idle;
  }

  /** @param {number} [delay] */
  soon(delay = SETTLE_MS) {
    clearTimeout(this.waiting);
    if (this.isWanted) this.waiting = setTimeout(() => this.isWanted && void this.room.bench.seekPlan(), delay);
  }
}
