import { make } from "../parts/dom.js";

const SHORT_MS = 6000;
const BESIDE_PX = 20;
const EDGE_PX = 8;

/** A sentence at the spot on the table that it is about; it goes by itself, or as soon as a hand does anything. */
export class SpotNote {
  /** @param {HTMLElement} stage */
  constructor(stage) {
    this.stage = stage;
    this.waiting = 0;
    this.element = make("p", { class: "spot-note", role: "status" });
    stage.append(this.element);
    for (const kind of ["pointerdown", "keydown"]) addEventListener(kind, () => this.close(), { capture: true });
  }

  /**
   * @param {string} sentence
   * @param {number} x  px on the stage
   * @param {number} y
   */
  show(sentence, x, y) {
    const { element, stage } = this;
    element.textContent = sentence;
    const { offsetWidth: width, offsetHeight: height } = element;
    const left = Math.min(Math.max(EDGE_PX, x - width / 2), stage.clientWidth - width - EDGE_PX);
    const above = y - height - BESIDE_PX;
    const top = above > EDGE_PX ? above : Math.min(y + BESIDE_PX, stage.clientHeight - height - EDGE_PX);
    element.style.setProperty("left", `${left}px`);
    element.style.setProperty("top", `${top}px`);
    clearTimeout(this.waiting);
    this.waiting = setTimeout(() => this.close(), SHORT_MS);
  }

  close() {
    this.element.textContent = "";
  }
}
