/**
 * The patterns of drawn papers, each as one repeat at its real size in mm. `tones` are the paper's own colour
 * and two companions, one lighter or darker than it and one in between.
 *
 * @typedef {{base: string, main: string, second: string}} Tones
 * @typedef {{width: number, height: number, draw: (context: CanvasRenderingContext2D, tones: Tones) => void}} Repeat
 */

const TURN = 2 * Math.PI;

/** @type {Record<string, Repeat>} */
export const PATTERNS = {
  dots: {
    width: 6,
    height: 6,
    draw(context, { main }) {
      context.fillStyle = main;
      for (const [x, y] of corners(6, 6)) disc(context, x, y, 0.95);
      disc(context, 3, 3, 0.95);
    },
  },
  stripes: {
    width: 5,
    height: 5,
    draw(context, { main, second }) {
      context.fillStyle = main;
      context.fillRect(0, 0, 2, 5);
      context.fillStyle = second;
      context.fillRect(3.2, 0, 0.6, 5);
    },
  },
  gingham: {
    width: 6,
    height: 6,
    draw(context, { main }) {
      context.fillStyle = main;
      context.globalAlpha = 0.5;
      context.fillRect(0, 0, 3, 6);
      context.fillRect(0, 0, 6, 3);
      context.globalAlpha = 1;
    },
  },
  checks: {
    width: 8,
    height: 8,
    draw(context, { main }) {
      context.fillStyle = main;
      context.fillRect(0, 0, 4, 4);
      context.fillRect(4, 4, 4, 4);
    },
  },
  waves: {
    width: 8,
    height: 5,
    draw(context, { main }) {
      context.strokeStyle = main;
      context.lineWidth = 0.8;
      for (const y of [-2.5, 2.5, 7.5]) {
        context.beginPath();
        context.moveTo(-4, y);
        for (let x = -4; x < 12; x += 4) context.quadraticCurveTo(x + 2, y + (x % 8 === 0 ? 2.4 : -2.4), x + 4, y);
        context.stroke();
      }
    },
  },
  stars: {
    width: 12,
    height: 12,
    draw(context, { main, second }) {
      context.fillStyle = main;
      star(context, 3, 3, 2.1);
      star(context, 9, 9, 2.1);
      context.fillStyle = second;
      disc(context, 9, 3, 0.55);
      disc(context, 3, 9, 0.55);
    },
  },
  crosshatch: {
    width: 4,
    height: 4,
    draw(context, { main }) {
      context.strokeStyle = main;
      context.lineWidth = 0.4;
      context.beginPath();
      for (const shift of [-4, 0, 4]) {
        context.moveTo(shift - 1, -1);
        context.lineTo(shift + 5, 5);
        context.moveTo(shift + 5, -1);
        context.lineTo(shift - 1, 5);
      }
      context.stroke();
    },
  },
  scallops: {
    width: 8,
    height: 8,
    draw(context, { main, second, base }) {
      for (let row = 0; row <= 3; row += 1) {
        for (let x = row % 2 === 0 ? 0 : -4; x <= 12; x += 8) {
          const y = row * 4 - 4;
          for (const [radius, colour] of /** @type {[number, string][]} */ ([
            [4, main],
            [3.3, base],
            [1.7, second],
          ])) {
            context.fillStyle = colour;
            context.beginPath();
            context.arc(x, y, radius, 0, TURN);
            context.fill();
          }
        }
      }
    },
  },
  leaves: {
    width: 12,
    height: 10,
    draw(context, { main, second }) {
      context.fillStyle = main;
      leaf(context, 3, 2.5, 0.7);
      leaf(context, 9, 7.5, -0.7);
      context.fillStyle = second;
      leaf(context, 9, 2.5, -0.7);
      leaf(context, 3, 7.5, 0.7);
    },
  },
};

/**
 * @param {number} width
 * @param {number} height
 * @returns {[number, number][]}
 */
function corners(width, height) {
  return [
    [0, 0],
    [width, 0],
    [0, height],
    [width, height],
  ];
}

/**
 * @param {CanvasRenderingContext2D} context
 * @param {number} x
 * @param {number} y
 * @param {number} radius
 */
function disc(context, x, y, radius) {
  context.beginPath();
  context.arc(x, y, radius, 0, TURN);
  context.fill();
}

/**
 * @param {CanvasRenderingContext2D} context
 * @param {number} x
 * @param {number} y
 * @param {number} radius
 */
function star(context, x, y, radius) {
  context.beginPath();
  for (let point = 0; point < 10; point += 1) {
    const reach = point % 2 === 0 ? radius : radius * 0.42;
    const angle = (point / 10) * TURN - TURN / 4;
    context.lineTo(x + reach * Math.cos(angle), y + reach * Math.sin(angle));
  }
  context.closePath();
  context.fill();
}

/**
 * @param {CanvasRenderingContext2D} context
 * @param {number} x
 * @param {number} y
 * @param {number} turn  radians
 */
function leaf(context, x, y, turn) {
  context.save();
  context.translate(x, y);
  context.rotate(turn);
  context.beginPath();
  context.moveTo(0, -2.4);
  context.quadraticCurveTo(1.8, 0, 0, 2.4);
  context.quadraticCurveTo(-1.8, 0, 0, -2.4);
  context.fill();
  context.restore();
}
