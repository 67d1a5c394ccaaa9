import { make } from "./dom.js";
import { writeInField } from "../words/lengths.js";
import { sentenceOf } from "../words/sentence.js";
import { say } from "../words/words.js";

let count = 0;

/** A length that the person types as they like (“2 1/2 in”, “63.5mm”) or steps up and down. */
export class LengthField {
  /**
   * @param {import("../words/words.js").Key} key  of its name, and of what help tells of it
   * @param {{
   *   read: (text: string) => Promise<number>,
   *   change: (mm: number) => void,
   *   step: (unit: string) => number,
   * }} ways  `read` gives mm or rejects with a sentence; `step` is how far the arrows go, in mm
   */
  constructor(key, { read, change, step }) {
    const id = `length-${++count}`;
    this.read = read;
    this.change = change;
    this.step = step;
    this.mm = 0;
    this.unit = "in";
    this.of = "";
    /** Resolves once what was typed is read, to whether it is a length. @type {Promise<boolean>} */
    this.settled = Promise.resolve(true);
    this.input = make("input", {
      id,
      type: "text",
      inputmode: "text",
      autocomplete: "off",
      spellcheck: "false",
      enterkeyhint: "done",
      "aria-describedby": `${id}-trouble`,
      onchange: () => {
        this.settled = this.#typed();
      },
      onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event),
      onfocus: () => this.input.select(),
    });
    this.trouble = make("p", { class: "field-trouble", id: `${id}-trouble`, role: "alert" });
    this.element = make(
      "div",
      { help: key, class: "field" },
      make("label", { for: id }, say(key)),
      this.input,
      this.trouble,
    );
  }

  /**
   * Shows a length; what is typed or was refused stays until it is another.
   *
   * @param {number} mm
   * @param {string} unit
   * @param {string} [of]  what has it, such as a project: what was typed for one is nothing to another
   */
  show(mm, unit, of = this.of) {
    const isSame = this.of === of && this.unit === unit && Math.abs(mm - this.mm) < 1e-6;
    if (isSame && (document.activeElement === this.input || this.trouble.textContent)) return;
    if (this.of !== of) this.settled = Promise.resolve(true);
    this.mm = mm;
    this.unit = unit;
    this.of = of;
    this.input.value = writeInField(mm, unit);
    this.trouble.textContent = "";
  }

  async #typed() {
    const { of } = this;
    try {
      const mm = await this.read(this.input.value);
      if (this.of !== of) return true;
      this.trouble.textContent = "";
      this.mm = mm;
      this.input.value = writeInField(mm, this.unit);
      this.change(mm);
      return true;
    } catch (error) {
      if (this.of !== of) return true;
      this.trouble.textContent = sentenceOf(error);
      return false;
    }
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.key !== "ArrowUp" && event.key !== "ArrowDown") return;
    event.preventDefault();
    const step = this.step(this.unit);
    const steps = Math.round(this.mm / step) + (event.key === "ArrowUp" ? 1 : -1);
    if (steps * step <= 0) return;
    this.mm = steps * step;
    this.input.value = writeInField(this.mm, this.unit);
    this.trouble.textContent = "";
    this.settled = Promise.resolve(true);
    this.change(this.mm);
  }
}
