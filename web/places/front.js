import { CardLayer } from "../stage/layers/card-layer.js";
import { MarksLayer } from "../stage/layers/marks-layer.js";
import { RimLayer } from "../stage/layers/rim-layer.js";
import { PapersLayer } from "../stage/layers/papers-layer.js";
import { StripsLayer } from "../stage/layers/strips-layer.js";
import { TONES } from "../stage/colours.js";
import { outlineOf } from "../stage/outline.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */
/** @typedef {import("../stage/stage.js").Layer} Layer */
/** @typedef {import("../stage/stage.js").Scene} Scene */

/**
 * The piece on the table, papers behind card, with more layers above it.
 *
 * @param {Workroom} room
 * @param {Layer[]} above
 * @param {boolean} mirrored  seen from the back
 * @returns {Scene | null}
 */
export function pieceScene(room, above, mirrored) {
  const { shapes, paint, session } = room;
  if (!shapes) return null;
  const { look } = room.project;
  return {
    box: shapes.box,
    mirrored,
    weight: shapes.openings.length,
    layers: [
      new RimLayer(shapes),
      new PapersLayer(
        shapes,
        paint,
        (number) => room.paperOf(number),
        (number) => room.placeOf(number),
        look.behind_colour,
      ),
      new CardLayer(shapes, look.card_colour),
      ...above,
      new MarksLayer(shapes, () => marks(room, session.hand)),
    ],
  };
}

/**
 * The seams of a card that is cut in parts.
 *
 * @param {Workroom} room
 * @returns {Layer}
 */
export function seamsLayer(room) {
  return new StripsLayer(() => {
    const { design } = room.bench;
    const seams = design?.division?.seams;
    return design && seams ? [{ area: outlineOf(design, seams), fill: TONES.mark, edge: TONES.mark }] : [];
  });
}

/**
 * @param {Workroom} room
 * @param {Readonly<import("../parts/session.js").Hand>} hand
 */
function marks(room, { hovered, active, gives, place, picked }) {
  const marked = [];
  if (hovered !== null) {
    const spreads = place === "papers" && picked !== undefined;
    const numbers = room.reachedFrom(hovered, spreads ? gives : "one");
    marked.push({ numbers: new Set(numbers), colour: TONES.paper, under: TONES.accent, width: 1.5 });
  }
  if (active !== null) {
    marked.push({ numbers: new Set([active]), colour: TONES.accent, under: TONES.paper, width: 3 });
  }
  return marked;
}
