/**
 * Fetches the parts of the runtime side by side, counts their bytes as they come, and hands them to Python
 * when it asks: nothing is fetched twice, and the interpreter compiles while the libraries still arrive.
 *
 * `parts.json` beside the built runtime tells each part's name, address, size, SHA-256 and when it is needed.
 */

/** @typedef {{name: string, url: string, bytes: number, sha256: string, when: string}} Part */
/**
 * What stands behind the names of the copies that are fetched, and how they are unpacked; null where files are
 * fetched as they are.
 *
 * @typedef {{ending: string, format: CompressionFormat} | null} Copies
 */
/** @typedef {(bytes: number, total: number) => void} Tell */

export class Parts {
  /** @type {Map<string, Promise<Response>>} */
  #coming = new Map();
  #fetch = globalThis.fetch.bind(globalThis);

  /** Why a part did not come, the first that failed; Python itself only tells what it misses. @type {unknown} */
  trouble = null;

  /**
   * @param {URL} folder  the runtime's folder
   * @param {Part[]} parts
   * @param {Copies} copies
   */
  constructor(folder, parts, copies) {
    this.folder = folder;
    this.parts = parts;
    this.copies = copies;
  }

  /**
   * @param {URL} folder
   * @returns {Promise<Parts>}
   */
  static async listed(folder) {
    const answer = await fetch(new URL("parts.json", folder));
    if (!answer.ok) throw new Error(`parts.json: ${answer.status}`);
    const { parts } = await answer.json();
    const wheel = parts.find((/** @type {Part} */ { url }) => url.endsWith(".whl"));
    return new Parts(folder, parts, await copiesToFetch(new URL(wheel.url, folder)));
  }

  /**
   * @param {string} when
   * @returns {string[]} the names by which Python loads the packages that are needed then
   */
  packages(when) {
    return this.#needed(when).flatMap(({ name, url }) => (url.endsWith(".whl") ? [name] : []));
  }

  /** @param {string} name  of a part  @returns {string} */
  urlOf(name) {
    return this.parts.find((part) => part.name === name)?.url ?? "";
  }

  /**
   * Starts fetching all parts that are needed at a time; from now on `fetch` answers with them, once each.
   *
   * @param {string} when
   * @param {Tell} tell  called with the bytes that are here, and how many there will be
   * @param {(part: Part) => boolean} [isWanted]  where some of them are enough
   * @returns {number} how many there will be
   */
  begin(when, tell, isWanted = () => true) {
    const parts = this.#needed(when).filter(isWanted);
    const total = parts.reduce((sum, { bytes }) => sum + bytes, 0);
    let here = 0;
    const came = (/** @type {number} */ bytes) => tell((here += bytes), total);
    for (const part of parts) {
      const url = new URL(part.url, this.folder).href;
      // Modules are fetched by the browser itself.
      if (url.endsWith(".mjs")) import(url).then(() => came(part.bytes), () => {});
      else {
        const coming = this.#part(part, url, came);
        coming.catch((error) => (this.trouble ??= error));
        this.#coming.set(url, coming);
      }
    }
    globalThis.fetch = (input, init) => {
      const url = new URL(input instanceof Request ? input.url : input, this.folder).href;
      const coming = this.#coming.get(url);
      this.#coming.delete(url);
      return coming ?? this.#fetch(input, init);
    };
    return total;
  }

  /** @param {string} when */
  #needed(when) {
    return this.parts.filter((part) => part.when === when);
  }

  /**
   * @param {Part} part
   * @param {string} url
   * @param {(bytes: number) => void} came
   * @returns {Promise<Response>}
   */
  async #part(part, url, came) {
    const answer = await this.#answer(url);
    if (url.endsWith(".wasm")) {
      // Handed on as it is, so that the browser compiles while it comes and keeps what it compiled.
      count(answer.clone(), came);
      return answer;
    }
    const chunks = [];
    for await (const chunk of pieces(answer)) {
      chunks.push(chunk);
      came(chunk.byteLength);
    }
    const whole = new Blob(chunks);
    await check(part, whole);
    return new Response(whole);
  }

  /** @param {string} url */
  async #answer(url) {
    const { copies } = this;
    // The page's own modules, of which there is little, come before all that.
    const answer = await this.#fetch(url + (copies?.ending ?? ""), { priority: "low" });
    if (!answer.ok && copies) return this.#whole(url);
    if (!answer.ok || !answer.body) throw new Error(`${url.split("/").at(-1)}: ${answer.status}`);
    if (!copies) return answer;
    const type = url.endsWith(".wasm") ? "application/wasm" : "application/octet-stream";
    return new Response(answer.body.pipeThrough(new DecompressionStream(copies.format)), {
      headers: { "Content-Type": type },
    });
  }

  /** @param {string} url  of a part that has no compressed copy */
  async #whole(url) {
    const answer = await this.#fetch(url);
    if (!answer.ok) throw new Error(`${url.split("/").at(-1)}: ${answer.status}`);
    return answer;
  }
}

/**
 * Many a server compresses pages but not wheels, or by gzip alone; then the smallest copies that lie beside them
 * and that this browser unpacks are fetched. The service worker chooses in the same way.
 *
 * @param {URL} wheel
 * @returns {Promise<Copies>}
 */
async function copiesToFetch(wheel) {
  const answer = await fetch(wheel, { method: "HEAD" }).catch(() => null);
  const encoding = answer?.headers.get("Content-Encoding") ?? "";
  if (!answer?.ok || !["", "gzip"].includes(encoding)) return null;
  try {
    const format = /** @type {CompressionFormat} */ ("brotli");
    new DecompressionStream(format);
    return { ending: ".br", format };
  } catch {
    return encoding ? null : { ending: ".gz", format: "gzip" };
  }
}

/** @param {Response} answer */
async function* pieces(answer) {
  const reader = /** @type {ReadableStream<Uint8Array<ArrayBuffer>>} */ (answer.body).getReader();
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return;
    yield value;
  }
}

/**
 * @param {Response} answer
 * @param {(bytes: number) => void} came
 */
async function count(answer, came) {
  try {
    for await (const chunk of pieces(answer)) came(chunk.byteLength);
  } catch {
    // Who compiles the other half of the answer tells of its failure.
  }
}

/**
 * @param {Part} part
 * @param {Blob} whole
 */
async function check(part, whole) {
  // Without a secure address (https, or this very machine) browsers offer no hashes.
  if (!globalThis.crypto?.subtle) return;
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", await whole.arrayBuffer()));
  const found = Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
  if (found !== part.sha256) throw new Error(`${part.url} arrived with another content than the site lists`);
}
