/** A worker that packs papers alone: it loads no more of the runtime than that takes. */

import { answerCalls } from "./answering.js";
import { loadPacker } from "./loading.js";

answerCalls(loadPacker(new URL("../runtime/", import.meta.url)));
