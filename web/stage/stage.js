import { find } from "../parts/dom.js";
import { Gestures } from "./gestures.js";
import { context2d, paintRegion, paintView, Picture } from "./picture.js";
import { pixelRatio } from "./pixel-ratio.js";
import { SlideIn } from "./slide-in.js";
import { enclosing } from "./shapes.js";
import { textScale } from "./text-size.js";
import { between, View } from "./view.js";

/** @typedef {import("../desk/types.js").Box} Box */
/** @typedef {import("./gestures.js").Spot} Spot */

/**
 * One thing drawn on the table, in table mm.
 *
 * @typedef {{context: CanvasRenderingContext2D, view: View, ratio: number, region: Box | null}} Brush
 * @typedef {{draw: (brush: Brush) => void, label?: (brush: Brush) => void}} Layer
 * @typedef {{box: Box, layers: Layer[], mirrored: boolean, weight: number}} Scene
 *
 * @typedef {{
 *   aim: (spot: Spot) => unknown,
 *   tap: (spot: Spot) => void,
 *   longPress: (spot: Spot) => void,
 *   hover: (spot: Spot | null) => void,
 *   grab: (spot: Spot) => boolean,
 *   drag: (spot: Spot, passed: readonly Spot[]) => void,
 *   drop: (spot: Spot) => void,
 *   let: () => void,
 *   fingers: (count: number) => void,
 *   moved: () => void,
 * }} StageReactions
 */

const ZOOM_OUT = 0.6;
const ZOOM_IN_PX_PER_MM = 60;
const LIGHT_WEIGHT = 120;
/** A heavy scene is painted in strips of about so many openings or pieces, of which each is a frame's work. */
const STRIP_WEIGHT = 60;
const FEWEST_STRIPS = 8;
const MOST_STRIPS = 24;
const GLIDE_MS = 280;
const SETTLE_MS = 90;
/** On a phone the hint at the foot of the table goes over three lines. */
const NARROW_PX = 480;
const NARROW_BOTTOM_PX = 70;
/** So high is what floats at the table's foot at most without asking for more room. */
const FOOT_PX = 52;

/**
 * The canvas on which the scene lies, and the view that the hands move. Scenes are moved as a picture of
 * themselves and drawn anew when the hand rests; light ones are drawn at once where the picture does not do; one
 * changed spot redraws only its surroundings.
 */
export class Stage {
  /**
   * @param {HTMLElement} element  holds a canvas
   * @param {StageReactions} reactions
   */
  constructor(element, reactions) {
    this.element = element;
    this.reactions = reactions;
    this.canvas = find("canvas", HTMLCanvasElement, element);
    this.context = context2d(this.canvas);
    this.slides = new SlideIn(this.canvas);
    this.picture = new Picture();
    this.next = new Picture();
    this.strip = 0;
    /** Regions (mm) that were drawn anew on the table alone and not yet in the picture. @type {Box[]} */
    this.owed = [];
    this.paying = 0;
    this.view = new View(1, 0, 0);
    this.frame = { width: 0, height: 0 };
    this.insets = { left: 16, top: 12, right: 16, bottom: 64 };
    /** How much more room is kept free at the foot, px. */
    this.more = 0;
    this.ratio = 1;
    /** @type {Scene | null} */
    this.scene = null;
    this.fitted = true;
    /** Whether a place that was brought is still looked at. */
    this.visiting = false;
    this.stale = true;
    this.fresh = true;
    this.moving = false;
    this.asked = 0;
    this.settling = 0;
    this.glide = 0;
    this.#listen();
  }

  #listen() {
    const { aim, tap, longPress, hover, grab, drag, drop, fingers, let: letGo } = this.reactions;
    new Gestures(this.canvas, {
      aim,
      tap,
      longPress,
      hover,
      grab,
      drag,
      drop,
      let: letGo,
      fingers,
      doubleTap: (spot) => this.#doubleTap(spot),
      move: (dx, dy) => this.#go(this.view.moved(dx, dy)),
      zoom: (factor, x, y) => this.zoom(factor, x, y),
      // A tap moves nothing: what is drawn stays.
      rest: () => this.moving && this.#rest(),
    });
    new ResizeObserver(() => this.#resize()).observe(this.element);
  }

  /**
   * Lays another scene on the table.
   *
   * @param {Scene} scene
   * @param {boolean} fit  look at all of it
   */
  show(scene, fit) {
    const turned = this.scene?.mirrored !== scene.mirrored;
    this.scene = scene;
    this.stale = true;
    this.strip = 0;
    // Under a moving hand what is drawn stays until it rests.
    this.fresh ||= fit || turned || this.fitted || !this.moving;
    if (fit || turned || this.fitted) this.fit(false);
    this.#ask();
  }

  /** Leaves the table empty. */
  clear() {
    this.scene = null;
    this.context.setTransform(1, 0, 0, 1, 0, 0);
    this.context.clearRect(0, 0, this.canvas.width, this.canvas.height);
  }

  /** Lays the scene on the table as it is made of newer shapes: no frame is late for it. @param {Scene} scene */
  renew(scene) {
    this.scene = scene;
    this.repaint();
  }

  /** Draws anew; with a region (mm) only what lies there. @param {Box | null} [region] */
  repaint(region = null) {
    if (!this.scene) return;
    if (region && !this.fresh) {
      this.owed.push(region);
      const spot = this.#spot;
      // Painting the spot twice costs less than copying the whole picture for it.
      if (spot.zoom === 1 && !this.asked) {
        const { view } = this.picture;
        const shown = view.moved(spot.x / this.ratio, spot.y / this.ratio);
        paintRegion(this.context, shown, this.ratio, this.scene, region);
        this.paying ||= setTimeout(() => this.#pay());
      } else if (this.#isLight) this.#ask();
      else this.#copy();
      if (!this.stale) return;
    }
    this.stale = true;
    this.strip = 0;
    this.#ask();
  }

  /** Lets what will be drawn in a region slide in. @param {Box} box  mm */
  slideIn([x0, y0, x1, y1]) {
    const [[ax, ay], [bx, by]] = [this.view.toPx(x0, y0), this.view.toPx(x1, y1)];
    this.slides.over([Math.min(ax, bx), Math.min(ay, by), Math.max(ax, bx), Math.max(ay, by)]);
  }

  /**
   * Shows the whole.
   *
   * @param {boolean} [gliding]
   * @param {Box} [box]  what else is seen with it, in mm
   */
  fit(gliding = true, box = this.scene?.box) {
    if (!this.scene || this.frame.width === 0) return;
    const { left, top, right } = this.insets;
    // The hint below grows with the text.
    const larger = textScale();
    const bottom = larger * (this.frame.width < larger * NARROW_PX ? NARROW_BOTTOM_PX : this.insets.bottom) + this.more;
    const width = Math.max(40, this.frame.width - left - right);
    const height = Math.max(40, this.frame.height - top - bottom);
    const view = View.fitting(enclosing(this.scene.box, box ?? this.scene.box), { left, top, width, height }, this.scene.mirrored);
    if (gliding) this.#glideTo(view);
    else this.#go(view);
    this.fitted = true;
    this.visiting = false;
  }

  /** Keeps what floats at the table's foot off the whole. @param {number} height  px */
  makeRoom(height) {
    const more = Math.max(0, height - FOOT_PX);
    if (more === this.more) return;
    this.more = more;
    if (this.fitted) this.fit();
  }

  /** Brings a place into the middle, near enough to see it; a large one is seen with the whole. @param {Box} box  mm */
  lookAt(box) {
    const room = Math.max(18, box[2] - box[0], box[3] - box[1]) * 1.5;
    const [cx, cy] = [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2];
    const { width, height } = this.frame;
    if (Math.min(width, height) / (2 * room) < this.#wholeScale()) {
      this.fit(true, box);
      return;
    }
    const near = View.fitting(
      [cx - room, cy - room, cx + room, cy + room],
      { left: 0, top: 0, width, height },
      this.view.mirrored,
    );
    this.#glideTo(near);
    this.fitted = false;
    this.visiting = true;
  }

  /** Goes back to the whole from a place that `lookAt` brought, where no hand has moved the view since. */
  endVisit() {
    if (this.visiting) this.fit();
  }

  /** Moves the view just enough to show a place. @param {Box} box  mm */
  reveal(box) {
    const [ax, ay] = this.view.toPx(box[0], box[1]);
    const [bx, by] = this.view.toPx(box[2], box[3]);
    const dx = overlap(Math.min(ax, bx), Math.max(ax, bx), this.frame.width);
    const dy = overlap(Math.min(ay, by), Math.max(ay, by), this.frame.height);
    if (dx !== 0 || dy !== 0) this.#glideTo(this.view.moved(dx, dy));
  }

  /**
   * @param {number} factor
   * @param {number} [x]  px that stays in place
   * @param {number} [y]
   */
  zoom(factor, x = this.frame.width / 2, y = this.frame.height / 2) {
    const whole = this.scene ? this.#wholeScale() : 1;
    const scale = Math.min(Math.max(this.view.scale * factor, whole * ZOOM_OUT), ZOOM_IN_PX_PER_MM);
    this.#go(this.view.zoomed(scale / this.view.scale, x, y));
  }

  /** @param {Spot} spot  @returns {[number, number]} mm */
  toMm(spot) {
    return this.view.toMm(spot.x, spot.y);
  }

  #wholeScale() {
    const [x0, y0, x1, y1] = this.scene?.box ?? [0, 0, 1, 1];
    return Math.min(this.frame.width / Math.max(x1 - x0, 1), this.frame.height / Math.max(y1 - y0, 1));
  }

  /** @param {Spot} spot */
  #doubleTap(spot) {
    if (this.fitted) {
      const target = this.view.zoomed(2.5, spot.x, spot.y);
      this.#glideTo(target);
      this.fitted = false;
    } else this.fit();
  }

  /** @param {View} view */
  #go(view) {
    this.visiting = false;
    cancelAnimationFrame(this.glide);
    this.#look(view);
  }

  /** @param {View} view */
  #look(view) {
    this.view = view;
    this.slides.away();
    this.fitted = false;
    this.moving = true;
    this.strip = 0;
    this.#ask();
    this.#rest();
    this.reactions.moved();
  }

  #rest() {
    clearTimeout(this.settling);
    this.settling = setTimeout(() => {
      this.moving = false;
      this.stale = true;
      this.#ask();
    }, SETTLE_MS);
  }

  /** @param {View} to */
  #glideTo(to) {
    cancelAnimationFrame(this.glide);
    const from = this.view;
    if (matchMedia("(prefers-reduced-motion: reduce)").matches || from.mirrored !== to.mirrored) {
      this.#look(to);
      return;
    }
    const start = performance.now();
    const step = (/** @type {number} */ now) => {
      const part = Math.min(1, Math.max(0, (now - start) / GLIDE_MS));
      const fitted = this.fitted;
      this.#look(part === 1 ? to : between(from, to, 1 - (1 - part) ** 3, this.frame));
      this.fitted = fitted;
      if (part < 1) this.glide = requestAnimationFrame(step);
    };
    this.glide = requestAnimationFrame(step);
  }

  #resize() {
    const { clientWidth: width, clientHeight: height } = this.element;
    if (width === 0 || height === 0) return;
    const fitted = this.fitted;
    this.frame = { width, height };
    this.ratio = pixelRatio(width, height);
    this.canvas.width = Math.round(width * this.ratio);
    this.canvas.height = Math.round(height * this.ratio);
    this.picture.resize(this.frame, this.ratio);
    this.next.resize(this.frame, this.ratio);
    this.stale = true;
    this.fresh = true;
    if (fitted) this.fit(false);
    this.#draw();
  }

  #ask() {
    if (this.asked) return;
    this.asked = requestAnimationFrame(() => this.#draw());
  }

  #draw() {
    cancelAnimationFrame(this.asked);
    this.asked = 0;
    const { scene } = this;
    if (!scene || this.frame.width === 0) return;
    if (this.fresh || (this.#isLight && !this.moving)) this.#paintAtOnce(scene);
    else if (this.#isLight && (this.stale || !this.#isCovered)) {
      paintView(this.context, this.view, this.ratio, scene);
      return;
    } else if (this.stale && !this.moving) this.#paintOneStrip(scene);
    this.#copy();
  }

  /** Paints in the picture what was drawn on the table alone, once that is seen. */
  #pay() {
    this.paying = 0;
    for (const region of this.owed) if (this.scene) this.picture.paintRegion(this.scene, region);
    this.owed = [];
  }

  /** @param {Scene} scene */
  #paintAtOnce(scene) {
    this.picture.lookFrom(this.view);
    this.picture.paint(scene);
    this.owed = [];
    this.stale = false;
    this.fresh = false;
    this.strip = 0;
  }

  /** Paints a heavy scene a strip a frame, so that no frame is late. @param {Scene} scene */
  #paintOneStrip(scene) {
    if (this.strip === 0) this.next.lookFrom(this.view);
    const strips = Math.min(Math.max(Math.ceil(scene.weight / STRIP_WEIGHT), FEWEST_STRIPS), MOST_STRIPS);
    this.next.paintStrip(scene, this.strip, strips);
    this.strip += 1;
    if (this.strip >= strips) {
      [this.picture, this.next] = [this.next, this.picture];
      this.owed = [];
      this.strip = 0;
      this.stale = false;
    } else this.#ask();
  }

  /** How much larger the view has the picture than it was drawn, and where, in device px; whole ones where it can. */
  get #spot() {
    const { view, ratio } = this;
    const drawn = this.picture.view;
    const zoom = view.scale / drawn.scale;
    const [x, y] = [(view.x - drawn.x * zoom) * ratio, (view.y - drawn.y * zoom) * ratio];
    return Math.abs(zoom - 1) < 1e-9 ? { zoom: 1, x: Math.round(x), y: Math.round(y) } : { zoom, x, y };
  }

  get #isLight() {
    return (this.scene?.weight ?? 0) <= LIGHT_WEIGHT;
  }

  /** Whether the picture, no larger than it was drawn, has all that the view shows. */
  get #isCovered() {
    const { zoom, x, y } = this.#spot;
    const { canvas } = this.picture;
    return zoom === 1 && x <= 0 && y <= 0 && x + canvas.width >= this.canvas.width && y + canvas.height >= this.canvas.height;
  }

  /** Lays the picture on the canvas where the view has it now. */
  #copy() {
    const { context } = this;
    this.#pay();
    const { zoom, x, y } = this.#spot;
    context.setTransform(1, 0, 0, 1, 0, 0);
    context.clearRect(0, 0, this.canvas.width, this.canvas.height);
    context.setTransform(zoom, 0, 0, zoom, x, y);
    context.drawImage(this.picture.canvas, 0, 0);
  }
}

/**
 * How far to move a stretch from `low` to `high` px so that it lies within 0 to `size`.
 *
 * @param {number} low
 * @param {number} high
 * @param {number} size
 */
function overlap(low, high, size) {
  const edge = 24;
  if (high - low > size - 2 * edge) return size / 2 - (low + high) / 2;
  return Math.max(0, edge - low) + Math.min(0, size - edge - high);
}
