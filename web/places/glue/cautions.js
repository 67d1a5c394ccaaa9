import { make } from "../../parts/dom.js";
import { say } from "../../words/words.js";

/**
 * What to mind, small at the foot of a part.
 *
 * @param {import("../../words/words.js").Key[]} keys
 */
export function cautions(...keys) {
  return make("div", { class: "cautions" }, ...keys.map((key) => make("p", { class: "soft small" }, say(key))));
}
