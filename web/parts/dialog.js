import { icon, make } from "./dom.js";
import { helpButton } from "./help-button.js";
import { say } from "../words/words.js";

let count = 0;
/** A dialog with a heading, room for what is asked or shown, and a foot for what to do about it. */
export class Dialog {
  /**
   * @param {string} title
   * @param {{kind?: string}} [options]
   */
  constructor(title, { kind = "" } = {}) {
    const id = `dialog-${++count}`;
    this.room = make("div", { class: "dialog-room" });
    this.foot = make("div", { class: "dialog-foot" });
    this.trouble = make("div", { class: "trouble", role: "alert" });
    this.element = make(
      "dialog",
      { class: `dialog ${kind}`, "aria-labelledby": id, onclose: () => this.element.remove() },
      make(
        "div",
        { class: "dialog-head" },
        make("h2", { id, tabindex: "-1", autofocus: true }, title),
        helpButton(),
        make(
          "button",
          { help: "act.close", type: "button", class: "button-icon", "aria-label": say("act.close"), onclick: () => this.close() },
          icon("close"),
        ),
      ),
      this.room,
      this.trouble,
      this.foot,
    );
  }

  open() {
    document.body.append(this.element);
    openFromAsked(this.element);
  }

  close() {
    this.element.close();
  }
}

/** Opens a dialog that comes from the control by which it was asked for. @param {HTMLDialogElement} dialog */
export function openFromAsked(dialog) {
  const asked = document.activeElement === document.body ? null : document.activeElement?.getBoundingClientRect();
  dialog.classList.remove("dialog-comes");
  dialog.showModal();
  if (!asked) return;
  const { left, top } = dialog.getBoundingClientRect();
  const [x, y] = [asked.left + asked.width / 2 - left, asked.top + asked.height / 2 - top];
  dialog.style.transformOrigin = `${x}px ${y}px`;
  dialog.classList.add("dialog-comes");
}
