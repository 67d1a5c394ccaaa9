import { Dialog } from "../parts/dialog.js";
import { icon, make } from "../parts/dom.js";
import { say } from "../words/words.js";

/**
 * Asks whether to load the page again though what is on it is not kept.
 *
 * @param {{save: () => void, go: () => void, stay: () => void}} ways  `save` saves the project as a file
 */
export function leaveDialog({ save, go, stay }) {
  const dialog = new Dialog(say("leave.title"));
  dialog.room.append(make("p", {}, say("leave.about")));
  dialog.foot.append(
    make("button", { type: "button", class: "button", onclick: go }, say("leave.go")),
    make("button", { help: "menu.save", type: "button", class: "button-main", onclick: save }, icon("save"), say("menu.save")),
  );
  dialog.element.addEventListener("close", stay);
  dialog.open();
}
