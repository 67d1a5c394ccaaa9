import { say } from "../words/words.js";

/** @typedef {{name: string, file: Blob}} Brought */

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
   * @param {(names: string[]) => void} leave  tells which files that came along are left
   */
  constructor(take, takePicture, refuse, leave) {
    this.take = take;
    this.takePicture = takePicture;
    this.leave = leave;
    this.refuse = refuse;
    this.input = document.createElement("input");
    this.input.type = "file";
    this.input.addEventListener("change", () => this.#files(this.input.files));
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
    queue?.setConsumer(({ files: [handle, ...others] }) => {
      if (handle) void this.#handedOver(handle);
      this.#leave(others);
    });
    if (location.search !== SHARED || !("caches" in window)) return;
    history.replaceState(history.state, "", location.pathname + location.hash);
    const cache = await caches.open(SHARED_CACHE);
    const [address] = await cache.keys();
    const sent = address && (await cache.match(address));
    if (!sent) return;
    await cache.delete(address);
    const [name = "", ...others] = (sent.headers.get("X-Names") ?? "").split(" ").map(decodeURIComponent);
    const blob = await sent.blob();
    if (sent.headers.has("X-Unread")) this.refuse(name);
    else this.#file(new File([blob], name, { type: blob.type }));
    this.#leave(others.map((other) => ({ name: other })));
  }

  /** @param {FileSystemFileHandle} handle */
  async #handedOver(handle) {
    const file = await handle.getFile().catch(() => null);
    if (file) this.#file(file);
    else this.refuse(handle.name);
  }

  /** @param {DataTransfer | null} data */
  #data(data) {
    if (!data) return;
    if (data.files.length > 0) this.#files(data.files);
    else this.#text(data.getData("text/plain") || data.getData("text/html"));
  }

  /** @param {FileList | null} files */
  #files(files) {
    const [file, ...others] = files ?? [];
    if (!file) return;
    this.#leave(others);
    this.#file(file);
  }

  /** Tells of files that came along, if there are any. @param {readonly {name: string}[]} others */
  #leave(others) {
    if (others.length > 0) this.leave(others.map(({ name }) => name));
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
