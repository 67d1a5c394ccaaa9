import { CardLayer } from "../../stage/layers/card-layer.js";
import { outerSize, PageLayer } from "../../stage/layers/page-layer.js";
import { PapersLayer } from "../../stage/layers/papers-layer.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../stage/stage.js").Scene} Scene */
/** @typedef {import("../../stage/layers/page-layer.js").PageAids} PageAids */

const SEE_THROUGH = "transparent";
const AIR_MM = 6;

/**
 * The finished piece on its page; openings left open let the page show.
 *
 * @param {Workroom} room
 * @param {() => PageAids} aids
 * @returns {Scene | null}
 */
export function pageScene(room, aids) {
  const { shapes, paint, pictures } = room;
  if (!shapes) return null;
  const { page, look } = room.project;
  const piece = {
    width: shapes.design.width_mm,
    height: shapes.design.height_mm,
    layers: [
      new PapersLayer(
        shapes,
        paint,
        (number) => room.paperOf(number),
        (number) => room.placeOf(number),
        SEE_THROUGH,
      ),
      new CardLayer(shapes, look.card_colour),
    ],
  };
  void room.faces.bring(page.blocks.map(({ face }) => face))?.then(() => room.repaint(null));
  const background = room.papers.get(page.background ?? "") ?? null;
  return {
    box: [-AIR_MM, -AIR_MM, page.width_mm + AIR_MM, page.height_mm + AIR_MM],
    mirrored: false,
    weight: shapes.openings.length,
    layers: [new PageLayer(page, piece, background, paint, (key) => pictures.at(key), aids, (paper) => room.papers.get(paper)?.colour ?? null)],
  };
}

/**
 * The foremost block of the page at a spot, null for none.
 *
 * @param {Workroom} room
 * @param {number} x  mm
 * @param {number} y
 * @returns {number | null}
 */
export function blockAt(room, x, y) {
  const { page } = room.project;
  const { design } = room.bench;
  const piece = { width: design?.width_mm ?? 0, height: design?.height_mm ?? 0 };
  for (let at = page.blocks.length - 1; at >= 0; at -= 1) {
    const block = page.blocks[at];
    if (!block) continue;
    const turn = (block.turn_deg * Math.PI) / 180;
    const [dx, dy] = [x - block.x_mm, y - block.y_mm];
    const across = dx * Math.cos(turn) + dy * Math.sin(turn);
    const down = dy * Math.cos(turn) - dx * Math.sin(turn);
    const [width, height] = outerSize(block, piece);
    if (Math.abs(across) <= width / 2 && Math.abs(down) <= height / 2) return at;
  }
  return null;
}
