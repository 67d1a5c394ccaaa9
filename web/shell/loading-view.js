import { make } from "../parts/dom.js";
import { megabytes } from "../parts/files/megabytes.js";
import { say } from "../words/words.js";

/** @typedef {import("../desk/loading.js").LoadingProgress} LoadingProgress */

/** Shows in bytes and steps how Python comes in, while the page can already be used. */
export class LoadingView {
  /**
   * @param {HTMLElement} element
   * @param {() => void} retry
   */
  constructor(element, retry) {
    this.element = element;
    this.sentence = make("p");
    this.bar = make("progress", { class: "bar", "aria-label": say("app.name") });
    this.retry = make("button", { help: "loading.retry", type: "button", class: "button", onclick: retry }, say("loading.retry"));
  }

  /** @param {LoadingProgress} progress */
  show({ step, bytes, total }) {
    const [done, all] = [bytes, total].map((each) => megabytes(each));
    this.sentence.textContent =
      total === 0 && step === "fetch" ? say("loading.begin") : say(`loading.${step}`, { done: done ?? "", total: all ?? "" });
    if (step === "fetch" && total > 0) {
      this.bar.max = Math.max(total, 1);
      this.bar.value = bytes;
    } else this.bar.removeAttribute("value");
    this.#set(this.sentence, this.bar);
  }

  /** @param {string} reason */
  broken(reason) {
    this.sentence.textContent = say("loading.broken", { reason });
    this.#set(this.sentence, this.retry);
  }

  done() {
    this.element.replaceChildren();
  }

  /** @param {...HTMLElement} parts */
  #set(...parts) {
    const same = parts.length === this.element.childElementCount && parts.every((part) => part.isConnected);
    if (!same) this.element.replaceChildren(...parts);
  }
}
