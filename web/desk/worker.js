/**
 * The worker that answers all calls but those of packing: loads the runtime from the site's own folder and opens the
 * package's desk. Besides what `answerCalls` tells, it tells `{kind: "loading", ...}`.
 */

import { answerCalls } from "./answering.js";
import { loadDesk } from "./loading.js";

answerCalls(
  loadDesk(new URL("../runtime/", import.meta.url), (progress) => postMessage({ kind: "loading", ...progress })),
);
