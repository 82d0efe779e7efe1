// The service worker: keeps the whole app on the phone, so that it opens without a network. It knows no domain and no
// data; the books are the worker's.
//
// A new version waits until the page says so: the page asks when no brew is running and the person agrees, or the next
// start, with no page open, takes it by itself.

import { cleanupOutdatedCaches, createHandlerBoundToURL, precacheAndRoute, type PrecacheEntry } from "workbox-precaching";
import { NavigationRoute, registerRoute } from "workbox-routing";

declare const self: ServiceWorkerGlobalScope & { __WB_MANIFEST: PrecacheEntry[] };

cleanupOutdatedCaches();
precacheAndRoute(self.__WB_MANIFEST);

// every screen has its own address, and all of them are the one page; what the server itself answers stays its own
registerRoute(
  new NavigationRoute(createHandlerBoundToURL("/index.html"), { denylist: [/^\/(healthz|readyz|metrics|socket|token)\b/] }),
);

self.addEventListener("message", ({ data }) => {
  if (data?.type === "take-over-now") void self.skipWaiting();
});

self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
