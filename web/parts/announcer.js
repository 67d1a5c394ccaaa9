const QUIET_MS = 350;

/**
 * Says politely to a screen reader what was done: once, and of what is done in quick succession the last alone.
 * What is said twice in a row is heard twice.
 */
export class Announcer {
  /** @param {HTMLElement} element  a polite live region that nobody sees */
  constructor(element) {
    this.element = element;
    this.waiting = 0;
  }

  /** @param {string} sentence */
  say(sentence) {
    clearTimeout(this.waiting);
    this.element.textContent = "";
    this.waiting = setTimeout(() => {
      this.element.textContent = sentence;
    }, QUIET_MS);
  }
}
