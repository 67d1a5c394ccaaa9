import { View } from "./view.js";

/** @typedef {import("./stage.js").Scene} Scene */
/** @typedef {import("./stage.js").Layer} Layer */
/** @typedef {import("../desk/types.js").Box} Box */

const MARGIN = 0.25;
/** States of a context that a layer may have saved where it fails. */
const MOST_STATES = 50;

/** Layers that failed. @type {WeakSet<Layer>} */
const FAILED = new WeakSet();

/** A part of the picture on the table that can't be painted. */
export class UnpaintedError extends Error {}

/** A picture of the scene, somewhat larger than the stage, that can be moved about while hands move the view. */
export class Picture {
  constructor() {
    this.canvas = document.createElement("canvas");
    this.context = context2d(this.canvas);
    this.view = new View(1, 0, 0);
    this.frame = { width: 0, height: 0 };
    this.ratio = 1;
  }

  /**
   * @param {{width: number, height: number}} frame  the stage's, in CSS px
   * @param {number} ratio  device px per CSS px
   */
  resize(frame, ratio) {
    this.frame = frame;
    this.ratio = ratio;
    this.canvas.width = Math.round(frame.width * ratio * (1 + 2 * MARGIN));
    this.canvas.height = Math.round(frame.height * ratio * (1 + 2 * MARGIN));
  }

  /** Says what view the picture is of. @param {View} view  of the stage */
  lookFrom(view) {
    this.view = view.moved(this.frame.width * MARGIN, this.frame.height * MARGIN);
  }

  /** @param {Scene} scene */
  paint(scene) {
    this.#paint(scene, 0, this.canvas.height);
  }

  /**
   * Paints what lies in a region (mm).
   *
   * @param {Scene} scene
   * @param {Box} region
   */
  paintRegion(scene, region) {
    paintRegion(this.context, this.view, this.ratio, scene, region);
  }

  /**
   * Paints one of `count` strips from top to bottom.
   *
   * @param {Scene} scene
   * @param {number} index
   * @param {number} count
   */
  paintStrip(scene, index, count) {
    const { height } = this.canvas;
    const [top, bottom] = [index, index + 1].map((strip) => Math.round((strip * height) / count));
    this.#paint(scene, top ?? 0, bottom ?? height);
  }

  /**
   * @param {Scene} scene
   * @param {number} top  device px
   * @param {number} bottom
   */
  #paint(scene, top, bottom) {
    paintWithin(this.context, this.view, this.ratio, scene, [0, top, this.canvas.width, bottom]);
  }
}

/**
 * Paints all that a view shows on a canvas.
 *
 * @param {CanvasRenderingContext2D} context
 * @param {View} view
 * @param {number} ratio  device px per CSS px
 * @param {Scene} scene
 */
export function paintView(context, view, ratio, scene) {
  paintWithin(context, view, ratio, scene, [0, 0, context.canvas.width, context.canvas.height]);
}

/**
 * Paints what lies in a region of a scene (mm), and nothing beyond it.
 *
 * @param {CanvasRenderingContext2D} context
 * @param {View} view
 * @param {number} ratio  device px per CSS px
 * @param {Scene} scene
 * @param {Box} region
 */
export function paintRegion(context, view, ratio, scene, region) {
  const [ax, ay] = view.toPx(region[0], region[1]);
  const [bx, by] = view.toPx(region[2], region[3]);
  paintWithin(context, view, ratio, scene, [
    Math.floor(Math.min(ax, bx) * ratio) - 1,
    Math.floor(Math.min(ay, by) * ratio) - 1,
    Math.ceil(Math.max(ax, bx) * ratio) + 1,
    Math.ceil(Math.max(ay, by) * ratio) + 1,
  ]);
}

/**
 * @param {CanvasRenderingContext2D} context
 * @param {View} view
 * @param {number} ratio
 * @param {Scene} scene
 * @param {Box} within  device px
 */
function paintWithin(context, view, ratio, scene, [left, top, right, bottom]) {
  const [ax, ay] = view.toMm(left / ratio, top / ratio);
  const [bx, by] = view.toMm(right / ratio, bottom / ratio);
  /** @type {Box} */
  const region = [Math.min(ax, bx), ay, Math.max(ax, bx), by];
  const brush = { context, view, ratio, region };
  context.save();
  context.setTransform(1, 0, 0, 1, 0, 0);
  context.beginPath();
  context.rect(left, top, right - left, bottom - top);
  context.clip();
  context.clearRect(left, top, right - left, bottom - top);
  const layers = scene.layers.filter((layer) => !FAILED.has(layer));
  const failed =
    layers.find((layer) => {
      view.applyTo(context, ratio);
      return !succeeds(context, layer, () => layer.draw(brush));
    }) ??
    layers.find((layer) => {
      context.setTransform(ratio, 0, 0, ratio, 0, 0);
      return !succeeds(context, layer, () => layer.label?.(brush));
    });
  context.restore();
  // Whatever the failed one has left on the canvas goes, and all others are painted.
  if (failed) paintWithin(context, view, ratio, scene, [left, top, right, bottom]);
}

/**
 * Lets a layer paint. One that fails is told of and painted no more, so that it takes no other along.
 *
 * @param {CanvasRenderingContext2D} context
 * @param {Layer} layer
 * @param {() => void} paint
 */
function succeeds(context, layer, paint) {
  context.save();
  try {
    paint();
    context.restore();
    return true;
  } catch (error) {
    FAILED.add(layer);
    reportError(new UnpaintedError("a layer of the table can't be painted", { cause: error }));
    // How many states it has saved is not known; beyond the first, there are none to go back to.
    for (let depth = 0; depth < MOST_STATES; depth += 1) context.restore();
    return false;
  }
}

/** @param {HTMLCanvasElement} canvas */
export function context2d(canvas) {
  const context = canvas.getContext("2d");
  if (!context) throw new Error("this browser draws no canvas");
  return context;
}
