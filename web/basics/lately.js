/** What was asked for this lately may be on the screen, and stays however much there is. */
const LATELY_MS = 3000;

/**
 * Large things by key, as long as they are used: where all of them together are too large, those go that were
 * not asked for the longest.
 *
 * @template Thing
 */
export class Lately {
  /**
   * @param {number} most  size of all of them
   * @param {(thing: Thing) => void} [letGo]
   */
  constructor(most, letGo = () => {}) {
    this.most = most;
    this.letGo = letGo;
    this.size = 0;
    /** Those asked for the longest ago first. @type {Map<string, {thing: Thing, size: number, asked: number}>} */
    this.held = new Map();
  }

  /** @param {string} key  @returns {Thing | undefined} */
  get(key) {
    const held = this.held.get(key);
    if (!held) return undefined;
    held.asked = performance.now();
    this.held.delete(key);
    this.held.set(key, held);
    return held.thing;
  }

  /**
   * @param {string} key
   * @param {Thing} thing
   * @param {number} size
   */
  set(key, thing, size) {
    this.drop(key);
    const now = performance.now();
    this.held.set(key, { thing, size, asked: now });
    this.size += size;
    for (const [other, { asked }] of this.held) {
      if (this.size <= this.most || now - asked < LATELY_MS) return;
      this.drop(other);
    }
  }

  /**
   * The thing asked for last whose key begins so.
   *
   * @param {string} start
   * @returns {Thing | undefined}
   */
  like(start) {
    const key = [...this.held.keys()].findLast((each) => each.startsWith(start));
    return key === undefined ? undefined : this.get(key);
  }

  /** @param {string} key */
  drop(key) {
    const held = this.held.get(key);
    if (!held) return;
    this.held.delete(key);
    this.size -= held.size;
    this.letGo(held.thing);
  }
}
