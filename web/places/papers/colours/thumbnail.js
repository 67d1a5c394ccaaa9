import { make } from "../../../parts/dom.js";
import { CardLayer } from "../../../stage/layers/card-layer.js";
import { PapersLayer } from "../../../stage/layers/papers-layer.js";
import { View } from "../../../stage/view.js";

/** @typedef {import("../../workroom.js").Workroom} Workroom */
/** @typedef {import("../../../desk/types.js").Colourway} Colourway */

/** @param {number} width  CSS px  @param {number} height */
export function emptyThumbnail(width, height) {
  const ratio = Math.min(devicePixelRatio || 1, 2);
  return make("canvas", {
    class: "thumbnail",
    width: Math.round(width * ratio),
    height: Math.round(height * ratio),
    "aria-hidden": "true",
  });
}

/**
 * Draws the piece in a colourway's papers.
 *
 * @param {Workroom} room
 * @param {Colourway} colourway
 * @param {HTMLCanvasElement} canvas
 * @param {ReadonlyMap<string, import("../../../desk/types.js").Paper>} [papers]  by id
 */
export function drawColourway(room, colourway, canvas, papers = room.papers) {
  const { shapes, paint } = room;
  const context = canvas.getContext("2d");
  if (!shapes || !context) return;
  const { look } = room.project;
  const view = View.fitting(
    shapes.box,
    { left: 2, top: 2, width: canvas.width - 4, height: canvas.height - 4 },
    false,
  );
  context.setTransform(1, 0, 0, 1, 0, 0);
  context.clearRect(0, 0, canvas.width, canvas.height);
  const layers = [
    new PapersLayer(
      shapes,
      paint,
      (number) => papers.get(colourway.papers[number] ?? "") ?? null,
      () => null,
      look.behind_colour,
    ),
    new CardLayer(shapes, look.card_colour),
  ];
  for (const layer of layers) {
    view.applyTo(context, 1);
    layer.draw({ context, view, ratio: 1, region: null });
  }
}
