import { icon, make } from "../../parts/dom.js";
import { say } from "../../words/words.js";
import { ProjectDialog } from "../project-dialog.js";

/**
 * Asks in one tap what a picture shows that came in.
 *
 * @param {import("../workroom.js").Workroom} room
 * @param {string} name  of the picture
 * @param {{design: () => void, paper: () => void}} ways
 */
export function askWhatItShows(room, name, { design, paper }) {
  const dialog = new ProjectDialog(room, say("trace.what-title"));
  const way = (/** @type {"design" | "paper"} */ shown, /** @type {string} */ picture, /** @type {() => void} */ go) =>
    make(
      "button",
      {
        help: `trace.what-${shown}`,
        type: "button",
        class: "button trace-way",
        onclick: () => {
          dialog.close();
          go();
        },
      },
      icon(picture),
      make(
        "span",
        {},
        make("strong", {}, say(`trace.what-${shown}`)),
        make("small", { class: "soft" }, say(`trace.what-${shown}-about`)),
      ),
    );
  dialog.room.append(make("p", { class: "soft" }, name), way("design", "design", design), way("paper", "photo", paper));
  dialog.open();
}
