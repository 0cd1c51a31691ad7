// Answers the desk's addresses with the shell and static files from what install.js verified. It computes nothing, asks
// no page, and decides nothing: which build is in force stands in the database `dewbook`, so it never mixes two.
/* the build writes the desk's addresses in here */
const DESK = [];
const desk = DESK.map((pattern) => new RegExp(pattern));

self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("message", ({ data }) => {
  if (data === "take over") self.skipWaiting(); // said by a page when its person agreed to the new version
});

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== self.location.origin) return;
  if (event.request.mode === "navigate") {
    if (desk.some((pattern) => pattern.test(url.pathname))) event.respondWith(shell(event.request));
  } else if (url.pathname.startsWith("/static/gen/")) {
    event.respondWith(caches.match(event.request).then((kept) => kept ?? fetch(event.request)));
  }
});

/** @param {Request} request */
async function shell(request) {
  const build = await buildInForce().catch(() => undefined);
  const cache = build && (await caches.has(`dewbook-${build}`)) && (await caches.open(`dewbook-${build}`));
  return (cache && (await cache.match("/shell"))) || fetch(request);
}

/**
 * The build that the signed-in person can work with offline, if there is one.
 * @returns {Promise<string | undefined>}
 */
function buildInForce() {
  return new Promise((resolve, reject) => {
    const opening = indexedDB.open("dewbook", 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore("meta");
    opening.onerror = () => reject(opening.error);
    opening.onsuccess = () => {
      const database = opening.result;
      const meta = database.transaction("meta").objectStore("meta");
      const [person, ready] = [meta.get("person"), meta.get("ready")];
      meta.transaction.onabort = () => reject(meta.transaction.error);
      meta.transaction.oncomplete = () => {
        database.close();
        resolve(person.result && ready.result?.person === person.result.id ? ready.result.build : undefined);
      };
    };
  });
}
