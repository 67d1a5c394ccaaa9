import { icon, make } from "./dom.js";
import { say } from "../words/words.js";

/** @returns {HTMLButtonElement} turns help in place on and off */
export function helpButton() {
  const name = say("help.title");
  return make(
    "button",
    { type: "button", class: "button-icon help-toggle", "aria-label": name, title: name, "aria-pressed": "false" },
    icon("help"),
  );
}
