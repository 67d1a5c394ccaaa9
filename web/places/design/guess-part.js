import { Choice } from "../../parts/choice.js";
import { writeSet } from "../../words/lengths.js";

/** @typedef {import("../../desk/types.js").Design} Design */
/** @typedef {import("../../desk/types.js").Project} Project */
/** @typedef {{width_mm: number | null, height_mm: number | null}} Size */

const MM_PER_INCH = 25.4;
/** Longer sides to choose from where px make no usual size. */
const SIDES_IN = [4, 6, 8, 10];
const SIDES_MM = [100, 150, 200, 250];

/** Sizes to choose from while the file tells none: by the usual px to the inch, or round ones. */
export class GuessPart {
  /**
   * @param {(pxPerInch: number) => void} read
   * @param {(size: Size) => void} resize
   */
  constructor(read, resize) {
    /** The project of whose file it is known that it tells no size. */
    this.of = "";
    this.choice = /** @type {Choice<string>} */ (new Choice("design.guess", (value) => this.take(value)));
    this.element = this.choice.element;
    this.take = (/** @type {string} */ value) => {
      const count = Number(value.slice(1));
      if (value.startsWith("p")) read(count);
      else resize(this.isWide ? { width_mm: count, height_mm: null } : { width_mm: null, height_mm: count });
    };
    this.isWide = true;
  }

  /**
   * @param {Project} project
   * @param {Design} design
   * @param {string} unit
   * @param {boolean} isNew  whether the size is still to be looked at: then what was chosen may be chosen anew
   */
  update({ id, reading }, design, unit, isNew) {
    if (design.size_is_a_guess) this.of = id;
    this.element.hidden = !design.size_is_a_guess && !(isNew && this.of === id);
    const { width_mm: width, height_mm: height, mm_per_px: scale } = design;
    this.isWide = width >= height;
    const side = Math.max(width, height);
    const isSet = reading.width_mm !== null || reading.height_mm !== null;
    const round = unit === "in" ? SIDES_IN.map((inches) => inches * MM_PER_INCH) : SIDES_MM;
    const [options, chosen] =
      design.usual_px_per_inch.length > 0
        ? [
            design.usual_px_per_inch.map((ppi) => ({
              value: `p${ppi}`,
              text: writeSet((width / scale / ppi) * MM_PER_INCH, unit),
            })),
            isSet ? null : `p${reading.px_per_inch ?? Math.round(MM_PER_INCH / scale)}`,
          ]
        : [
            round.map((mm) => ({ value: `s${mm}`, text: writeSet(mm, unit) })),
            `s${round.find((mm) => Math.abs(mm - side) < 0.01)}`,
          ];
    this.choice.show(options, chosen);
  }
}
