/**
 * The worker that decodes a picture, so that the page does not stand still meanwhile.
 *
 * In: `{file, mostSide}`. Out: `{pixels, width, height, fileWidth, fileHeight}`, or `{failed: true}`.
 */

addEventListener("message", async ({ data: { file, mostSide } }) => {
  try {
    const bitmap = await createImageBitmap(file, { imageOrientation: "from-image" });
    const part = Math.min(1, mostSide / Math.max(bitmap.width, bitmap.height));
    const width = Math.max(1, Math.round(bitmap.width * part));
    const height = Math.max(1, Math.round(bitmap.height * part));
    const context = new OffscreenCanvas(width, height).getContext("2d", { willReadFrequently: true });
    if (!context) throw new Error("no canvas");
    context.imageSmoothingQuality = "high";
    context.drawImage(bitmap, 0, 0, width, height);
    const { data: pixels } = context.getImageData(0, 0, width, height);
    const told = { pixels, width, height, fileWidth: bitmap.width, fileHeight: bitmap.height };
    postMessage(told, { transfer: [pixels.buffer] });
  } catch {
    postMessage({ failed: true });
  }
});
