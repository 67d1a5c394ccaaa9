import { Choice } from "../../parts/choice.js";
import { Dialog } from "../../parts/dialog.js";
import { icon, make } from "../../parts/dom.js";
import { showTrouble } from "../../parts/trouble.js";
import { share, shares } from "../../parts/files/share.js";
import { isolated, say } from "../../words/words.js";
import { startPage } from "../papers/page-start.js";
import { finishedPicture } from "./finished-picture.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("./finished-picture.js").Sight} Sight */
/** @typedef {import("./finished-picture.js").Form} Form */

const SIZES = [2048, 4096];
/** A picture to look at is as fine as the screen, at most. */
const MOST_SEEN_PX = 2048;
const SEEN_TYPE = "image/webp";
const FORMS = /** @type {const} */ (["as-is", "square", "upright"]);
const TYPES = { png: "image/png", jpeg: "image/jpeg", webp: "image/webp" };

/**
 * The finished work filling the screen, to look at, to keep as a picture and to show around.
 *
 * @param {Workroom} room
 * @param {{recolour: () => void, next: () => void}} ways  on from here
 */
export function finishedDialog(room, { recolour, next }) {
  const dialog = new Dialog(room.project.name, { kind: "dialog-finished" });
  const how = {
    sight: /** @type {Sight} */ ("plain"),
    form: /** @type {Form} */ ("as-is"),
    type: /** @type {keyof typeof TYPES} */ ("png"),
    px: SIZES[0] ?? MOST_SEEN_PX,
  };
  const picture = make("img", { class: "finished-picture", alt: say("finished.alt", { name: room.project.name }) });
  let url = "";
  const made = async (/** @type {number} */ px, /** @type {string} */ type) => {
    if (how.sight === "page") await startPage(room);
    return finishedPicture(room, { sight: how.sight, form: how.form, px, type });
  };
  const fault = (/** @type {unknown} */ error) => {
    showTrouble(dialog.trouble, error);
  };
  const seen = Math.min(MOST_SEEN_PX, Math.max(innerWidth, innerHeight) * (devicePixelRatio || 1));
  let looks = 0;
  const look = async () => {
    looks += 1;
    const asked = looks;
    picture.setAttribute("aria-busy", "true");
    try {
      const blob = await made(seen, SEEN_TYPE).catch(() => made(seen, TYPES.png));
      if (asked !== looks || !dialog.element.isConnected) return;
      URL.revokeObjectURL(url);
      url = URL.createObjectURL(blob);
      picture.src = url;
      picture.removeAttribute("aria-busy");
    } catch (error) {
      if (asked === looks) fault(error);
    }
  };
  const file = async () => {
    showTrouble(dialog.trouble, null);
    const blob = await made(how.px, TYPES[how.type]);
    return new File([blob], `${room.project.name}.${how.type === "jpeg" ? "jpg" : how.type}`, { type: blob.type });
  };
  const save = async () => {
    const kept = await file();
    const href = URL.createObjectURL(kept);
    const anchor = make("a", { href, download: kept.name });
    anchor.click();
    setTimeout(() => URL.revokeObjectURL(href), 60_000);
  };
  const view = new Choice(null, (/** @type {Sight} */ sight) => {
    how.sight = sight;
    void look();
  });
  const sights = /** @type {const} */ (["plain", "page", "table", "colourways"]);
  view.show(
    sights
      .filter((value) => value !== "colourways" || room.project.colourways.length > 1)
      .map((value) => ({ value, text: say(`finished.${value}`), help: `finished.${value}` })),
    how.sight,
  );
  const forms = make("select", {
    help: "finished.form",
    "aria-label": say("finished.form"),
    onchange: () => {
      how.form = /** @type {Form} */ (forms.value);
      void look();
    },
  });
  forms.append(...FORMS.map((form) => make("option", { value: form }, say(`finished.form-${form}`))));
  const types = make("select", { help: "finished.type", "aria-label": say("finished.type"), onchange: () => (how.type = /** @type {keyof typeof TYPES} */ (types.value)) });
  types.append(...Object.keys(TYPES).map((name) => make("option", { value: name }, name.toUpperCase())));
  const sizes = make("select", { help: "finished.size", "aria-label": say("finished.size"), onchange: () => (how.px = Number(sizes.value)) });
  sizes.append(...SIZES.map((px) => make("option", { value: px }, isolated(`${px} px`))));
  const button = (/** @type {string} */ name, /** @type {import("../../words/words.js").Key} */ key, /** @type {() => void} */ act, kind = "button") =>
    make("button", { help: key, type: "button", class: kind, onclick: act }, icon(name), say(key));
  const leave = (/** @type {() => void} */ go) => () => {
    dialog.close();
    go();
  };
  const mayShare = shares(new File([new Uint8Array(1)], "a.png", { type: TYPES.png }));
  dialog.room.append(picture);
  dialog.foot.append(
    view.element,
    make("div", { class: "finished-row" }, forms, types, sizes),
    button("save", "finished.save", () => void save().catch(fault), "button-main"),
    ...(mayShare ? [button("share", "finished.share", () => void file().then(share).catch(fault))] : []),
    make("div", { class: "finished-row" }, button("papers", "finished.recolour", leave(recolour)), button("open", "finished.next", leave(next))),
  );
  dialog.element.addEventListener("close", () => URL.revokeObjectURL(url));
  dialog.open();
  void look();
}
