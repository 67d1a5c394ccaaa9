/** @typedef {import("../desk/types.js").Design} Design */
/** @typedef {import("../desk/types.js").Opening} Opening */
/** @typedef {import("../desk/types.js").Box} Box */
/** @typedef {Opening & {outline: Path2D}} OpeningShape */

/** A design as canvas paths, made once for each design that the desk sends. */
export class Shapes {
  /** @param {Design} design */
  constructor(design) {
    this.design = design;
    /** @type {Box} */
    this.box = [0, 0, design.width_mm, design.height_mm];
    // Loose bits lie in openings, so that one even-odd path holds them and the card.
    this.cardText = [design.card, ...design.loose_bits.map(({ path }) => path)].join("");
    this.card = new Path2D(this.cardText);
    /** @type {{box: Box, path: Path2D}[] | null} */
    this.rings = null;
    /** @type {OpeningShape[]} */
    this.openings = design.openings.map((opening) => ({ ...opening, outline: new Path2D(opening.path) }));
    this.bits = design.loose_bits.map((bit) => ({ ...bit, outline: new Path2D(bit.path) }));
    /** @type {Path2D | null} */
    this.outside = null;
    this.byNumber = new Map(this.openings.map((opening) => [opening.number, opening]));
  }

  /** The card's rings one by one, made once a part of the card is painted by itself. */
  get cardRings() {
    this.rings ??= ringTexts(this.cardText).map((ring) => ({ box: boxOf(ring), path: new Path2D(ring) }));
    return this.rings;
  }

  /** What of the card's edge is no opening's. @returns {Path2D} */
  get rim() {
    if (!this.outside) {
      const inside = new Set([...this.openings, ...this.bits].map(({ box }) => keyOf(box)));
      this.outside = new Path2D();
      for (const ring of this.cardRings) if (!inside.has(keyOf(ring.box))) this.outside.addPath(ring.path);
    }
    return this.outside;
  }

  /**
   * The openings whose boxes meet a region, all where it is null.
   *
   * @param {Box | null} region  mm
   */
  within(region) {
    return region ? this.openings.filter(({ box }) => meet(box, region)) : this.openings;
  }

  /**
   * The card as a path that is right within a region: rings that do not reach it change nothing there.
   *
   * @param {Box | null} region  mm
   * @returns {Path2D} to be filled by even-odd
   */
  cardWithin(region) {
    if (!region) return this.card;
    const near = this.cardRings.filter(({ box }) => meet(box, region));
    if (near.length === this.cardRings.length) return this.card;
    const path = new Path2D();
    for (const ring of near) path.addPath(ring.path);
    return path;
  }

  /**
   * The opening with most room for a number, of those that share a piece.
   *
   * @param {readonly number[]} numbers
   */
  roomiest(numbers) {
    const openings = numbers.flatMap((number) => this.byNumber.get(number) ?? []);
    return openings.sort((one, other) => other.label[2] - one.label[2] || one.number - other.number)[0] ?? null;
  }

  /**
   * The opening that bears each piece's number.
   *
   * @param {readonly {number: number, openings: readonly number[]}[]} pieces
   * @returns {Map<number, OpeningShape>}
   */
  numberedBy(pieces) {
    return new Map(
      pieces.flatMap(({ number, openings }) => {
        const opening = this.roomiest(openings);
        return opening ? [/** @type {const} */ ([number, opening])] : [];
      }),
    );
  }

  /** @param {Iterable<number>} numbers  @returns {Box | null} the box around these openings */
  boxOf(numbers) {
    /** @type {Box | null} */
    let around = null;
    for (const number of numbers) {
      const box = this.byNumber.get(number)?.box;
      if (box) around = around ? enclosing(around, box) : box;
    }
    return around;
  }
}

/**
 * @param {Box} one
 * @param {Box} other
 */
export function meet(one, other) {
  return one[0] <= other[2] && other[0] <= one[2] && one[1] <= other[3] && other[1] <= one[3];
}

/**
 * @param {Box} one
 * @param {Box} other
 * @returns {Box}
 */
export function enclosing(one, other) {
  return [
    Math.min(one[0], other[0]),
    Math.min(one[1], other[1]),
    Math.max(one[2], other[2]),
    Math.max(one[3], other[3]),
  ];
}

/**
 * @param {Box} box
 * @param {number} by
 * @returns {Box}
 */
export function grown(box, by) {
  return [box[0] - by, box[1] - by, box[2] + by, box[3] + by];
}

/** @param {string} path  as the desk writes it  @returns {Box[]} the box of each of its rings and lines */
export function boxesOf(path) {
  return ringTexts(path).map(boxOf);
}

/**
 * The box around a path as the desk writes it: absolute M, L and Z alone.
 *
 * @param {string} path
 * @returns {Box}
 */
export function boxOf(path) {
  const numbers = (path.match(/-?[\d.]+(?:e[-+]?\d+)?/g) ?? []).map(Number);
  /** @type {Box} */
  const box = [Infinity, Infinity, -Infinity, -Infinity];
  numbers.forEach((value, at) => {
    const axis = at % 2;
    box[axis] = Math.min(box[axis] ?? value, value);
    box[axis + 2] = Math.max(box[axis + 2] ?? value, value);
  });
  return box;
}

/** What tells a ring from others by its box, to a tenth of a millimetre. @param {Box} box */
function keyOf(box) {
  return box.map((value) => value.toFixed(1)).join();
}

/** @param {string} path */
function ringTexts(path) {
  return path.match(/M[^M]+/g) ?? [];
}
