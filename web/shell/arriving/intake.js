import { say } from "../../words/words.js";
import { filesIn, hasFolder } from "./gathered.js";

/** @typedef {{name: string, file: Blob}} Brought */
/** @typedef {{path: string, file: File}} Piece */

/** @typedef {{setConsumer: (take: (launch: {files: readonly FileSystemFileHandle[]}) => void) => void}} LaunchQueue */

/** Kinds of pictures; drawings have kinds that begin alike. */
const PICTURE = /^image\/(?!svg|.*dxf)/;
/** Endings of pictures whose kind not every device tells. */
const PICTURE_NAME = /\.(png|jpe?g|webp|gif|bmp|heic|heif|avif)$/i;

/** How the address tells that the share sheet sent something, and where the service worker keeps it. */
const SHARED = "?shared";
const SHARED_CACHE = "shared with peekpaper";

/** Ways to bring a file in: dropped on the page, pasted into it, picked, or handed over by the device. */
export class Intake {
  /**
   * @param {(brought: Brought) => void} take
   * @param {(picture: File) => void} takePicture  a photo or scan of a paper
   * @param {(name: string) => void} refuse  tells that a file can't be read
   * @param {(files: Promise<readonly Piece[]>) => void} takeAll  of files that came together
   */
  constructor(take, takePicture, refuse, takeAll) {
    this.take = take;
    this.takePicture = takePicture;
    this.takeAll = takeAll;
    this.refuse = refuse;
    this.input = document.createElement("input");
    this.input.type = "file";
    this.input.multiple = true;
    this.input.addEventListener("change", () => this.#files([...(this.input.files ?? [])]));
    const page = document.documentElement;
    addEventListener("dragover", (event) => {
      event.preventDefault();
      page.classList.add("dropping");
    });
    addEventListener("dragleave", (event) => {
      if (event.relatedTarget === null) page.classList.remove("dropping");
    });
    addEventListener("drop", (event) => {
      event.preventDefault();
      page.classList.remove("dropping");
      this.#data(event.dataTransfer);
    });
    addEventListener("paste", (event) => {
      if (event.target instanceof HTMLInputElement || event.target instanceof HTMLTextAreaElement) return;
      this.#data(event.clipboardData);
    });
  }

  /** Asks for a file. */
  pick() {
    this.input.value = "";
    this.input.click();
  }

  /** Takes what the clipboard holds. @returns {Promise<boolean>} whether it held a design */
  async paste() {
    const text = await navigator.clipboard?.readText().catch(() => "");
    return this.#text(text ?? "");
  }

  /** Takes what the device handed over: a file opened with the page, or sent by its share sheet. */
  async receive() {
    const queue = /** @type {{launchQueue?: LaunchQueue}} */ (/** @type {unknown} */ (window)).launchQueue;
    queue?.setConsumer(({ files }) => void this.#handedOver(files));
    if (location.search !== SHARED || !("caches" in window)) return;
    history.replaceState(history.state, "", location.pathname + location.hash);
    const cache = await caches.open(SHARED_CACHE);
    const files = [];
    for (const address of await cache.keys()) {
      const sent = await cache.match(address);
      await cache.delete(address);
      if (!sent) continue;
      const name = decodeURIComponent(sent.headers.get("X-Name") ?? "");
      const blob = await sent.blob();
      if (sent.headers.has("X-Unread")) this.refuse(name);
      else files.push(new File([blob], name, { type: blob.type }));
    }
    this.#files(files);
  }

  /** @param {readonly FileSystemFileHandle[]} handles */
  async #handedOver(handles) {
    const files = [];
    for (const handle of handles) {
      const file = await handle.getFile().catch(() => null);
      if (file) files.push(file);
      else this.refuse(handle.name);
    }
    this.#files(files);
  }

  /** @param {DataTransfer | null} data */
  #data(data) {
    if (!data) return;
    if (data.files.length > 1 || hasFolder(data)) this.takeAll(filesIn(data));
    else if (data.files.length > 0) this.#files([...data.files]);
    else this.#text(data.getData("text/plain") || data.getData("text/html"));
  }

  /** @param {readonly File[]} files */
  #files(files) {
    const [file] = files;
    if (files.length > 1) this.takeAll(Promise.resolve(files.map((each) => ({ path: each.name, file: each }))));
    else if (file) this.#file(file);
  }

  /** @param {File} file */
  #file(file) {
    if (PICTURE.test(file.type) || PICTURE_NAME.test(file.name)) {
      this.takePicture(file);
      return;
    }
    this.take({ name: file.name, file });
  }

  /** @param {string} text */
  #text(text) {
    if (!/<svg[\s>]/i.test(text)) return false;
    const start = text.search(/<(\?xml|!doctype|svg)/i);
    this.take({ name: say("menu.paste"), file: new Blob([text.slice(start)]) });
    return true;
  }
}
