/** Typefaces for words on the page besides its own; each comes once a page asks for it. */
export const FACES = /** @type {const} */ (["hand", "serif", "round"]);

/** The page's own, and what stands in for letters that a typeface lacks. */
const OWN = 'ui-rounded, "Trebuchet MS", system-ui, sans-serif';
/** Each comes in two files: basic Latin, and what else Latin has. */
const SUBSETS = ["latin", "latin-ext"];
/** What each of the files has (CSS Fonts, unicode-range), as its package tells. */
const RANGES = {
  latin: "U+0000-00FF, U+0131, U+0152-0153, U+02BB-02BC, U+02C6, U+02DA, U+02DC, U+0304, U+0308, U+0329, U+2000-206F, U+20AC, U+2122, U+2191, U+2193, U+2212, U+2215, U+FEFF, U+FFFD",
  "latin-ext": "U+0100-02BA, U+02BD-02C5, U+02C7-02CC, U+02CE-02D7, U+02DD-02FF, U+1D00-1DBF, U+1E00-1E9F, U+1EF2-1EFF, U+2020, U+20A0-20AB, U+20AD-20C0, U+2113, U+2C60-2C7F, U+A720-A7FF",
};

/**
 * A typeface as CSS names it, with what stands in for it.
 *
 * @param {string | null | undefined} face
 */
export function familyOf(face) {
  return isFace(face) ? `"peekpaper ${face}", ${OWN}` : OWN;
}

/** Brings typefaces in when they are needed. */
export class Faces {
  constructor() {
    /** By typeface. @type {Map<string, Promise<boolean>>} */
    this.coming = new Map();
    /** @type {Set<string>} */
    this.here = new Set();
  }

  /**
   * @param {readonly (string | null | undefined)[]} faces  what a page asks for
   * @returns {Promise<void> | null} resolves once all are here or can't come; null where nothing is to come
   */
  bring(faces) {
    const wanted = [...new Set(faces)].filter(isFace).filter((face) => !this.here.has(face));
    if (wanted.length === 0) return null;
    return Promise.all(wanted.map((face) => this.#one(face))).then(() => {});
  }

  /** @param {string} face */
  #one(face) {
    const known = this.coming.get(face);
    if (known) return known;
    const coming = load(face).then((came) => {
      if (came) this.here.add(face);
      // Without a connection it may come later.
      else this.coming.delete(face);
      return came;
    });
    this.coming.set(face, coming);
    return coming;
  }
}

/**
 * @param {string | null | undefined} face
 * @returns {face is string}
 */
function isFace(face) {
  return FACES.some((each) => each === face);
}

/** @param {string} face  @returns {Promise<boolean>} whether it came */
async function load(face) {
  try {
    const parts = SUBSETS.map((subset) => {
      const address = new URL(`faces/${face}-${subset}.woff2`, document.baseURI).href;
      return new FontFace(`peekpaper ${face}`, `url(${address})`, { weight: "300 700", unicodeRange: RANGES[/** @type {keyof typeof RANGES} */ (subset)] });
    });
    for (const part of await Promise.all(parts.map((part) => part.load()))) document.fonts.add(part);
    return true;
  } catch {
    return false;
  }
}
