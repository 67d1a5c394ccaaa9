import { icon, make } from "../../parts/dom.js";
import { locale, say } from "../../words/words.js";

/** @typedef {import("../../desk/types.js").Booking} Booking */

/** @param {Booking} booking  @returns {string} its day */
export function whenOf({ when }) {
  return new Intl.DateTimeFormat(locale(), { dateStyle: "medium" }).format(when);
}

/**
 * What was cut for one project, with the button that takes it back.
 *
 * @param {Booking} booking
 * @param {() => void} takeBack
 */
export function bookingRow(booking, takeBack) {
  const { name, colourway, taken } = booking;
  const sum = (/** @type {number[]} */ counts) => counts.reduce((total, each) => total + each, 0);
  const sheets = sum(taken.map((one) => one.sheets));
  const scraps = sum(taken.map(({ used }) => used.length));
  const back = sum(taken.map(({ left }) => left.length));
  const told = [
    whenOf(booking),
    sheets > 0 ? say("cut.sheets", { count: sheets }) : "",
    scraps > 0 ? say("cut.scraps", { count: scraps }) : "",
    back > 0 ? say("cut.left", { count: back }) : "",
  ];
  return make(
    "li",
    { class: "version" },
    make("span", {}, `${name} · ${colourway}`, make("small", { class: "soft" }, told.filter(Boolean).join(" · "))),
    make("button", { help: "cut.take-back", type: "button", class: "button", onclick: takeBack }, icon("undo"), say("cut.take-back")),
  );
}
