import { icon, make } from "../../parts/dom.js";
import { megabytes } from "../../parts/files/megabytes.js";
import { share, shares } from "../../parts/files/share.js";
import { say } from "../../words/words.js";

/** @typedef {import("../../words/words.js").Key} Key */
/** @typedef {{name: string, type: string, purpose: string, bytes: Uint8Array<ArrayBuffer>}} Sheet */

/** The files that were written: each says what it is for, and can be saved, or shared where the device shares. */
export class FileList {
  constructor() {
    /** @type {string[]} */
    this.urls = [];
    this.element = make("ul", { class: "files" });
  }

  get isFull() {
    return this.urls.length > 0;
  }

  /** @param {readonly Sheet[]} sheets */
  show(sheets) {
    this.clear();
    const whole = sheets.filter(({ purpose }) => purpose === "everything");
    const single = sheets.filter(({ purpose }) => purpose !== "everything");
    this.element.replaceChildren(...[...whole, ...single].map((sheet) => this.#row(sheet)));
    this.element.querySelector("a")?.focus({ preventScroll: true });
  }

  clear() {
    for (const url of this.urls) URL.revokeObjectURL(url);
    this.urls = [];
    this.element.replaceChildren();
  }

  /** @param {Sheet} sheet */
  #row({ name, type, purpose, bytes }) {
    const file = new File([bytes], name, { type });
    const url = URL.createObjectURL(file);
    this.urls.push(url);
    const all = purpose === "everything";
    return make(
      "li",
      { class: "file-row" },
      make(
        "a",
        { help: "kind-file", href: url, download: name, class: all ? "file file-all" : "file" },
        icon("save"),
        make(
          "span",
          { class: "file-words" },
          make("span", {}, name),
          make("small", { class: "soft" }, `${say(/** @type {Key} */ (`sheet.${purpose}`))} · ${size(bytes.byteLength)}`),
        ),
      ),
      shares(file) ? shareButton(file) : null,
    );
  }
}

/** @param {File} file */
function shareButton(file) {
  const name = say("take.share", { name: file.name });
  return make(
    "button",
    {
      help: "kind-share",
      type: "button",
      class: "button-icon",
      "aria-label": name,
      title: name,
      onclick: () => void share(file),
    },
    icon("share"),
  );
}

/** @param {number} bytes */
function size(bytes) {
  return bytes < 100_000 ? `${Math.ceil(bytes / 1000)} kB` : `${megabytes(bytes)} MB`;
}
