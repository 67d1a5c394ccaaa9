import { Refusal } from "../words/refusal.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */

/**
 * Reads how large something is: a length above zero.
 *
 * @param {Workroom} room
 * @param {string} text  as it was typed
 * @returns {Promise<number>} mm; rejects with a sentence for what is none
 */
export async function readSize(room, text) {
  const mm = await room.desk.readLength(text, room.unit);
  if (mm <= 0) throw new Refusal({ key: "length.above-zero", figures: {} });
  return mm;
}

/**
 * Reads how broad something is that may be left out: a length that is not below zero.
 *
 * @param {Workroom} room
 * @param {string} text  as it was typed
 * @returns {Promise<number>} mm; rejects with a sentence for what is none
 */
export async function readBreadth(room, text) {
  const mm = await room.desk.readLength(text, room.unit);
  if (mm < 0) throw new Refusal({ key: "length.below-zero", figures: {} });
  return mm;
}
