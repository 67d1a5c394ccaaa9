const SHARPEST = 2;
/** Pixels of one layer at most: a browser of a tablet gives a canvas no more than 16.7 million (from memory). */
const MOST_PIXELS = 7e6;
/** The same where the device says that it has little memory: there are several layers of 4 bytes a pixel. */
const FEW_PIXELS = 3e6;
const LITTLE_MEMORY_GB = 2;

/**
 * How many pixels of a canvas go to one of the page along each side: as sharp as the screen, but for what a
 * canvas so large would cost.
 *
 * @param {number} width  px of the page
 * @param {number} height
 * @returns {number}
 */
export function pixelRatio(width, height) {
  const memory = /** @type {{deviceMemory?: number}} */ (navigator).deviceMemory ?? Infinity;
  const most = memory <= LITTLE_MEMORY_GB ? FEW_PIXELS : MOST_PIXELS;
  return Math.min(devicePixelRatio || 1, SHARPEST, Math.sqrt(most / (width * height)));
}
