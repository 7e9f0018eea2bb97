// Reading on without a connection, a service worker: where the server is out of reach it shows the scripts that were
// opened on this device, as they were then, and says so. What came is kept apart for each reader; who else comes here
// finds nothing of it (`offline.js`), and at sign-out the browser is told to drop it.

const worker = /** @type {any} */ (globalThis);
const A_SCRIPT = /^\/p\/[^/]+\/drafts\/\d+\/script\/$/;
const CURRENT = /^\/p\/[^/]+\/script\/$/;
const FILES = ["font", "image", "script", "style"];

const keptFor = (reader) => `scripts-of-${reader}`;

/** Keep a script that came, for the reader that it came to. */
async function keep(path, response) {
  const reader = response.headers.get("Kept-For");
  if (!reader || !response.ok || response.redirected) return;
  const cache = await caches.open(keptFor(reader));
  await cache.put(path, response);
}

/** The one thing that is kept here; nothing where two readers have left something. */
async function theCache() {
  const names = await caches.keys();
  return names.length === 1 ? caches.open(names[0]) : null;
}

async function keptScript(path) {
  const cache = await theCache();
  const addresses = ((await cache?.keys()) ?? [])
    .map(({ url }) => new URL(url).pathname)
    .filter((each) => A_SCRIPT.test(each));
  if (CURRENT.test(path)) {
    const latest = addresses
      .filter((each) => each.startsWith(path.replace(/script\/$/, "")))
      .sort((one, other) => numberIn(one) - numberIn(other))
      .at(-1);
    return latest ? Response.redirect(latest) : Response.error();
  }
  const kept = await cache?.match(path);
  if (!kept) return Response.error();
  const headers = new Headers(kept.headers);
  for (const name of ["Content-Encoding", "Content-Length"]) headers.delete(name);
  return new Response((await kept.text()).replace("<html ", "<html data-offline "), { headers });
}

const numberIn = (address) => Number(/drafts\/(\d+)/.exec(address)[1]);

async function keptFile(request) {
  return (await (await theCache())?.match(request)) ?? Response.error();
}

worker.addEventListener("install", () => worker.skipWaiting());
worker.addEventListener("activate", (event) => event.waitUntil(worker.clients.claim()));
worker.addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== location.origin) return;
  if (FILES.includes(request.destination)) {
    event.respondWith(fetch(request).catch(() => keptFile(request)));
  } else if (request.mode === "navigate" && (A_SCRIPT.test(pathname) || CURRENT.test(pathname))) {
    event.respondWith(
      fetch(request).then(
        (response) => {
          if (A_SCRIPT.test(pathname)) event.waitUntil(keep(pathname, response.clone()));
          return response;
        },
        () => keptScript(pathname),
      ),
    );
  }
});
