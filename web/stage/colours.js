/** @typedef {[number, number, number]} Rgb  0 to 255 */

/** What is drawn on the table, whose ground is light in each theme: the same tones as the page's light theme. */
export const TONES = /** @type {const} */ ({
  paper: "#fffdf8",
  white: "#ffffff",
  ink: "#2a2620",
  inkDeep: "#1f1b16",
  inkSoft: "#5d5447",
  line: "#8a7d6a",
  accent: "#1c6b57",
  alert: "#9b3418",
  mark: "#e2683f",
  added: "#2f9e6f",
  removed: "#c2321c",
  thin: "#d9481c",
});

/**
 * @param {string} colour  `#rrggbb`
 * @returns {Rgb}
 */
export function readColour(colour) {
  const value = Number.parseInt(colour.slice(1, 7), 16);
  return [(value >> 16) & 255, (value >> 8) & 255, value & 255];
}

/**
 * @param {string} colour  `#rrggbb`
 * @param {string} other
 * @param {number} part  0 keeps `colour`, 1 gives `other`
 */
export function mix(colour, other, part) {
  const [from, to] = [readColour(colour), readColour(other)];
  const parts = from.map((value, at) => Math.round(value + ((to[at] ?? 0) - value) * part));
  return `#${parts.map((value) => value.toString(16).padStart(2, "0")).join("")}`;
}

/**
 * Relative luminance (WCAG 2), 0 black to 1 white.
 *
 * @param {string} colour  `#rrggbb`
 */
export function luminance(colour) {
  const [red, green, blue] = readColour(colour).map((value) => {
    const part = value / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * (red ?? 0) + 0.7152 * (green ?? 0) + 0.0722 * (blue ?? 0);
}

/**
 * The ink that reads best on a colour.
 *
 * @param {string} colour  `#rrggbb`
 */
export function inkOn(colour) {
  return luminance(colour) > 0.179 ? TONES.inkDeep : TONES.paper;
}

/**
 * A paper's colour and its two companions for a pattern.
 *
 * @param {string} base  `#rrggbb`
 */
export function tonesOf(base) {
  const light = luminance(base) > 0.5;
  return {
    base,
    main: light ? mix(base, "#3a2a1a", 0.24) : mix(base, "#ffffff", 0.48),
    second: light ? mix(base, "#3a2a1a", 0.12) : mix(base, "#ffffff", 0.24),
  };
}
