import { recall, remember } from "../basics/memory.js";

const KEY = "peekpaper-opening";
/** One may have been ended by hand. */
const MOST_FAILED = 2;
/** Until what is opened is on the table: asked for, put in step, and drawn. */
const FRAMES = 3;

/** Notes in the browser that a project is being opened, so that one at which the page hangs is known next time. */
export const attempts = {
  /** @param {string} id  @returns {boolean} whether the page outlived none of its last attempts to open a project */
  failedAt(id) {
    return read().id === id && read().count >= MOST_FAILED;
  },

  /** Notes an attempt, until the page has shown the project. @param {string} id */
  begin(id) {
    const { id: before, count } = read();
    remember(KEY, `${before === id ? count + 1 : 1} ${id}`);
    after(FRAMES, () => remember(KEY, ""));
  },
};

/** @returns {{id: string, count: number}} */
function read() {
  const [count = "", id = ""] = (recall(KEY) ?? "").split(" ", 2);
  return { id, count: Number(count) };
}

/**
 * @param {number} frames  a page that nobody sees draws none
 * @param {() => void} act
 */
function after(frames, act) {
  if (frames === 0 || document.hidden) setTimeout(act);
  else requestAnimationFrame(() => after(frames - 1, act));
}
