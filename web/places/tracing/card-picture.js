import { make } from "../../parts/dom.js";
import { TONES } from "../../stage/colours.js";
import { Corners } from "../papers/photos/corners.js";

/** Px around a tap whose mean is the colour that is meant. */
const REACH_PX = 2;

/** A picture with four corners to mark a sheet in it, tinted where it shows the card. */
export class CardPicture {
  /**
   * @param {ImageData} photo
   * @param {() => void} moved  once corners are elsewhere
   * @param {(colour: string) => void} pick  takes the colour that was tapped, `#rrggbb`
   */
  constructor(photo, moved, pick) {
    this.photo = photo;
    this.corners = new Corners(photo, moved);
    this.tint = make("canvas", { class: "card-tint", width: 1, height: 1, "aria-hidden": "true" });
    this.corners.canvas.after(this.tint);
    this.element = this.corners.element;
    /** Whether a tap picks a colour. */
    this.picks = false;
    this.corners.canvas.addEventListener("pointerdown", (event) => {
      if (this.picks) pick(this.#colourAt(event));
    });
  }

  /**
   * @param {Uint8Array} isCard  by px of a copy
   * @param {number} width
   * @param {number} height
   */
  show(isCard, width, height) {
    const cover = new ImageData(width, height);
    for (let px = 0; px < isCard.length; px += 1) cover.data[4 * px + 3] = isCard[px] ? 255 : 0;
    this.tint.width = width;
    this.tint.height = height;
    const context = this.tint.getContext("2d");
    if (!context) return;
    context.putImageData(cover, 0, 0);
    context.globalCompositeOperation = "source-in";
    context.fillStyle = TONES.mark;
    context.fillRect(0, 0, width, height);
  }

  /** @param {PointerEvent} event */
  #colourAt(event) {
    const { data, width, height } = this.photo;
    const box = this.corners.canvas.getBoundingClientRect();
    const across = Math.floor(((event.clientX - box.left) / box.width) * width);
    const down = Math.floor(((event.clientY - box.top) / box.height) * height);
    const sums = [0, 0, 0];
    let count = 0;
    for (let y = Math.max(0, down - REACH_PX); y <= Math.min(height - 1, down + REACH_PX); y += 1) {
      for (let x = Math.max(0, across - REACH_PX); x <= Math.min(width - 1, across + REACH_PX); x += 1) {
        sums.forEach((sum, part) => (sums[part] = sum + (data[4 * (y * width + x) + part] ?? 0)));
        count += 1;
      }
    }
    const parts = sums.map((sum) => Math.round(sum / Math.max(1, count)).toString(16).padStart(2, "0"));
    return `#${parts.join("")}`;
  }
}
