import { make } from "../parts/dom.js";

/** @typedef {import("./stage.js").Stage} Stage */

const LARGER = 3.2;
const SIZE = 176;

/** A round window that shows a crowded place larger, so that a finger can choose in it. */
export class Loupe {
  /**
   * @param {HTMLElement} element  the stage's
   * @param {Stage} stage
   */
  constructor(element, stage) {
    this.element = element;
    this.stage = stage;
    /** @type {HTMLElement | null} */
    this.glass = null;
  }

  /**
   * @param {{x: number, y: number}} spot  px
   * @param {(x: number, y: number) => void} choose  takes mm
   */
  open({ x, y }, choose) {
    this.close();
    const ratio = Math.min(devicePixelRatio || 1, 2);
    const canvas = make("canvas", { width: SIZE * ratio, height: SIZE * ratio });
    const scene = this.stage.scene;
    const context = canvas.getContext("2d");
    if (!scene || !context) return;
    const view = this.stage.view.zoomed(LARGER, x, y).moved(SIZE / 2 - x, SIZE / 2 - y);
    const reach = SIZE / 2 / view.scale;
    const [cx, cy] = this.stage.view.toMm(x, y);
    for (const layer of scene.layers) {
      view.applyTo(context, ratio);
      context.save();
      layer.draw({ context, view, ratio, region: [cx - reach, cy - reach, cx + reach, cy + reach] });
      context.restore();
    }
    this.glass = make("div", { class: "loupe" }, canvas);
    const left = Math.min(Math.max(4, x - SIZE / 2), this.element.clientWidth - SIZE - 4);
    const top = Math.min(Math.max(4, y - SIZE / 2), this.element.clientHeight - SIZE - 4);
    this.glass.style.setProperty("left", `${left}px`);
    this.glass.style.setProperty("top", `${top}px`);
    this.glass.addEventListener("pointerup", (event) => {
      const box = canvas.getBoundingClientRect();
      this.close();
      choose(...view.toMm(event.clientX - box.left, event.clientY - box.top));
    });
    this.element.append(this.glass);
  }

  close() {
    this.glass?.remove();
    this.glass = null;
  }
}
