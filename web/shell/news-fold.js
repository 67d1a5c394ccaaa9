import { make } from "../parts/dom.js";
import { Fold } from "../parts/fold.js";
import { say, spoken } from "../words/words.js";

/** @typedef {{version: string, changes: string[]}} Version */

/**
 * Which version of Peekpaper this is and what is new in it, and what was in earlier ones; fetched once it is unfolded.
 *
 * @returns {{element: HTMLDetailsElement, ready: () => Promise<void>}} `ready` fetches the version for the fold's line
 */
export function newsFold() {
  const room = make("div", { class: "stack" });
  const fold = new Fold(say("menu.news"), room);
  let isThere = false;
  const ready = async () => {
    if (isThere) return;
    const versions = await fetched();
    const [newest] = versions;
    if (!newest) return;
    isThere = true;
    fold.show(newest.version);
    room.replaceChildren(...versions.flatMap(({ version, changes }) => [
      make("h4", {}, version),
      make("ul", { class: "news" }, ...changes.map((change) => make("li", {}, change))),
    ]));
  };
  return { element: /** @type {HTMLDetailsElement} */ (fold.element), ready };
}

/** @returns {Promise<Version[]>} none where they can't be had */
async function fetched() {
  const answer = await fetch("news.json").catch(() => null);
  const told = answer?.ok ? await answer.json() : {};
  return told[spoken()] ?? told["en"] ?? [];
}
