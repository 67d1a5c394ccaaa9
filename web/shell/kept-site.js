/**
 * Keeps the site on this device through the service worker, and offers a newer version once it is all here. The
 * page goes on as it is until the person takes the offer or closes every tab of it.
 *
 * @param {(takeIt: () => void) => void} offer  called when a newer version waits; `takeIt` reloads the page with it
 */
export async function keepSite(offer) {
  if (!("serviceWorker" in navigator)) return;
  const { serviceWorker } = navigator;
  const registration = await serviceWorker
    .register("service-worker.js", { updateViaCache: "none" })
    .catch(() => undefined);
  if (!registration) return;
  let { controller } = serviceWorker;
  let taking = false;
  const look = () => {
    const { waiting } = registration;
    if (!waiting || !serviceWorker.controller) return;
    offer(() => {
      taking = true;
      waiting.postMessage("take over");
    });
  };
  look();
  registration.addEventListener("updatefound", () => {
    const coming = registration.installing;
    coming?.addEventListener("statechange", () => coming.state === "installed" && look());
  });
  serviceWorker.addEventListener("controllerchange", () => {
    const before = controller;
    controller = serviceWorker.controller;
    if (taking) location.reload();
    // Another tab took the newer version; this one's parts are gone from the device, so it is offered again.
    else if (before) offer(() => location.reload());
  });
}
