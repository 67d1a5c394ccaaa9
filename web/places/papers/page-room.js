/**
 * Where things go on a page: a place for what is new, and what to line up with.
 *
 * @typedef {{x: number, y: number, width: number, height: number}} Lying  its middle and its sides, mm, upright
 * @typedef {[number, number, number, number]} Line
 */

const STEP_MM = 5;
const AIR_MM = 3;
/** What is new is made smaller by these until it finds room. */
const SIZES = [1, 0.85, 0.7, 0.55, 0.4];
/** A gap smaller than this is none, in mm. */
const TOUCHING_MM = 0.01;

/**
 * The place on a page that leaves most room around something new, the one nearest to its middle; smaller where nothing holds it.
 *
 * @param {{width: number, height: number}} one  mm
 * @param {readonly Lying[]} others
 * @param {{width: number, height: number}} page
 * @returns {{x: number, y: number, size: number}} its middle, and what its sides are multiplied by; the middle of
 *   the page as it is where there is no room at all
 */
export function roomFor(one, others, page) {
  for (const size of SIZES) {
    const [across, down] = [(one.width * size) / 2, (one.height * size) / 2];
    /** @type {{x: number, y: number, size: number, air: number, away: number} | null} */
    let best = null;
    for (let y = down + AIR_MM; y <= page.height - down - AIR_MM; y += STEP_MM) {
      for (let x = across + AIR_MM; x <= page.width - across - AIR_MM; x += STEP_MM) {
        const air = Math.min(
          x - across,
          y - down,
          page.width - x - across,
          page.height - y - down,
          ...others.map((other) => Math.max(Math.abs(x - other.x) - across - other.width / 2, Math.abs(y - other.y) - down - other.height / 2)),
        );
        const away = Math.hypot(x - page.width / 2, y - page.height / 2);
        const more = air - (best?.air ?? 0);
        if (air >= AIR_MM && (more > TOUCHING_MM || (more > -TOUCHING_MM && away < (best?.away ?? 0)))) best = { x, y, size, air, away };
      }
    }
    if (best) return { x: best.x, y: best.y, size };
  }
  return { x: page.width / 2, y: page.height / 2, size: 1 };
}

/**
 * Moves something to where it lines up with the page and what lies on it, or has equal gaps on either side.
 *
 * @param {Lying} one
 * @param {readonly Lying[]} others
 * @param {{width: number, height: number}} page
 * @param {number} reach  how far it is moved at most, mm
 * @returns {{x: number, y: number, lines: Line[]}} its middle, and the lines that it keeps to
 */
export function linedUp(one, others, page, reach) {
  const level = alongOne(
    { at: one.x, half: one.width / 2, over: one.y, reaches: one.height / 2 },
    others.map(({ x, y, width, height }) => ({ at: x, half: width / 2, over: y, reaches: height / 2 })),
    page.width,
    reach,
  );
  const upright = alongOne(
    { at: one.y, half: one.height / 2, over: level?.at ?? one.x, reaches: one.width / 2 },
    others.map(({ x, y, width, height }) => ({ at: y, half: height / 2, over: x, reaches: width / 2 })),
    page.height,
    reach,
  );
  const [x, y] = [level?.at ?? one.x, upright?.at ?? one.y];
  /** @type {Line[]} */
  const across = (level?.marks ?? []).map((mark) => [mark, 0, mark, page.height]);
  /** @type {Line[]} */
  const down = (upright?.marks ?? []).map((mark) => [0, mark, page.width, mark]);
  return { x, y, lines: [...across, ...down] };
}

/**
 * The same along one axis.
 *
 * @typedef {{at: number, half: number, over: number, reaches: number}} Along  middle and half side along the axis,
 *   and across it
 * @param {Along} one
 * @param {readonly Along[]} others
 * @param {number} length  of the page
 * @param {number} reach
 * @returns {{at: number, marks: number[]} | null} its middle, and where the lines are that it keeps to
 */
function alongOne(one, others, length, reach) {
  const edges = [length / 2, ...others.flatMap(({ at, half }) => [at - half, at, at + half])];
  /** @type {{at: number, marks: number[]}[]} */
  const lined = edges.flatMap((edge) => [0, -one.half, one.half].map((part) => ({ at: edge - part, marks: [edge] })));
  // Between what lies before and behind it, the page's edges too.
  const beside = others.filter(({ over, reaches }) => Math.abs(over - one.over) < reaches + one.reaches);
  const before = Math.max(0, ...beside.filter(({ at }) => at < one.at).map(({ at, half }) => at + half));
  const behind = Math.min(length, ...beside.filter(({ at }) => at > one.at).map(({ at, half }) => at - half));
  const middle = (before + behind) / 2;
  const gaps = { at: middle, marks: [before, middle - one.half, middle + one.half, behind] };
  const fits = behind - before > 2 * one.half;
  const near = [...lined, ...(fits ? [gaps] : [])].toSorted((first, second) => Math.abs(first.at - one.at) - Math.abs(second.at - one.at))[0];
  return near && Math.abs(near.at - one.at) <= reach ? near : null;
}
