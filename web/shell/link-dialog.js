import { recall, remember } from "../basics/memory.js";
import { icon, make } from "../parts/dom.js";
import { field } from "../parts/field.js";
import { ProjectDialog } from "../places/project-dialog.js";
import { shownIn } from "../project/pictures-of.js";
import { Cancelled } from "../words/refusal.js";
import { say, locale } from "../words/words.js";
import { showTrouble, troubleOf } from "../parts/trouble.js";

/** @typedef {import("../places/workroom.js").Workroom} Workroom */

/** What stands in a link before the name of who sends it, where it is kept here, and how much of it is shown. */
export const FROM = "&from=";
export const MOST_NAME = 60;
const NAME = "peekpaper-name";
const SVG = "http://www.w3.org/2000/svg";

/**
 * Makes the open project's link and offers ways to send it; where it is too large for one, the project file.
 *
 * @param {Workroom} room
 * @param {() => void} save  saves the project as a file
 */
export async function linkDialog(room, save) {
  const dialog = new ProjectDialog(room, say("menu.link"));
  const about = make("p", { role: "status" }, say("link.making"));
  dialog.room.append(about);
  dialog.open();
  try {
    const { project } = room;
    const keys = shownIn(project);
    const { small, whole, bare } = await room.questions.ask("project", async (asked) => {
      const small = await room.pictures.smallOnes(keys);
      const whole = addressOf(await room.desk.wholeLink(asked, small));
      return { small, whole, bare: addressOf(await room.desk.link(asked)) };
    });
    const left = keys.size - small.size;
    about.textContent = say("link.about");
    about.after(
      ...(small.size > 0 ? [make("p", {}, say("link.pictures-small", { count: small.size }))] : []),
      ...(left > 0 ? [make("p", {}, say("link.pictures-stay", { count: left }))] : []),
    );
    const named = (/** @type {string} */ name) => (/** @type {string} */ address) => (name ? address + FROM + encodeURIComponent(name) : address);
    const retell = offer(dialog, whole, project.name);
    const code = make("div", { class: "link-code" });
    const name = make("input", {
      type: "text",
      maxlength: MOST_NAME,
      value: recall(NAME) ?? "",
      autocomplete: "given-name",
      onchange: () => void tell(),
    });
    const tell = async () => {
      const sender = name.value.trim();
      remember(NAME, sender);
      retell(named(sender)(whole));
      await showCode(code, room, named(sender)(whole), named(sender)(bare), small.size > 0);
    };
    about.after(field("link.from", name));
    dialog.room.append(code);
    await tell();
  } catch (error) {
    if (error instanceof Cancelled) return;
    about.remove();
    showTrouble(dialog.trouble, error);
    const keep = () => {
      dialog.close();
      save();
    };
    dialog.foot.replaceChildren(
      make("button", { help: "menu.save", type: "button", class: "button-main", onclick: keep }, icon("save"), say("menu.save")),
    );
  }
}

/** @param {string} fragment */
function addressOf(fragment) {
  const address = new URL(location.href);
  address.hash = `p=${fragment}`;
  return address.href;
}

/**
 * @param {ProjectDialog} dialog
 * @param {string} first
 * @param {string} title
 * @returns {(address: string) => void} offers another address in its place
 */
function offer(dialog, first, title) {
  let address = first;
  const input = make("input", {
    help: "link.itself",
    type: "text",
    class: "link-text",
    readonly: true,
    value: address,
    "aria-label": say("link.itself"),
    onfocus: () => input.select(),
  });
  const said = make("p", { class: "soft small", role: "status" }, say("link.length", { count: count(address.length) }));
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(address);
      said.textContent = say("menu.link-copied");
    } catch {
      input.focus();
      said.textContent = say("link.copy-by-hand");
    }
  };
  dialog.room.append(
    input,
    make(
      "div",
      { class: "choice-row" },
      make("button", { help: "link.copy", type: "button", class: "button-main", onclick: () => void copy() }, icon("copy"), say("link.copy")),
      "share" in navigator
        ? make(
            "button",
            {
              help: "link.share",
              type: "button",
              class: "button",
              // Rejected where the person closes the share sheet: nothing to tell.
              onclick: () => navigator.share({ title, url: address }).catch(() => {}),
            },
            icon("share"),
            say("link.share"),
          )
        : null,
    ),
    said,
  );
  return (other) => {
    address = other;
    input.value = other;
    said.textContent = say("link.length", { count: count(other.length) });
  };
}

/**
 * @param {HTMLElement} place
 * @param {Workroom} room
 * @param {string} address
 * @param {string} shorter  the same without pictures and mats, for a code that could not hold it otherwise
 * @param {boolean} hasPictures
 */
async function showCode(place, room, address, shorter, hasPictures) {
  place.replaceChildren(make("p", { class: "soft small" }, say("link.code-making")));
  try {
    const whole = shorter === address ? null : await room.desk.qr(address).catch(() => null);
    const { path, size } = whole ?? (await room.desk.qr(shorter));
    const picture = document.createElementNS(SVG, "svg");
    picture.setAttribute("viewBox", `0 0 ${size} ${size}`);
    picture.setAttribute("role", "img");
    picture.setAttribute("aria-label", say("link.code"));
    const modules = document.createElementNS(SVG, "path");
    modules.setAttribute("d", path);
    picture.append(modules);
    const about = say(whole || !hasPictures ? "link.code-about" : "link.code-without-pictures");
    place.replaceChildren(picture, make("p", { class: "soft small" }, about));
  } catch (error) {
    place.replaceChildren(make("p", { class: "soft small" }, ...troubleOf(error)));
  }
}

/** @param {number} value */
function count(value) {
  return new Intl.NumberFormat(locale()).format(value);
}
