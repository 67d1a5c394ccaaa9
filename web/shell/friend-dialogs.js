import { make, icon } from "../parts/dom.js";
import { finishedPicture } from "../places/finished/finished-picture.js";
import { drawColourway, emptyThumbnail } from "../places/papers/colours/thumbnail.js";
import { ProjectDialog } from "../places/project-dialog.js";
import { chosen } from "../project/edits.js";
import { say } from "../words/words.js";

/** @typedef {import("../places/workroom.js").Workroom} Workroom */
/** @typedef {import("../desk/types.js").Project} Project */
/** @typedef {import("../words/words.js").Key} Key */

/** How large the two are that are looked at side by side, in CSS px. */
const BESIDE = /** @type {const} */ ([300, 300]);

/**
 * Shows what a friend has made, before anything else.
 *
 * @param {Workroom} room  with it open
 * @param {string} by  the friend's name, empty where it was not told
 * @param {() => void} recolour
 */
export async function showFriendsWork(room, by, recolour) {
  await drawn(room);
  const { name } = room.project;
  const dialog = new ProjectDialog(room, name, { kind: "dialog-finished" });
  const picture = make("img", { class: "finished-picture", alt: say("finished.alt", { name }) });
  dialog.room.append(picture);
  const leave = (/** @type {() => void} */ go) => () => {
    dialog.close();
    go();
  };
  dialog.foot.append(
    make("p", { class: "friend-about" }, by ? say("friend.by", { name: by }) : say("friend.someone")),
    button("papers", "friend.recolour", leave(recolour), "button-main"),
    button("design", "friend.look", leave(() => {}), "button"),
  );
  dialog.open();
  const px = Math.max(innerWidth, innerHeight) * (devicePixelRatio || 1);
  const blob = await finishedPicture(room, { sight: "plain", form: "as-is", px, type: "image/png" });
  const url = URL.createObjectURL(blob);
  picture.src = url;
  dialog.element.addEventListener("close", () => URL.revokeObjectURL(url));
}

/**
 * Offers what a friend made of a design that is here already: as a colourway beside one's own, or by itself.
 *
 * @param {Workroom} room  with one's own open
 * @param {Project} theirs
 * @param {string} by  the friend's name, empty where it was not told
 * @param {() => void} apart  opens it as a project of its own
 */
export async function offerColourway(room, theirs, by, apart) {
  await drawn(room);
  const dialog = new ProjectDialog(room, say("friend.back"), { kind: "dialog-wide" });
  const papers = new Map(theirs.shelf.papers.map((paper) => [paper.id, paper]));
  const colourway = chosen(theirs);
  const name = by ? say("friend.colourway", { name: by }) : colourway.name;
  const beside = [
    { of: chosen(room.project), named: room.papers, title: chosen(room.project).name },
    { of: colourway, named: papers, title: name },
  ].map(({ of, named, title }) => {
    const canvas = emptyThumbnail(...BESIDE);
    drawColourway(room, of, canvas, named);
    return make("li", {}, make("div", { class: "tile" }, canvas, make("strong", {}, title)));
  });
  dialog.room.append(make("p", {}, say("friend.back-about", { name: room.project.name })), make("ul", { class: "compared" }, ...beside));
  const adopt = async () => {
    const to = { colourway: { ...colourway, name }, papers: theirs.shelf.papers };
    if (await room.change([{ edit: "adopt_colourway", to }])) dialog.close();
  };
  dialog.foot.append(
    button("plus", "friend.adopt", () => void adopt(), "button-main"),
    button("copy", "friend.apart", apart, "button"),
  );
  dialog.open();
}

/** Resolves once the open project's design is there to be drawn. @param {Workroom} room */
async function drawn({ bench, shapes }) {
  if (shapes && !bench.hasOldDesign) return;
  await new Promise((done) => bench.addEventListener("design", done, { once: true }));
}

/**
 * @param {string} picture
 * @param {Key} key
 * @param {() => void} act
 * @param {string} kind
 */
function button(picture, key, act, kind) {
  return make("button", { help: key, type: "button", class: kind, onclick: act }, icon(picture), say(key));
}
