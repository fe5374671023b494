// Keeps what is looked up in the plot readable out of reach: the network first, what was last seen if it does not answer.
const CACHE = `evenpick-${VERSION}`;
const KEPT = ["/", "/pickings", "/diary", "/sowings", "/water", "/ground", "/tin", "/losses", "/when", "/month"];
const PATIENCE = 4000; // ms

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(SHELL)).then(() => self.skipWaiting()));
});
self.addEventListener("activate", (event) => {
  event.waitUntil(caches.keys()
    .then((names) => Promise.all(names.filter((name) => name !== CACHE).map((name) => caches.delete(name))))
    .then(() => self.clients.claim()));
});
self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== self.location.origin) return;
  if (url.pathname.startsWith("/static/")) event.respondWith(first(event.request));
  else if ((KEPT.includes(url.pathname) && !url.search) || url.pathname.startsWith("/charts/")) event.respondWith(fresh(event));
});
async function first(request) {
  return (await caches.match(request)) || fetch(request);
}
async function fresh(event) {
  const cache = await caches.open(CACHE);
  const kept = await cache.match(event.request);
  let old = false; // whether what was last seen is shown
  const asked = fetch(event.request).then(async (answer) => {
    if (answer.status !== 200 || answer.redirected) return answer;
    const put = cache.put(event.request, answer.clone());
    event.waitUntil(put);
    if (old) event.waitUntil(put.then(() => told(event)));
    return answer;
  });
  // a page that asks for itself again wants what is true now, and waits for it
  if (!kept || event.request.mode !== "navigate") return asked.catch((error) => { if (kept) return kept; throw error; });
  const late = new Promise((done) => setTimeout(() => { old = true; done(kept); }, PATIENCE));
  event.waitUntil(asked.catch(() => {}));
  return Promise.race([asked.catch(() => kept), late]);
}
// the page that shows what was last seen is told that there is newer
async function told(event) {
  const page = await self.clients.get(event.resultingClientId);
  if (page) page.postMessage({ newer: new URL(event.request.url).pathname });
}
