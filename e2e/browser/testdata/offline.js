const files = ["/", "/page.css", "/page.js", "/worker.js"];
addEventListener("install", e => e.waitUntil(caches.open("page").then(c => c.addAll(files)).then(() => skipWaiting())));
addEventListener("activate", e => e.waitUntil(clients.claim()));
addEventListener("fetch", e => {
	if (files.includes(new URL(e.request.url).pathname)) e.respondWith(caches.match(e.request, { ignoreSearch: true }));
});
