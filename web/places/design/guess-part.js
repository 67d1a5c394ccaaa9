import { Choice } from "../../parts/choice.js";
import { writeAbout } from "../../words/lengths.js";

/** @typedef {import("../../desk/types.js").Design} Design */
/** @typedef {import("../../desk/types.js").Project} Project */
/** @typedef {{width_mm: number | null, height_mm: number | null}} Size */

const MM_PER_INCH = 25.4;
/** Longer sides to choose from besides those that px make. */
const SIDES_IN = [4, 6, 8, 10];
const SIDES_MM = [100, 150, 200, 250];
/** So many larger than all that px make are offered. */
const LARGER = 2;

/** Longer sides to choose from while the file tells none: by the usual px to the inch, and round ones. */
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
    const read = design.usual_px_per_inch.map((ppi) => ({ ppi, share: MM_PER_INCH / scale / ppi }));
    const largest = Math.max(0, ...read.map(({ share }) => side * share));
    const round = (unit === "in" ? SIDES_IN.map((inches) => inches * MM_PER_INCH) : SIDES_MM).filter((mm) => mm > largest);
    const options = [
      ...read.map(({ ppi, share }) => ({ value: `p${ppi}`, text: writeAbout([side * share], unit) })),
      ...round.slice(0, read.length > 0 ? LARGER : round.length).map((mm) => ({ value: `s${mm}`, text: writeAbout([mm], unit) })),
    ];
    const isByPx = read.length > 0 && !isSet;
    const chosen = isByPx ? `p${reading.px_per_inch ?? Math.round(MM_PER_INCH / scale)}` : `s${round.find((mm) => Math.abs(mm - side) < 0.01)}`;
    this.choice.show(options, chosen);
  }
}
