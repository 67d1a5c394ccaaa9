/**
 * Keeps the whole site on this device, so that it opens without a connection after the first visit.
 *
 * Each version of the site has a cache of its own, filled as a whole from the list of its files and checked
 * against their hashes; a version that does not arrive whole is not taken, and the one before goes on. A newer
 * version waits until every tab is closed, or until the page asks for it.
 */

/** The build writes here the SHA-256 of `files.json`, which tells one version of the site from another. */
const VERSION = "unbuilt";
const PREFIX = "peekpaper ";
const NAME = `${PREFIX}${VERSION}`;
const LIST = "files.json";
/** Where the device's share sheet sends a file, and under which address the page then finds it. */
const SHARED = "shared";
/** More than the page opens of any file, so that it is the page that tells of larger ones. */
const MOST_SHARED = 100;
const MOST_SHARED_BYTES = 2 * 1024 * 1024 * 1024;
const SHARED_CACHE = "shared with peekpaper";

/** @typedef {{path: string, bytes: number, sha256: string}} SiteFile */
/** @typedef {{ending: string, format: CompressionFormat} | null} Copies */
/** @typedef {Event & {waitUntil: (work: Promise<unknown>) => void}} LifeEvent */
/** @typedef {LifeEvent & {request: Request, respondWith: (answer: Promise<Response>) => void}} AskEvent */

const worker = /** @type {{registration: {scope: string}, skipWaiting: () => Promise<void>,
  clients: {claim: () => Promise<void>}, addEventListener: (name: string, hear: (event: any) => void) => void}} */ (
  /** @type {unknown} */ (self)
);
const scope = new URL(worker.registration.scope);

/** The kinds of files that come with packed copies. @type {Record<string, string>} */
const TYPES = {
  html: "text/html; charset=utf-8",
  css: "text/css; charset=utf-8",
  js: "text/javascript; charset=utf-8",
  mjs: "text/javascript; charset=utf-8",
  json: "application/json",
  webmanifest: "application/manifest+json",
  svg: "image/svg+xml",
  txt: "text/plain; charset=utf-8",
  wasm: "application/wasm",
};

/** Fetches that run at the same time while a version comes in. */
const SIDE_BY_SIDE = 4;

worker.addEventListener("install", (/** @type {LifeEvent} */ event) => event.waitUntil(bringIn()));
worker.addEventListener("activate", (/** @type {LifeEvent} */ event) => event.waitUntil(takeOver()));
worker.addEventListener("message", (/** @type {MessageEvent} */ event) => {
  if (event.data === "take over") void worker.skipWaiting();
});
worker.addEventListener("fetch", (/** @type {AskEvent} */ event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method === "POST" && url.href === addressOf(SHARED)) event.respondWith(takeShared(request));
  if (url.origin !== scope.origin || !["GET", "HEAD"].includes(request.method)) return;
  if (url.href.startsWith(scope.href)) event.respondWith(answer(request, url));
});

/**
 * @param {Request} request
 * @param {URL} url
 */
async function answer(request, url) {
  const cache = await caches.open(NAME);
  const kept = await cache.match(addressOf(url.pathname.slice(scope.pathname.length) || "index.html"));
  if (!kept) return fetch(request);
  if (request.method === "GET") return kept;
  // What is kept is unpacked already: who asks whether it comes packed need not look for packed copies.
  return new Response(null, { headers: { "Content-Encoding": "identity" } });
}

/**
 * Keeps the files that the device's share sheet sent until the page has taken them, and opens the page. The device opens the address by itself: what comes from another page, or from a script,
 * is dropped.
 *
 * @param {Request} request
 */
async function takeShared(request) {
  const isSentByDevice = request.mode === "navigate" && request.referrer === "";
  if (!isSentByDevice) return Response.redirect(scope.href, 303);
  const files = (await request.formData()).getAll("file").filter((each) => each instanceof File);
  // What was sent before and never taken is not what is meant now.
  await caches.delete(SHARED_CACHE);
  const cache = await caches.open(SHARED_CACHE);
  for (const [index, file] of files.slice(0, MOST_SHARED).entries()) {
    const keep = (/** @type {Record<string, string>} */ more, /** @type {Blob | null} */ body) =>
      cache.put(addressOf(`${SHARED}/${index}`), new Response(body, { headers: { "X-Name": encodeURIComponent(file.name), ...more } }));
    // Where there is no room for it, the page tells so.
    await keep({}, file.slice(0, MOST_SHARED_BYTES, file.type)).catch(() => keep({ "X-Unread": "1" }, null));
  }
  return Response.redirect(`${scope.href}?${SHARED}`, 303);
}

/** Fills this version's cache: from the caches of earlier versions where a file is the same, else by fetching. */
async function bringIn() {
  const listed = await fetchFresh(LIST);
  const { files } = /** @type {{files: SiteFile[]}} */ (await listed.clone().json());
  const earlier = await earlierFiles();
  const copies = await copiesToFetch(files);
  const cache = await caches.open(NAME);
  const waiting = [...files];
  const bring = async () => {
    for (let file = waiting.pop(); file; file = waiting.pop()) {
      const same = await earlier.get(file.sha256)?.();
      await cache.put(addressOf(file.path), same ?? (await fetchChecked(file, copies)));
    }
  };
  try {
    await Promise.all(Array.from({ length: SIDE_BY_SIDE }, bring));
    await cache.put(addressOf(LIST), listed);
  } catch (error) {
    await caches.delete(NAME);
    throw error;
  }
}

/** @returns {Promise<Map<string, () => Promise<Response | undefined>>>} by SHA-256, the files of earlier versions */
async function earlierFiles() {
  const found = new Map();
  for (const name of await caches.keys()) {
    if (!name.startsWith(PREFIX) || name === NAME) continue;
    const cache = await caches.open(name);
    const list = await cache.match(addressOf(LIST));
    if (!list) continue;
    for (const { path, sha256 } of (await list.json()).files) {
      found.set(sha256, () => cache.match(addressOf(path)));
    }
  }
  return found;
}

async function takeOver() {
  for (const name of await caches.keys()) {
    if (name.startsWith(PREFIX) && name !== NAME) await caches.delete(name);
  }
  await worker.clients.claim();
}

/**
 * @param {SiteFile} file
 * @param {Copies} copies
 */
async function fetchChecked(file, copies) {
  const copy = copies && (await fetchFresh(file.path + copies.ending).catch(() => null));
  const whole = copies && copy?.body ? unpacked(copy, file.path, copies.format) : await fetchFresh(file.path);
  const bytes = await whole.arrayBuffer();
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  const found = Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
  if (found !== file.sha256) throw new Error(`${file.path} arrived with another content than the site lists`);
  return new Response(bytes, { headers: { "Content-Type": whole.headers.get("Content-Type") ?? "" } });
}

/**
 * What the page fetched a moment ago comes from the browser's own cache, once the server says that it holds.
 *
 * @param {string} path
 */
async function fetchFresh(path) {
  const answered = await fetch(addressOf(path), { cache: "no-cache" });
  if (!answered.ok) throw new Error(`${path}: ${answered.status}`);
  return answered;
}

/**
 * Many a server compresses pages but not libraries, or by gzip alone; then the smallest copies beside them that this
 * browser unpacks are fetched, as `runtime/parts.js` does.
 *
 * @param {SiteFile[]} files
 * @returns {Promise<Copies>}
 */
async function copiesToFetch(files) {
  const library = files.find(({ path }) => path.endsWith(".whl"));
  if (!library) return null;
  const encoding = (await fetch(addressOf(library.path), { method: "HEAD" })).headers.get("Content-Encoding") ?? "";
  if (!["", "gzip"].includes(encoding)) return null;
  try {
    const format = /** @type {CompressionFormat} */ ("brotli");
    new DecompressionStream(format);
    return { ending: ".br", format };
  } catch {
    return encoding ? null : { ending: ".gz", format: "gzip" };
  }
}

/**
 * @param {Response} copy
 * @param {string} path
 * @param {CompressionFormat} format
 */
function unpacked(copy, path, format) {
  const type = TYPES[path.split(".").at(-1) ?? ""];
  const body = /** @type {ReadableStream<Uint8Array<ArrayBuffer>>} */ (copy.body);
  return new Response(body.pipeThrough(new DecompressionStream(format)), { headers: { "Content-Type": type ?? "" } });
}

/** @param {string} path */
function addressOf(path) {
  return new URL(path, scope).href;
}
