/**
 * One of the four places: what its shelf holds, what lies on the table, and what hands do there.
 *
 * @typedef {import("../stage/stage.js").Scene} Scene
 * @typedef {import("../stage/gestures.js").Spot} Spot
 * @typedef {import("../stage/opening-finder.js").Found} Found
 * @typedef {import("../parts/session.js").PlaceName} PlaceName
 * @typedef {{hold: (x: number, y: number) => boolean, carry: (x: number, y: number) => void,
 *   drop?: () => void, letGo?: () => void, follow?: () => void}} Carrier
 * @typedef {{
 *   name: PlaceName,
 *   panel: HTMLElement,
 *   foot: HTMLElement | null,
 *   over?: HTMLElement,
 *   atHand?: HTMLElement,
 *   enter: () => void,
 *   leave?: () => void,
 *   update: () => void,
 *   scene: () => Scene | null,
 *   hint: () => string,
 *   give: ((number: number) => void) | null,
 *   giveAlike?: (number: number) => void,
 *   tapTable: ((x: number, y: number) => void) | null,
 *   sweeps: boolean,
 *   takesIn?: ((numbers: readonly number[]) => void) | null,
 *   swept?: () => void,
 *   carries?: Carrier | null,
 *   sceneOf?: readonly unknown[],
 * }} Place
 *
 * `update` brings the shelf in step with the project; `leave` lets go of what is in hand. `give` is what a tap or
 * Enter does to an opening, `giveAlike` the same to it and all alike.
 * `over` floats above the table, `atHand` at its edge: what hands do there.
 * `tapTable` takes a tap anywhere (mm) instead. `sweeps`: a drag across openings gives to each of them, of which
 * `swept` is told at its end. `takesIn`, where there is one, gets the openings that a finger drew round.
 * `carries` takes hold of what lies at a spot (mm), if anything, and carries it along; `follow` where the view
 * has moved. `sceneOf`: what the scene
 * shows besides what every place's does; another scene is laid where that changes.
 */

export {};
