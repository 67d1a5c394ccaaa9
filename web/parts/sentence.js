import { Refusal, Unfetched } from "../desk/messenger.js";
import { said } from "../words/said.js";
import { say } from "../words/words.js";

/**
 * What to tell of an error: a refusal's own sentence; for anything else, that it is our fault, and its last line
 * for whoever mends it.
 *
 * @param {unknown} error
 */
export function sentenceOf(error) {
  if (error instanceof Refusal) return said(error.message);
  if (error instanceof Unfetched) return say("fault.unfetched");
  console.error(error);
  const text = error instanceof Error ? error.message : String(error);
  return say("fault.sentence", { reason: text.trim().split("\n").at(-1) ?? "" });
}
