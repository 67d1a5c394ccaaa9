import { Refusal, Unfetched } from "./refusal.js";
import { sayMessage } from "./messages.js";
import { say } from "./words.js";

/**
 * What to tell of an error: a refusal's own sentence; for anything else, that it is our fault. What a library says of
 * its insides tells a person nothing.
 *
 * @param {unknown} error
 * @param {string} [unit]  in which its lengths are told
 */
export function sentenceOf(error, unit = "mm") {
  if (error instanceof Refusal) return sayMessage(error.said, unit);
  if (error instanceof Unfetched) return say("fault.unfetched");
  return say("fault.sentence");
}
