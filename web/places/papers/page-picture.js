import { MeasuresLayer } from "../../stage/layers/measures-layer.js";
import { View } from "../../stage/view.js";
import { pageScene } from "./page-scene.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */

const LONG_SIDE_PX = 2400;
const NO_AIDS = { grid: false, thirds: false, empty: true, picked: null, unit: "in", lines: [] };

/**
 * The page as a PNG picture with its measures.
 *
 * @param {Workroom} room
 * @param {readonly import("../../desk/types.js").Measure[]} measures
 * @returns {Promise<Blob>}
 */
export async function pagePicture(room, measures) {
  const scene = pageScene(room, () => NO_AIDS);
  const { width_mm: width, height_mm: height } = room.project.page;
  const scale = LONG_SIDE_PX / Math.max(width, height);
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(width * scale);
  canvas.height = Math.round(height * scale);
  const context = canvas.getContext("2d");
  if (!scene || !context) throw new Error("there is nothing to draw yet");
  const view = new View(scale, 0, 0);
  for (const layer of [...scene.layers, new MeasuresLayer(measures)]) {
    view.applyTo(context, 1);
    layer.draw({ context, view, ratio: 1, region: null });
  }
  return new Promise((resolve, reject) => {
    canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new Error("the picture is too large"))), "image/png");
  });
}
