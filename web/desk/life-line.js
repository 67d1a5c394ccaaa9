/**
 * How the page learns that the browser ended the worker without a word, as it does where memory is short. The
 * worker holds a lock for as long as it lives, and the page waits for that lock: no clock is asked, so the longest
 * computation is never taken for an end.
 */

/**
 * In the worker: takes a lock that nothing but its end gives back, then tells the lock's name.
 *
 * @param {(lock: string) => void} tell
 */
export function sayAlive(tell) {
  if (!("locks" in navigator)) return;
  const lock = `peekpaper worker ${crypto.randomUUID()}`;
  void navigator.locks.request(lock, () => {
    tell(lock);
    return new Promise(() => {});
  });
}

/**
 * In the page: calls `ended` once the worker that told the lock has ended, unless `signal` was given before.
 *
 * @param {string} lock
 * @param {AbortSignal} signal  the page itself ends the worker
 * @param {() => void} ended
 */
export function waitForEnd(lock, signal, ended) {
  navigator.locks.request(lock, { signal }, () => void (signal.aborted || ended())).catch(() => {});
}
