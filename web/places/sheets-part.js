import { icon, make } from "../parts/dom.js";
import { say } from "../words/words.js";
import { sentenceOf } from "../parts/sentence.js";

/** @typedef {import("./workroom.js").Workroom} Workroom */
/** @typedef {{name: string, type: string, bytes: Uint8Array}} Sheet */

/** The sheets to take away: written on demand, then each to be saved, or all in one. */
export class SheetsPart {
  /** @param {Workroom} room */
  constructor(room) {
    this.room = room;
    this.writing = false;
    /** @type {string[]} */
    this.urls = [];
    this.button = make(
      "button",
      { type: "button", class: "button-main button-wide", onclick: () => void this.#take() },
      icon("save"),
      say("glue.take"),
    );
    this.status = make("p", { class: "soft", role: "status" });
    this.trouble = make("p", { class: "trouble", role: "alert" });
    this.files = make("ul", { class: "files" });
    this.element = make("section", { class: "part" }, this.button, this.status, this.trouble, this.files);
  }

  update() {
    const { bench } = this.room;
    const ready = bench.planHolds && bench.planning === null;
    this.button.disabled = !ready || this.writing;
    if (this.writing) return;
    if (bench.planning !== null) this.status.textContent = say("glue.plan-first");
    else this.status.textContent = ready ? "" : say("glue.wait");
    if (!ready) this.#clear();
  }

  async #take() {
    const { desk, project } = this.room;
    this.writing = true;
    this.trouble.textContent = "";
    this.#clear();
    this.update();
    try {
      const sheets = await desk.sheets(
        project,
        {},
        ({ name }) => {
          this.status.textContent = say("glue.taking", { name });
        },
        new AbortController().signal,
      );
      this.#list(sheets);
      this.status.textContent = say("glue.taken");
    } catch (error) {
      this.trouble.textContent = sentenceOf(error);
      this.status.textContent = "";
    } finally {
      this.writing = false;
      this.button.disabled = false;
    }
  }

  /** @param {Sheet[]} sheets */
  #list(sheets) {
    const whole = sheets.filter(({ name }) => name.endsWith(".zip"));
    const single = sheets.filter(({ name }) => !name.endsWith(".zip"));
    this.files.replaceChildren(...[...whole, ...single].map((sheet) => this.#file(sheet)));
    this.files.querySelector("a")?.focus();
  }

  /** @param {Sheet} sheet */
  #file({ name, type, bytes }) {
    const url = URL.createObjectURL(new Blob([/** @type {BlobPart} */ (bytes)], { type }));
    this.urls.push(url);
    const zip = name.endsWith(".zip");
    return make(
      "li",
      {},
      make(
        "a",
        { href: url, download: name, class: zip ? "file file-all" : "file" },
        icon("save"),
        make("span", {}, zip ? say("glue.everything") : name),
        make("small", { class: "soft" }, size(bytes.byteLength)),
      ),
    );
  }

  #clear() {
    for (const url of this.urls) URL.revokeObjectURL(url);
    this.urls = [];
    this.files.replaceChildren();
  }
}

/** @param {number} bytes */
function size(bytes) {
  return bytes < 100_000 ? `${Math.ceil(bytes / 1000)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}
