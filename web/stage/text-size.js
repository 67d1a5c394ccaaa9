/** Text that nobody made larger. */
const USUAL_TEXT_PX = 16;

/** How much larger than usual a person has their text: what is written on a canvas grows as all other text does. */
export function textScale() {
  return parseFloat(getComputedStyle(document.documentElement).fontSize) / USUAL_TEXT_PX;
}
