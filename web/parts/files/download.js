/**
 * Saves a file to the device.
 *
 * @param {string} name
 * @param {Blob} blob
 */
export function download(name, blob) {
  const url = URL.createObjectURL(blob);
  const anchor = document.createElement("a");
  anchor.href = url;
  anchor.download = name;
  anchor.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
