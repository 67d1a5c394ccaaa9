/**
 * The sheets that papers come in, in mm. A4 and A5 are those of ISO 216:2007, Letter is size A of ANSI/ASME
 * Y14.1; the square sheets are common practice, no published source.
 *
 * @type {readonly {name: string, width: number, height: number}[]}
 */
export const SHEET_SIZES = [
  { name: "12 × 12 in", width: 304.8, height: 304.8 },
  { name: "8 × 8 in", width: 203.2, height: 203.2 },
  { name: "6 × 6 in", width: 152.4, height: 152.4 },
  { name: "Letter, 8 1/2 × 11 in", width: 215.9, height: 279.4 },
  { name: "A4", width: 210, height: 297 },
  { name: "A5", width: 148, height: 210 },
];

/**
 * The place in SHEET_SIZES of a sheet of this size, -1 for a custom one.
 *
 * @param {number} width  mm
 * @param {number} height
 */
export function sheetSize(width, height) {
  return SHEET_SIZES.findIndex(
    (size) => Math.abs(size.width - width) < 0.05 && Math.abs(size.height - height) < 0.05,
  );
}
