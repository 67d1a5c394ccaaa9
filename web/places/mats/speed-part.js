import { icon, make } from "../../parts/dom.js";
import { field } from "../../parts/field.js";
import { showTrouble } from "../../parts/trouble.js";
import { say } from "../../words/words.js";
import { ProjectDialog } from "../project-dialog.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */

/** How fast the person's machine cuts, set by one timed cut of their own. */
export class SpeedPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    this.button = make("button", { help: "speed.set", type: "button", class: "button", onclick: () => this.#ask() }, icon("clock"), say("speed.set"));
    this.element = make("div", {}, this.button);
  }

  update() {
    const { bench } = this.room;
    this.element.hidden = !bench.planHolds || bench.planning !== null;
  }

  #ask() {
    const dialog = new ProjectDialog(this.room, say("speed.title"));
    const number = (/** @type {number} */ most) =>
      make("input", { type: "number", inputmode: "numeric", min: 0, max: most, step: 1, value: 0 });
    const minutes = number(600);
    const seconds = number(59);
    const set = async () => {
      try {
        const taken = 60 * minutes.valueAsNumber + seconds.valueAsNumber || 0;
        const speed = await this.room.questions.ask("plan", (project) => this.room.desk.calibrate(project, taken));
        if (!dialog.isOpen) return;
        this.room.store.edit("", (project) => ({ ...project, speed }));
        dialog.close();
      } catch (error) {
        showTrouble(dialog.trouble, error);
      }
    };
    dialog.room.append(
      make("p", {}, say("speed.about")),
      make("div", { class: "fields" }, field("speed.minutes", minutes), field("speed.seconds", seconds)),
      make("p", { class: "soft small" }, say("speed.caution")),
    );
    dialog.foot.append(
      make("button", { help: "act.cancel", type: "button", class: "button", onclick: () => dialog.close() }, say("act.cancel")),
      make("button", { help: "speed.use", type: "button", class: "button-main", onclick: () => void set() }, say("speed.use")),
    );
    dialog.open();
    minutes.focus();
  }
}
