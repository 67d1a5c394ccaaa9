/* Runs in any browser, also in one that reads no modules: says so where the page can't work. */
(function () {
  var works =
    "noModule" in document.createElement("script") &&
    typeof WebAssembly === "object" &&
    typeof structuredClone === "function" &&
    typeof Path2D === "function" &&
    "toSorted" in Array.prototype &&
    typeof OffscreenCanvas === "function" &&
    typeof DecompressionStream === "function" &&
    "roundRect" in (window.CanvasRenderingContext2D || function () {}).prototype;
  if (works) return;
  document.addEventListener("DOMContentLoaded", function () {
    var sentence = document.getElementById("too-old");
    if (!sentence) return;
    sentence.textContent =
      "This browser is too old for Peekpaper: update it, or open the page in a current one.";
    sentence.hidden = false;
  });
})();
