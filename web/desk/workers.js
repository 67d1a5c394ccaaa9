/**
 * Starts the workers. The one that answers all calls but those of packing starts with this very module, which the page
 * loads before all others: Python gets ready while they are still on their way.
 */

/** What a worker told before anybody listened, in turn. @typedef {MessageEvent | ErrorEvent} Told */

/** @type {{worker: Worker, told: Told[]} | null} */
let early = started();

/** @returns {Worker} that answers all calls but those of packing; nothing of what it tells is missed */
export function answeringWorker() {
  if (!early) return makeWorker("./worker.js");
  const { worker, told } = early;
  early = null;
  worker.onmessage = worker.onerror = null;
  // Whoever takes the worker listens to it by then.
  queueMicrotask(() => told.forEach((event) => worker.dispatchEvent(again(event))));
  return worker;
}

/** @returns {Worker} */
export function packingWorker() {
  return makeWorker("./packing-worker.js");
}

function started() {
  const worker = makeWorker("./worker.js");
  /** @type {Told[]} */
  const told = [];
  worker.onmessage = (event) => void told.push(event);
  worker.onerror = (event) => {
    event.preventDefault();
    told.push(event);
  };
  return { worker, told };
}

/** @param {Told} event  @returns {Event} the same, once more */
function again(event) {
  return event instanceof MessageEvent
    ? new MessageEvent("message", { data: event.data })
    : new ErrorEvent("error", { message: event.message, cancelable: true });
}

/**
 * Starts a worker from a blob that imports it: such a worker inherits the page's content security policy, one
 * loaded by its address would have none.
 *
 * @param {string} module
 */
function makeWorker(module) {
  const address = new URL(module, import.meta.url).href;
  const blob = new Blob([`import ${JSON.stringify(address)};`], { type: "text/javascript" });
  const url = URL.createObjectURL(blob);
  return new Worker(url, { type: "module" });
}
