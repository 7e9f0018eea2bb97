// In a script that its reader was asked to read: at each scene's end how it was, in one tap; and how long each scene was
// on the screen, which tells the ones that were read.

import { elementsOf, pages } from "./script-lines.js";

const EVERY_MS = 10_000;
const STILL_MS = 120_000; // nobody reads that long without a touch, a key or a scroll: the page was left open

const reading = /** @type {HTMLElement | null} */ (document.querySelector("[data-reading-here]"));

/** The scenes, each by its ordinal, with the elements of its first line and its last. */
const scenes = new Map();

async function bring() {
  const answer = await fetch(reading.dataset.ends, { headers: { "HX-Request": "true" } });
  if (!answer.ok || answer.redirected) return;
  const body = new DOMParser().parseFromString(await answer.text(), "text/html").body;
  for (const end of /** @type {NodeListOf<HTMLElement>} */ (body.querySelectorAll("[data-scene-end]"))) {
    const { scene, from, to } = end.dataset;
    const last = elementsOf(Number(to), Number(to)).at(-1);
    const [first] = elementsOf(Number(from), Number(from));
    if (!first || !last) continue;
    scenes.set(scene, { first, last });
    (last.closest(".side-by-side") ?? last).after(document.adoptNode(end));
    htmx.process(end);
  }
  document.dispatchEvent(new Event("page:reflowed"));
}

// How long each was on the screen: what several shared, each has a part of

let moved = Date.now();
const seconds = new Map();

for (const sign of ["scroll", "pointermove", "pointerdown", "keydown"]) {
  addEventListener(sign, () => (moved = Date.now()), { passive: true });
}

function inView() {
  return [...scenes].filter(([, { first, last }]) => {
    return first.getBoundingClientRect().top < innerHeight && last.getBoundingClientRect().bottom > 0;
  });
}

function count() {
  if (document.visibilityState !== "visible" || Date.now() - moved > STILL_MS) return;
  const seen = inView();
  for (const [scene] of seen) seconds.set(scene, (seconds.get(scene) ?? 0) + 1 / seen.length);
}

function report() {
  const whole = [...seconds].map(([scene, took]) => [scene, Math.floor(took)]).filter(([, took]) => Number(took) > 0);
  if (!whole.length) return;
  const told = new FormData();
  told.set("seconds", JSON.stringify(Object.fromEntries(whole)));
  const token = JSON.parse(document.body.getAttribute("hx-headers"))["X-CSRFToken"];
  for (const [scene, took] of whole) seconds.set(scene, seconds.get(scene) - Number(took));
  fetch(reading.dataset.progress, {
    method: "POST",
    body: told,
    headers: { "X-CSRFToken": token },
    keepalive: true,
  }).catch(() => {
    for (const [scene, took] of whole) seconds.set(scene, seconds.get(scene) + Number(took)); // the next report brings it
  });
}

if (reading && pages) {
  bring().catch(() => {}); // the screen of the reading has the same, scene by scene
  setInterval(count, 1000);
  setInterval(report, EVERY_MS);
  addEventListener("pagehide", report);
  document.addEventListener("visibilitychange", () => document.visibilityState === "hidden" && report());
}
