import { CardLayer } from "../../stage/layers/card-layer.js";
import { PapersLayer } from "../../stage/layers/papers-layer.js";
import { paintRegion } from "../../stage/picture.js";
import { View } from "../../stage/view.js";
import { pageScene } from "../papers/page-scene.js";
import { TONES } from "../../stage/colours.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../stage/stage.js").Scene} Scene */

/** Drawn one after another, so that no hand waits for the whole. */
const STRIPS = 16;
/** How much light ground is seen around the work, as a share of its longer side. */
const AIR = 0.05;
const QUALITY = 0.92;
const NO_AIDS = { grid: false, thirds: false, picked: null, unit: "in" };

/**
 * The finished work as a picture file, without measures.
 *
 * @param {Workroom} room
 * @param {{onPage: boolean, px: number, type: string}} how  on its page or plain; the longer side; MIME type
 * @returns {Promise<Blob>} rejects where this browser draws no such picture
 */
export async function finishedPicture(room, { onPage, px, type }) {
  const scene = onPage ? pageScene(room, () => NO_AIDS) : plainScene(room);
  if (!scene) throw new Error("there is nothing to draw yet");
  const [left, top, right, bottom] = scene.box;
  const scale = px / Math.max(right - left, bottom - top);
  const canvas = document.createElement("canvas");
  canvas.width = Math.round((right - left) * scale);
  canvas.height = Math.round((bottom - top) * scale);
  const context = canvas.getContext("2d");
  if (!context) throw new Error("this browser draws no picture so large");
  const view = new View(scale, -left * scale, -top * scale);
  for (let strip = 0; strip < STRIPS; strip += 1) {
    const [from, to] = [strip, strip + 1].map((each) => top + (each * (bottom - top)) / STRIPS);
    paintRegion(context, view, 1, scene, [left, from ?? top, right, to ?? bottom]);
    await new Promise((next) => setTimeout(next));
  }
  context.setTransform(1, 0, 0, 1, 0, 0);
  context.globalCompositeOperation = "destination-over";
  context.fillStyle = TONES.paper;
  context.fillRect(0, 0, canvas.width, canvas.height);
  return new Promise((resolve, reject) => {
    canvas.toBlob(
      (blob) => (blob?.type === type ? resolve(blob) : reject(new Error("this browser makes no such picture"))),
      type,
      QUALITY,
    );
  });
}

/** @param {Workroom} room  @returns {Scene | null} */
function plainScene(room) {
  const { shapes, paint, project } = room;
  if (!shapes) return null;
  const [, , width, height] = shapes.box;
  const air = AIR * Math.max(width, height);
  return {
    box: [-air, -air, width + air, height + air],
    mirrored: false,
    weight: shapes.openings.length,
    layers: [
      new PapersLayer(shapes, paint, (number) => room.paperOf(number), (number) => room.placeOf(number), project.look.behind_colour),
      new CardLayer(shapes, project.look.card_colour),
    ],
  };
}
