/**
 * Small things that this browser remembers of a person's habits, by key. A browser that keeps nothing forgets
 * them with the page.
 *
 * @param {string} key
 * @returns {string | null}
 */
export function recall(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

/**
 * @param {string} key
 * @param {string} value
 */
export function remember(key, value) {
  try {
    localStorage.setItem(key, value);
  } catch {
    /* Forgotten with the page. */
  }
}
