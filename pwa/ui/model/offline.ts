// The service worker: registered once, after the first paint. A new version waits; it is taken when the person says so and
// nothing is brewing, or by the next start.

import { signal } from "@preact/signals";

/** A new version waits to be used. */
export const updateReady = signal(false);

let waiting: ServiceWorker | undefined;

export async function startOffline(): Promise<void> {
  if (!("serviceWorker" in navigator)) return;
  let registration: ServiceWorkerRegistration;
  try {
    registration = await navigator.serviceWorker.register("/sw.js", { updateViaCache: "none" });
  } catch {
    return; // the server does not answer, or the browser forbids it: the app runs, and the next start tries again
  }
  const look = () => {
    // without a controller this is the first install, and nothing waits for anybody
    if (!registration.waiting || !navigator.serviceWorker.controller) return;
    waiting = registration.waiting;
    updateReady.value = true;
  };
  look();
  registration.addEventListener("updatefound", () => {
    registration.installing?.addEventListener("statechange", look);
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") void registration.update().catch(() => {});
  });
}

export function takeUpdate(): void {
  if (!waiting) return;
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  waiting.postMessage({ type: "take-over-now" });
}
