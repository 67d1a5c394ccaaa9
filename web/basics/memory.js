/**
 * Small things that this browser remembers of a person's habits, by key. A browser that keeps nothing forgets
 * them with the tab.
 *
 * @param {string} key
 * @returns {string | null}
 */
export function recall(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return history.state?.[key] ?? null;
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
    // The tab's history outlives a page that is loaded again.
    history.replaceState({ ...history.state, [key]: value }, "");
  }
}
