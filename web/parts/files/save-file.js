import { download } from "./download.js";

/**
 * @typedef {{suggestedName: string, types: {accept: Record<string, string[]>}[]}} PickerChoices
 * @typedef {{showSaveFilePicker?: (choices: PickerChoices) => Promise<FileSystemFileHandle>}} PicksFiles
 * @typedef {{queryPermission?: (mode: {mode: "readwrite"}) => Promise<PermissionState>,
 *   requestPermission?: (mode: {mode: "readwrite"}) => Promise<PermissionState>}} AsksPermission
 */

/**
 * Saves a file to the device: into the one that it was saved in before, else where the person chooses, else where
 * the browser puts what is downloaded.
 *
 * @param {string} name
 * @param {Blob} blob
 * @param {FileSystemFileHandle | null} before
 * @returns {Promise<{handle: FileSystemFileHandle | null} | null>}  null where the person would rather not
 */
export async function saveFile(name, blob, before) {
  if (before && endingOf(before.name) === endingOf(name) && (await written(before, blob))) return { handle: before };
  const { showSaveFilePicker } = /** @type {PicksFiles} */ (window);
  if (showSaveFilePicker) {
    const type = blob.type || "application/octet-stream";
    const choices = { suggestedName: name, types: [{ accept: { [type]: [endingOf(name)] } }] };
    try {
      const handle = await showSaveFilePicker.call(window, choices);
      if (await written(handle, blob)) return { handle };
    } catch (error) {
      // Anything else: such as too long after the tap for the browser to ask, or not allowed in this frame.
      if (error instanceof DOMException && error.name === "AbortError") return null;
    }
  }
  download(name, blob);
  return { handle: null };
}

/**
 * @param {FileSystemFileHandle} handle
 * @param {Blob} blob
 * @returns {Promise<boolean>} whether the file could be written
 */
async function written(handle, blob) {
  try {
    const asks = /** @type {AsksPermission} */ (/** @type {unknown} */ (handle));
    const state = (await asks.queryPermission?.({ mode: "readwrite" })) ?? "granted";
    if (state !== "granted" && (await asks.requestPermission?.({ mode: "readwrite" })) !== "granted") return false;
    const target = await handle.createWritable();
    await target.write(blob);
    await target.close();
    return true;
  } catch {
    return false;
  }
}

/** @param {string} name */
function endingOf(name) {
  return `.${name.split(".").at(-1) ?? ""}`;
}
