import { Dialog } from "../parts/dialog.js";
import { icon, make } from "../parts/dom.js";
import { field } from "../parts/field.js";
import { showTrouble } from "../parts/trouble.js";
import { chosen } from "../project/edits.js";
import { bare, say, locale } from "../words/words.js";

/** @typedef {import("../project/archive.js").Entry} Entry */
/** @typedef {import("../project/archive.js").Version} Version */
/**
 * @typedef {{
 *   open: () => Promise<unknown>, rename: (name: string) => Promise<void>, duplicate: (name: string) => Promise<void>,
 *   forget: () => Promise<void>, versions: () => Promise<Version[]>, backTo: (version: Version) => Promise<void>,
 * }} KeptWays
 */

/**
 * Shows one kept project: its name, its versions, and what can be done with it.
 *
 * @param {Entry} entry
 * @param {KeptWays} ways
 * @param {() => void} changed  the list of projects is another
 * @param {() => void} opened  a project was opened
 */
export function keptDialog({ name }, ways, changed, opened) {
  const dialog = new Dialog(say("kept.title"));
  const input = make("input", { type: "text", value: name, maxlength: "120", autocomplete: "off" });
  const versions = make("ul", { class: "versions" });
  const act = async (/** @type {() => Promise<unknown>} */ work, /** @type {() => void} */ then) => {
    try {
      await work();
      dialog.close();
      then();
    } catch (error) {
      showTrouble(dialog.trouble, error);
    }
  };
  // The list behind holds what the keyboard comes back to: it stays as it is until then.
  const changedBehind = () =>
    dialog.element.open ? dialog.element.addEventListener("close", changed, { once: true }) : changed();
  const rename = () => {
    const wanted = input.value.trim();
    if (wanted && wanted !== name) ways.rename(wanted).then(changedBehind, (error) => {
      showTrouble(dialog.trouble, error);
    });
  };
  input.addEventListener("change", rename);
  const forget = make("div", { class: "forget" });
  const ask = () => {
    forget.replaceChildren(
      make("p", {}, say("menu.forget-ask", { name })),
      make(
        "div",
        { class: "choice-row" },
        button("close", "act.cancel", "button", () => forget.replaceChildren(askButton)),
        button("trash", "menu.forget-do", "button-main", () => void act(ways.forget, changed)),
      ),
    );
  };
  const askButton = button("trash", "menu.forget", "button", ask);
  forget.append(askButton);
  dialog.room.append(
    field("kept.name", input),
    make(
      "div",
      { class: "choice-row" },
      button("open", "kept.open", "button-main", () => void act(ways.open, opened)),
      button("copy", "kept.duplicate", "button", () =>
        void act(() => ways.duplicate(bare(say("kept.copy-name", { name: input.value.trim() || name }))), changed),
      ),
    ),
    make("h3", {}, say("kept.versions")),
    versions,
    forget,
  );
  dialog.open();
  ways.versions().then(
    (found) => {
      if (found.length === 0) versions.append(make("li", { class: "soft" }, say("kept.no-versions")));
      versions.append(...found.map((version) => versionRow(version, () => void act(() => ways.backTo(version), opened))));
    },
    (error) => {
      showTrouble(dialog.trouble, error);
    },
  );
}

/**
 * @param {Version} version
 * @param {() => void} goBack
 */
function versionRow({ saved, document }, goBack) {
  const when = new Intl.DateTimeFormat(locale(), { dateStyle: "medium", timeStyle: "short" }).format(saved);
  const count = Object.keys(chosen(document).papers).length;
  return make(
    "li",
    { class: "version" },
    make("span", {}, when, make("small", { class: "soft" }, say("kept.version", { name: document.name, count }))),
    button("undo", "kept.go-back", "button", goBack, "kind-version"),
  );
}

/**
 * @param {string} picture
 * @param {import("../words/words.js").Key} key
 * @param {string} kind
 * @param {() => void} act
 * @param {string} [help]  the key of what help tells of it
 */
function button(picture, key, kind, act, help = key) {
  return make("button", { help, type: "button", class: kind, onclick: act }, icon(picture), say(key));
}
