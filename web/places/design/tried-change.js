/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").TriedMend} TriedMend */
/** @typedef {import("../../desk/types.js").Change} Change */

/** A change of the whole card that is tried and shown while its fold is open, before the person takes it. */
export class TriedChange {
  /**
   * @param {Workroom} room
   * @param {{change: () => Change, isOpen: () => boolean, show: (tried: TriedMend | null) => void}} part  the change in
   *   mm, whether it is looked at, and what shows it; null while there is nothing to show
   */
  constructor(room, part) {
    this.room = room;
    this.part = part;
    /** What was tried last, and for which mends. @type {{tried: TriedMend, mends: readonly unknown[]} | null} */
    this.last = null;
    /** Which try is the newest. */
    this.tries = 0;
  }

  /** What the change would do, while it is looked at. @returns {TriedMend | null} */
  get tried() {
    return this.last?.tried ?? null;
  }

  /** Forgets what was tried on a card that is another now. */
  update() {
    if (this.last && this.last.mends !== this.room.project.mends) this.#show(null);
  }

  /** Tries the change where it is looked at, else shows it no more. */
  look() {
    if (this.part.isOpen()) void this.#try();
    else this.#show(null);
  }

  /** Makes the change as it was shown. */
  async take() {
    const { room, last } = this;
    if (!last) return;
    const box = room.shapes?.box ?? [0, 0, 0, 0];
    await room.mend([{ edit: "add_mends", to: { mends: last.tried.mends, finding: "" } }], [{ ...last.tried, box }]);
  }

  async #try() {
    const { room } = this;
    const { mends } = room.project;
    const mine = ++this.tries;
    try {
      const tried = await room.questions.ask("project", (project) => room.desk.tryMend(project, this.part.change()));
      if (mine === this.tries && room.project.mends === mends && this.part.isOpen()) this.#show({ tried, mends });
    } catch (error) {
      if (mine !== this.tries) return;
      this.#show(null);
      room.notices.tellError(error, { unit: room.unit });
    }
  }

  /** @param {{tried: TriedMend, mends: readonly unknown[]} | null} last */
  #show(last) {
    this.last = last;
    this.part.show(last?.tried ?? null);
    this.room.repaint(null);
  }
}
