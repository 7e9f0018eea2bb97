// What is kept on this device for reading on without a connection is its reader's alone: whoever else comes to a page, or
// nobody who is signed in, has it dropped. On a script it is kept, by a service worker and here.

const { reader = "" } = document.body.dataset;
const ours = `scripts-of-${reader}`;
const MOST_SCRIPTS = 3;
const script = /** @type {HTMLElement | null} */ (document.querySelector("[data-reading-on]"));

async function dropOthers() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name !== ours).map((name) => caches.delete(name)));
}

/** Keep the script, where no worker did when it came, and the files that it is shown with; older ones go. */
async function keepThis() {
  const cache = await caches.open(ours);
  if (!(await cache.match(location.pathname))) await cache.add(location.pathname);
  const base = new URL("..", import.meta.url).href;
  const files = performance
    .getEntriesByType("resource")
    .map(({ name }) => name)
    .filter((name) => name.startsWith(base));
  for (const file of new Set(files)) if (!(await cache.match(file))) await cache.add(file);
  const kept = (await cache.keys()).map(({ url }) => url);
  const scripts = kept.filter((url) => !url.startsWith(base));
  const past = scripts.slice(0, -MOST_SCRIPTS);
  const old = kept.filter((url) => url.startsWith(base) && !files.includes(url) && scripts.length === 1);
  await Promise.all([...past, ...old].map((url) => cache.delete(url)));
}

async function begin() {
  await dropOthers();
  if (!script || document.documentElement.matches("[data-offline]")) return;
  await navigator.serviceWorker?.register(script.dataset.readingOn);
  await document.fonts.ready;
  await keepThis();
}

if (globalThis.caches) begin().catch(() => {}); // a browser that keeps nothing, or has no room, reads on with a connection

addEventListener("offline", () => document.documentElement.setAttribute("data-offline", ""));
addEventListener("online", () => document.documentElement.removeAttribute("data-offline"));
