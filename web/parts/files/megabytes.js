import { locale } from "../../words/words.js";

/**
 * Writes bytes as megabytes with one decimal.
 *
 * @param {number} bytes
 */
export function megabytes(bytes) {
  return new Intl.NumberFormat(locale(), { minimumFractionDigits: 1, maximumFractionDigits: 1 }).format(bytes / 1e6);
}
