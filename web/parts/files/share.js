/** @param {File} file  @returns {boolean} whether this device can hand such a file to another app */
export function shares(file) {
  return "canShare" in navigator && navigator.canShare({ files: [file] });
}

/** @param {File} file */
export function share(file) {
  // Rejected where the person closes the share sheet: nothing to tell.
  return navigator.share({ files: [file], title: file.name }).catch(() => {});
}
