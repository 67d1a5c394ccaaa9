import { Dialog } from "../../parts/dialog.js";
import { make } from "../../parts/dom.js";
import { Toggle } from "../../parts/toggle.js";
import { sentenceOf } from "../../words/sentence.js";
import { say } from "../../words/words.js";

/** @typedef {{name: string, form: string, files: number[], page?: number}} Found */
/** @typedef {{project: import("../../desk/types.js").Project, design: import("../../desk/types.js").Design}} Seen */

const PICTURE_PX = 132;

/**
 * Shows designs that came together, each with its picture and size as soon as it is read, to open one of them now
 * and keep the others in this browser.
 *
 * @param {readonly Found[]} designs
 * @param {{title: string, keepsOthers: boolean, read: (found: Found, signal: AbortSignal) => Promise<Seen>, size: (design: Seen["design"]) => string,
 *   look: import("../../desk/types.js").Project["look"], open: (seen: Seen) => void, keep: (seen: Seen, picture: Blob | null) => Promise<void>,
 *   kept: (count: number) => void, fail: (error: unknown) => void}} ways
 */
export function trayDialog(designs, ways) {
  const dialog = new Dialog(ways.title, { kind: "tray" });
  const reading = new AbortController();
  let { keepsOthers } = ways;
  const keeps = new Toggle("tray.keep", (on) => (keepsOthers = on));
  keeps.show(keepsOthers);
  /** @type {Map<Found, Promise<Seen | null>>} */
  const seen = new Map();
  const cards = designs.map((found) => {
    const picture = make("canvas", { width: PICTURE_PX, height: PICTURE_PX });
    const about = make("span", { class: "soft small" }, say("tray.reading"));
    const button = make(
      "button",
      { help: "tray.open", type: "button", class: "tray-design", disabled: true, onclick: () => void choose(found) },
      picture,
      make("span", {}, found.name),
      about,
    );
    return { found, picture, about, button };
  });
  const choose = async (/** @type {Found} */ chosen) => {
    const one = await seen.get(chosen);
    if (!one) return;
    // The others are read on behind it.
    dialog.element.removeEventListener("close", stop);
    dialog.close();
    ways.open(one);
    if (!keepsOthers) {
      stop();
      return;
    }
    await all;
    let count = 0;
    try {
      for (const { found, picture } of cards) {
        const other = await seen.get(found);
        if (!other || found === chosen) continue;
        await ways.keep(other, await new Promise((take) => picture.toBlob(take, "image/webp")));
        count += 1;
      }
      if (count > 0) ways.kept(count);
    } catch (error) {
      ways.fail(error);
    }
  };
  const stop = () => reading.abort();
  const readAll = async () => {
    for (const { found, picture, about, button } of cards) {
      if (reading.signal.aborted) return;
      const one = ways.read(found, reading.signal).catch((error) => {
        about.textContent = String(sentenceOf(error));
        return null;
      });
      seen.set(found, one);
      const read = await one;
      if (!read) continue;
      draw(picture, read.design, ways.look);
      about.textContent = `${found.form}, ${ways.size(read.design)}`;
      button.disabled = false;
    }
  };
  dialog.element.addEventListener("close", stop);
  dialog.room.append(make("p", {}, say("tray.about")), make("div", { class: "tray-designs" }, ...cards.map(({ button }) => button)));
  dialog.foot.append(keeps.element);
  dialog.open();
  const all = readAll();
}

/**
 * @param {HTMLCanvasElement} canvas
 * @param {Seen["design"]} design
 * @param {import("../../desk/types.js").Project["look"]} look
 */
function draw(canvas, design, look) {
  const context = canvas.getContext("2d");
  if (!context) return;
  const ratio = Math.min(2, devicePixelRatio);
  canvas.width = canvas.height = PICTURE_PX * ratio;
  const { width_mm: width, height_mm: height } = design;
  const scale = canvas.width / Math.max(width, height);
  context.fillStyle = look.behind_colour;
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.setTransform(scale, 0, 0, scale, (canvas.width - width * scale) / 2, (canvas.height - height * scale) / 2);
  context.fillStyle = look.card_colour;
  context.fill(new Path2D(design.card), "evenodd");
}
