import { recall, remember } from "../basics/memory.js";

const ASKED = "peekpaper-asked-to-persist";
/** Some browsers put the question to the person: not more often than this. */
const AGAIN_MS = 24 * 60 * 60 * 1000;

/** @returns {Promise<boolean>} whether the browser promised not to clear what is kept here by itself */
export async function persists() {
  return (await navigator.storage?.persisted?.().catch(() => false)) ?? false;
}

/** Asks the browser to keep what is here until the person clears it. */
export async function askToPersist() {
  if (await persists()) return;
  if (Date.now() - Number(recall(ASKED)) < AGAIN_MS) return;
  remember(ASKED, String(Date.now()));
  await navigator.storage?.persist?.().catch(() => false);
}
