import { Lately } from "../basics/lately.js";
import { own } from "../parts/own.js";
import { tonesOf } from "./colours.js";
import { PATTERNS } from "./patterns.js";

/** @typedef {import("../desk/types.js").Paper} Paper */
/** @typedef {import("../desk/types.js").Affine} Affine */
/** @typedef {{pattern: CanvasPattern, scale: number, px: number}} Tile  scale: px per mm; px: all of them */

/** Px of all tiles, 4 bytes each. */
const MOST_PX = 32e6;
const MOST_TILE_PX = 640;
const STEP = 1.3;
const PICTURE_STEP = 2;

/**
 * Papers as canvas paint at true scale: drawn patterns by name, pictures by key. Tiles are kept per paper and
 * resolution.
 */
export class PaperPaint {
  /** @param {import("../project/pictures.js").Pictures} pictures */
  constructor(pictures) {
    this.pictures = pictures;
    /** How many times pictures were found that were not at hand before. */
    this.loaded = 0;
    pictures.addEventListener("loaded", () => {
      this.loaded += 1;
    });
    /** @type {Lately<Tile>} */
    this.tiles = new Lately(MOST_PX);
    pictures.addEventListener("replaced", () => {
      this.tiles = new Lately(MOST_PX);
    });
  }

  /**
   * The paint of a paper for a context whose unit is 1 mm.
   *
   * @param {CanvasRenderingContext2D} context
   * @param {Paper} paper
   * @param {number} resolution  device px per mm
   * @param {Affine | null} place  maps pattern mm to context mm; null lays the pattern from the origin
   * @returns {string | CanvasPattern}
   */
  of(context, paper, resolution, place) {
    const tile = this.#tile(context, paper, resolution);
    if (!tile) return paper.colour;
    const matrix = new DOMMatrix(place ?? undefined);
    matrix.scaleSelf(1 / tile.scale);
    tile.pattern.setTransform(matrix);
    return tile.pattern;
  }

  /**
   * @param {CanvasRenderingContext2D} context
   * @param {Paper} paper
   * @param {number} resolution
   * @returns {Tile | null}
   */
  #tile(context, paper, resolution) {
    const step = paper.picture ? PICTURE_STEP : STEP;
    const fine = step ** Math.ceil(Math.log(resolution) / Math.log(step));
    const look = `${paper.colour} ${paper.pattern} ${paper.picture} ${paper.picture_width_mm} `;
    const key = look + fine.toFixed(3);
    const known = this.tiles.get(key);
    if (known) return known;
    const made = paper.picture
      ? this.#pictureTile(context, paper, fine)
      : this.#patternTile(context, paper, fine);
    if (made) this.tiles.set(key, made, made.px);
    // Until the picture is unpacked once more, a coarser or finer tile stands in.
    return made ?? this.tiles.like(look) ?? null;
  }

  /**
   * @param {CanvasRenderingContext2D} context
   * @param {Paper} paper
   * @param {number} fine  px per mm
   * @returns {Tile | null}
   */
  #patternTile(context, paper, fine) {
    const repeat = own(PATTERNS, paper.pattern ?? "");
    if (!repeat) return null;
    const most = MOST_TILE_PX / Math.max(repeat.width, repeat.height);
    const width = Math.max(2, Math.round(repeat.width * Math.min(fine, most)));
    const height = Math.max(2, Math.round(repeat.height * Math.min(fine, most)));
    const tile = document.createElement("canvas");
    tile.width = width;
    tile.height = height;
    const draw = tile.getContext("2d");
    if (!draw) return null;
    draw.fillStyle = paper.colour;
    draw.fillRect(0, 0, width, height);
    draw.scale(width / repeat.width, height / repeat.height);
    repeat.draw(draw, tonesOf(paper.colour));
    const pattern = context.createPattern(tile, "repeat");
    return pattern && { pattern, scale: width / repeat.width, px: width * height };
  }

  /**
   * @param {CanvasRenderingContext2D} context
   * @param {Paper} paper
   * @param {number} fine  px per mm
   * @returns {Tile | null}
   */
  #pictureTile(context, paper, fine) {
    const picture = this.pictures.at(paper.picture ?? "");
    if (!picture) return null;
    const across = paper.picture_width_mm ?? paper.sheet_width_mm;
    const small = shrunk(picture, across * fine);
    const pattern = context.createPattern(small, "repeat");
    return pattern && { pattern, scale: small.width / across, px: small.width * small.height };
  }
}

/**
 * A picture halved until it is about as wide as it is shown, which keeps it smooth and quick to draw.
 *
 * @param {ImageBitmap} picture
 * @param {number} width  px at least
 */
function shrunk(picture, width) {
  /** @type {ImageBitmap | HTMLCanvasElement} */
  let smaller = picture;
  while (smaller.width / 2 >= width && smaller.width > 2 && smaller.height > 2) {
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(smaller.width / 2);
    canvas.height = Math.round(smaller.height / 2);
    canvas.getContext("2d")?.drawImage(smaller, 0, 0, canvas.width, canvas.height);
    smaller = canvas;
  }
  return smaller;
}
