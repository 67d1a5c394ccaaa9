import { icon, make, write } from "../../parts/dom.js";
import { showTrouble } from "../../parts/trouble.js";
import { swatch } from "../../parts/swatch.js";
import { chosen } from "../../project/edits.js";
import { cutOf } from "../../project/same.js";
import { writeAbout } from "../../words/lengths.js";
import { say } from "../../words/words.js";
import { ProjectDialog } from "../project-dialog.js";
import { bookingRow, whenOf } from "../papers/booking-row.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../desk/types.js").Taken} Taken */

/** "I have cut this": what the plan takes leaves the papers for all projects, what is left comes back. */
export class CutPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    this.told = make("p", { class: "soft", role: "status" });
    this.trouble = make("div", { class: "trouble", role: "alert" });
    this.cut = button("check", "cut.do", () => void this.#ask());
    this.back = button("undo", "cut.take-back", () => void this.#takeBack());
    this.element = make("div", { class: "take" }, this.cut, this.told, this.back, this.trouble);
    room.stash.addEventListener("change", () => room.store.project && this.update());
  }

  update() {
    const { bench, project, stash, papers } = this.room;
    const cut = cutOf(project);
    const booking = stash.bookings.find(({ id }) => id === cut?.booking);
    const held = new Set(stash.shelf.papers.map(({ id }) => id));
    const used = (bench.plan?.trims ?? []).some(({ paper, printed }) => !printed && held.has(papers.get(paper)?.stash ?? ""));
    this.element.hidden = !cut && !used;
    this.cut.hidden = cut !== null;
    this.cut.disabled = !bench.canSettle;
    this.back.hidden = !booking;
    write(this.told, cut ? (booking ? say("cut.is", { date: whenOf(booking) }) : say("cut.is-elsewhere")) : say("cut.about"));
  }

  async #ask() {
    const { room } = this;
    showTrouble(this.trouble, null);
    try {
      if (room.bench.planning !== null) await room.bench.settlePlan();
      const { taken } = await room.questions.ask("plan", (project) => room.desk.book(project, room.stash.shelf));
      new CutDialog(room, taken).open();
    } catch (error) {
      showTrouble(this.trouble, error, room.unit);
    }
  }

  async #takeBack() {
    const { room } = this;
    const cut = cutOf(room.project);
    showTrouble(this.trouble, null);
    try {
      if (cut) await room.stash.takeBack(cut.booking);
      room.notices.tell(say("cut.taken-back"));
    } catch (error) {
      showTrouble(this.trouble, error, room.unit);
    }
  }
}

/** Shows what leaves the papers and what comes back, before it does. */
class CutDialog {
  /**
   * @param {Workroom} room
   * @param {readonly Taken[]} taken
   */
  constructor(room, taken) {
    this.room = room;
    this.dialog = new ProjectDialog(room, say("cut.do"));
    this.earlier = make("ul", { class: "versions" });
    this.earlierAbout = make("p", {}, say("cut.earlier"));
    this.dialog.room.append(
      make("p", {}, say("cut.about")),
      make("ul", { class: "by-paper cut-papers" }, ...taken.map((one) => this.#paper(one))),
      this.earlierAbout,
      this.earlier,
    );
    this.dialog.foot.append(
      make("button", { type: "button", class: "button", onclick: () => this.dialog.close() }, say("act.cancel")),
      make("button", { help: "cut.book", type: "button", class: "button-main", onclick: () => void this.#book() }, say("cut.book")),
    );
    this.#showEarlier();
  }

  open() {
    this.dialog.open();
  }

  /** @param {Taken} taken */
  #paper({ paper, name, sheets, used, left }) {
    const { room } = this;
    const held = room.stash.shelf.papers.find(({ id }) => id === paper);
    const out = [sheets > 0 ? say("cut.sheets", { count: sheets }) : "", used.length > 0 ? say("cut.scraps", { count: used.length }) : ""];
    const back = left.map(({ width_mm, height_mm }) => writeAbout([width_mm, height_mm], room.unit));
    return make(
      "li",
      {},
      held ? swatch(room.paint, held, 28, 28) : null,
      make("span", {}, name),
      make("small", { class: "soft" }, say("cut.out", { things: out.filter(Boolean).join(" · ") })),
      make("small", { class: "soft" }, back.length > 0 ? say("cut.back", { things: back.join(" · ") }) : say("cut.nothing-back")),
    );
  }

  #showEarlier() {
    const { room } = this;
    const earlier = room.stash.bookings.filter(({ project, undone }) => project === room.project.id && !undone);
    this.earlierAbout.hidden = earlier.length === 0;
    this.earlier.replaceChildren(
      ...earlier.map((booking) => bookingRow(booking, () => void this.#try(() => room.stash.takeBack(booking.id)))),
    );
  }

  async #book() {
    const { room } = this;
    await this.#try(async () => {
      const { project, store } = room;
      const { id } = await room.stash.book(project, chosen(project).name, (cut) =>
        store.follow((now) => (now === project ? withCut(now, cut) : now)),
      );
      this.dialog.close();
      room.notices.tell(say("cut.done"), {
        action: { name: say("cut.take-back"), do: () => void room.stash.takeBack(id).catch((error) => room.notices.tellError(error)) },
      });
    });
  }

  /** @param {() => Promise<void>} act */
  async #try(act) {
    showTrouble(this.dialog.trouble, null);
    try {
      await act();
    } catch (error) {
      showTrouble(this.dialog.trouble, error, this.room.unit);
    }
    this.#showEarlier();
  }
}

/**
 * @param {import("../../desk/types.js").Project} project
 * @param {import("../../desk/types.js").Cut} cut
 */
function withCut(project, cut) {
  return { ...project, cuts: [...project.cuts.filter(({ colourway }) => colourway !== cut.colourway), cut] };
}

/**
 * @param {string} picture
 * @param {import("../../words/words.js").Key} key
 * @param {() => void} act
 */
function button(picture, key, act) {
  return make("button", { help: key, type: "button", class: "button button-wide", onclick: act }, icon(picture), say(key));
}
