// Keeps the page for the days without a network. A new version is kept when there is
// one again, and shown the next time.
const kept = "page-{{version}}";
const files = ["./", "index.html", "page.webmanifest", "icon.svg"];

self.addEventListener("install", e => e.waitUntil(
	caches.open(kept).then(c => c.addAll(files)).then(() => self.skipWaiting())));

self.addEventListener("activate", e => e.waitUntil(
	caches.keys().then(names => Promise.all(names.filter(n => n.startsWith("page-") && n !== kept).map(n => caches.delete(n))))
		.then(() => self.clients.claim())));

self.addEventListener("fetch", e => e.respondWith(
	caches.open(kept).then(c => c.match(e.request, {ignoreSearch: true})).then(hit => hit || fetch(e.request))));
