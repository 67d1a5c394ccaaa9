import { Dialog } from "../parts/dialog.js";
import { icon, make } from "../parts/dom.js";
import { say } from "../words/words.js";

/** The job from file to finished piece, each step with the picture that its place has on the page. */
const STEPS = /** @type {const} */ ([
  ["open", "guide.bring"],
  ["design", "guide.check"],
  ["papers", "guide.papers"],
  ["mats", "guide.mats"],
  ["save", "guide.take"],
  ["glue-up", "guide.glue"],
]);

const HANDS = /** @type {const} */ ([
  "guide.hand-tap",
  "guide.hand-view",
  "guide.hand-back",
  "guide.hand-details",
  "guide.hand-keys",
]);

const CAUTIONS = /** @type {const} */ ([
  "glue.caution-blade",
  "glue.caution-glue",
  "glue.caution-small",
  "glue.caution-makers",
]);

/** Shows how the job goes, on a page that can be printed for the craft table. */
export function showGuide() {
  const dialog = new Dialog(say("guide.title"), { kind: "guide" });
  dialog.room.append(
    make(
      "ol",
      { class: "guide-steps" },
      ...STEPS.map(([picture, key]) =>
        make("li", {}, icon(picture), make("div", {}, make("h3", {}, say(key)), make("p", {}, say(`${key}-how`)))),
      ),
    ),
    make("h3", {}, say("guide.hands")),
    make("ul", { class: "guide-lines" }, ...HANDS.map((key) => make("li", {}, say(key)))),
    make("h3", {}, say("guide.cautions")),
    make("ul", { class: "guide-lines" }, ...CAUTIONS.map((key) => make("li", {}, say(key)))),
  );
  dialog.foot.append(
    make("button", { help: "guide.print", type: "button", class: "button-main", onclick: () => print() }, say("guide.print")),
  );
  dialog.open();
}
