import { chosen } from "../../project/edits.js";
import { CardLayer } from "../../stage/layers/card-layer.js";
import { PapersLayer } from "../../stage/layers/papers-layer.js";
import { paintRegion } from "../../stage/picture.js";
import { View } from "../../stage/view.js";
import { pageScene } from "../papers/page-scene.js";
import { TONES } from "../../stage/colours.js";
import { layTableTop } from "./table-top.js";

/** @typedef {import("../workroom.js").Workroom} Workroom */
/** @typedef {import("../../stage/stage.js").Scene} Scene */
/** @typedef {import("../../desk/types.js").Colourway} Colourway */
/** @typedef {"plain" | "page" | "table" | "colourways"} Sight */
/** @typedef {"as-is" | "square" | "upright"} Form */
/** @typedef {{scene: Scene, name: string, x: number, y: number}} Cell  from the whole's top left corner, mm */

/** Drawn one after another, so that no hand waits for the whole. */
const STRIPS = 16;
/** How much ground is seen around the work, as a share of its longer side. */
const AIR = 0.05;
const TABLE_AIR = 0.16;
/** Room for a colourway's name below it, as a share of the work's longer side. */
const NAME = 0.09;
/** Width to height; an upright picture fills a telephone held upright (4 to 5). */
const RATIOS = { square: 1, upright: 0.8 };
/** Colourways fill a screen that lies on its side, where no other shape is wanted. */
const SIDE_BY_SIDE = 1.5;
const QUALITY = 0.92;
const NO_AIDS = { grid: false, thirds: false, empty: false, picked: null, unit: "in", lines: [] };
const SEE_THROUGH = "transparent";
const SHADOW = "rgb(30 20 8 / 55%)";

/**
 * The finished work as a picture file, without measures.
 *
 * @param {Workroom} room
 * @param {{sight: Sight, form: Form, px: number, type: string}} how  plain, on its page or a table top, or all
 *   colourways side by side; the picture's shape; the longer side; MIME type
 * @returns {Promise<Blob>} rejects where this browser draws no such picture
 */
export async function finishedPicture(room, { sight, form, px, type }) {
  if (sight === "page") await room.faces.bring(room.project.page.blocks.map(({ face }) => face));
  const { cells, width, height } = laid(room, sight, form === "as-is" ? SIDE_BY_SIDE : RATIOS[form]);
  const ratio = form === "as-is" ? width / height : RATIOS[form];
  const [across, down] = [Math.max(width, height * ratio), Math.max(height, width / ratio)];
  const scale = px / Math.max(across, down);
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(across * scale);
  canvas.height = Math.round(down * scale);
  const context = canvas.getContext("2d");
  if (!context) throw new Error("this browser draws no picture so large");
  const [left, top] = [(across - width) / 2, (down - height) / 2];
  for (const cell of cells) await paint(context, cell, scale, left + cell.x, top + cell.y);
  context.setTransform(1, 0, 0, 1, 0, 0);
  if (sight === "table") {
    castShadow(context, room, scale, left, top, width);
    layTableTop(context);
  }
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

/**
 * What the picture shows, and how large it is in mm.
 *
 * @param {Workroom} room
 * @param {Sight} sight
 * @param {number} ratio  width to height of what several colourways fill
 * @returns {{cells: Cell[], width: number, height: number}}
 */
function laid(room, sight, ratio) {
  const { project } = room;
  const colourways = sight === "colourways" ? project.colourways : [chosen(project)];
  const scenes = colourways.map((colourway) =>
    sight === "page" ? pageScene(room, () => NO_AIDS) : workScene(room, colourway, sight === "table"),
  );
  const first = scenes[0];
  if (!first) throw new Error("there is nothing to draw yet");
  const [left, top, right, bottom] = first.box;
  const named = sight === "colourways" ? NAME * Math.max(right - left, bottom - top) : 0;
  const [width, height] = [right - left, bottom - top + named];
  const columns = columnsOf(scenes.length, width, height, ratio);
  const cells = scenes.flatMap((scene, at) => {
    const [x, y] = [(at % columns) * width, Math.floor(at / columns) * height];
    return scene ? [{ scene, name: named ? (colourways[at]?.name ?? "") : "", x, y }] : [];
  });
  return { cells, width: Math.min(columns, cells.length) * width, height: Math.ceil(cells.length / columns) * height };
}

/**
 * In how many columns works are seen largest in a picture.
 *
 * @param {number} count
 * @param {number} width  of each
 * @param {number} height
 * @param {number} ratio  width to height of the picture
 */
function columnsOf(count, width, height, ratio) {
  const size = (/** @type {number} */ columns) => Math.min(ratio / (columns * width), 1 / (Math.ceil(count / columns) * height));
  return Array.from({ length: count }, (_, at) => at + 1).reduce((best, columns) => (size(columns) > size(best) ? columns : best), 1);
}

/**
 * @param {CanvasRenderingContext2D} context
 * @param {Cell} cell
 * @param {number} scale  px per mm
 * @param {number} x  of its left edge in the picture, mm
 * @param {number} y
 */
async function paint(context, { scene, name }, scale, x, y) {
  const [left, top, right, bottom] = scene.box;
  const view = new View(scale, (x - left) * scale, (y - top) * scale);
  for (let strip = 0; strip < STRIPS; strip += 1) {
    const [from, to] = [strip, strip + 1].map((each) => top + (each * (bottom - top)) / STRIPS);
    paintRegion(context, view, 1, scene, [left, from ?? top, right, to ?? bottom]);
    await new Promise((next) => setTimeout(next));
  }
  if (!name) return;
  const size = NAME * Math.max(right - left, bottom - top);
  context.setTransform(scale, 0, 0, scale, 0, 0);
  context.fillStyle = TONES.ink;
  context.font = `600 ${size * 0.5}px ui-rounded, system-ui, sans-serif`;
  context.textAlign = "center";
  context.textBaseline = "middle";
  context.fillText(name, x + (right - left) / 2, y + bottom - top + size * 0.3, right - left);
}

/**
 * The shadow of the work on the table, beneath what is drawn.
 *
 * @param {CanvasRenderingContext2D} context
 * @param {Workroom} room
 * @param {number} scale
 * @param {number} left  mm
 * @param {number} top
 * @param {number} width  of the work with what is seen around it
 */
function castShadow(context, { shapes }, scale, left, top, width) {
  if (!shapes) return;
  const air = (width - shapes.box[2]) / 2;
  context.save();
  context.globalCompositeOperation = "destination-over";
  context.shadowColor = SHADOW;
  context.shadowBlur = air * 0.22 * scale;
  context.shadowOffsetX = air * 0.05 * scale;
  context.shadowOffsetY = air * 0.1 * scale;
  context.translate((left + air) * scale, (top + air) * scale);
  context.scale(scale, scale);
  context.fillStyle = SHADOW;
  context.fill(shapes.card, "evenodd");
  context.restore();
}

/**
 * @param {Workroom} room
 * @param {Colourway} colourway
 * @param {boolean} onTable
 * @returns {Scene | null}
 */
function workScene(room, colourway, onTable) {
  const { shapes, paint: papers, project } = room;
  if (!shapes) return null;
  const [, , width, height] = shapes.box;
  const air = (onTable ? TABLE_AIR : AIR) * Math.max(width, height);
  const isChosen = colourway.id === chosen(project).id;
  return {
    box: [-air, -air, width + air, height + air],
    mirrored: false,
    weight: shapes.openings.length,
    layers: [
      new PapersLayer(
        shapes,
        papers,
        (number) => (isChosen ? room.paperOf(number) : (room.papers.get(colourway.papers[number] ?? "") ?? null)),
        (number) => (isChosen ? room.placeOf(number) : null),
        onTable ? SEE_THROUGH : project.look.behind_colour,
      ),
      new CardLayer(shapes, project.look.card_colour),
    ],
  };
}
