// Where one is in the script: going to a place and back again, and beginning where one last was, on whichever device.

import { isAttended } from "./attention.js";
import { leafOf, lineElement, lines, linesOn, numberOf, pages } from "./script-lines.js";

const TELL_MS = 4000;
const STILL_HERE_MS = 120_000; // others at the page are told of whoever said so within three minutes
const bar = document.querySelector("[data-reach]");
const back = /** @type {HTMLElement} */ (bar.querySelector("[data-back]"));

export const leaves = /** @type {HTMLElement[]} */ ([...pages.querySelectorAll(".leaf")]);

/** The page that reaches to a third of the screen's height. */
export function leafInView() {
  const third = innerHeight / 3;
  let [low, high] = [0, leaves.length - 1];
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (leaves[middle].getBoundingClientRect().top <= third) low = middle;
    else high = middle - 1;
  }
  return leaves[low];
}

/** The first line of the script that is in view below the bar. */
function lineInView() {
  const top = bar.getBoundingClientRect().bottom;
  const leaf = leafInView();
  const near = [leaf?.previousElementSibling, leaf].filter(Boolean).flatMap(linesOn);
  return near.find((line) => line.id && line.getBoundingClientRect().bottom > top);
}

// A line that one was led to stands a little below the bar, with others above it: until one moves on, one is at that line

const STILL_PX = 24;
/** @type {{ line: HTMLElement, top: number } | null} */
let led = null;

const topOf = (line) => line.getBoundingClientRect().top;

/** Bring a line to its place on the screen. */
function leadTo(line, block = /** @type {ScrollLogicalPosition} */ ("start")) {
  line.scrollIntoView({ block });
  led = { line, top: topOf(line) };
}

/** The line of the script that one is at: the one that one was led to, if it has not moved, else the first in view. */
export function lineOneIsAt() {
  const isStill = led?.line.id.startsWith("L") && Math.abs(topOf(led.line) - led.top) < STILL_PX;
  return isStill ? led.line : lineInView();
}

// Back to where one was

let left = null;

/** Remember the place that is left now, so that one can come back to it. */
export function leave() {
  left = lineOneIsAt() ?? left;
  back.hidden = !left;
}

/** Go to a line, to its place at the head of the screen, and keep the way back. */
export function goTo(line, block = /** @type {ScrollLogicalPosition} */ ("start")) {
  leave();
  leadTo(line, block);
}

back.addEventListener("click", () => {
  const to = left;
  leave();
  if (to) leadTo(to);
  to?.focus({ preventScroll: true });
});

document.addEventListener("click", (event) => {
  const link = /** @type {HTMLElement} */ (event.target).closest("a[href^='#L'], a[href^='#page-'], a[href='#gone']");
  if (link) leave();
});

// The line one is at is told to the server while one reads, and when one goes

let told = pages.dataset.lineLeft ? Number(pages.dataset.lineLeft) : null;

/** The page that the reader's line is on, by its first and its last line; null where there is none. */
export function pageInView() {
  const line = lineOneIsAt();
  if (!line) return null;
  const numbers = linesOn(leafOf(line)).map(numberOf);
  return { first: Math.min(...numbers), last: Math.max(...numbers) };
}

function tell({ again = false } = {}) {
  const line = lineOneIsAt();
  const number = line && Number(line.id.slice(1));
  if (!number || (number === told && !again)) return;
  told = number;
  const { "X-CSRFToken": token } = JSON.parse(document.body.getAttribute("hx-headers"));
  const body = new URLSearchParams({ line: String(number), csrfmiddlewaretoken: token });
  fetch(pages.dataset.lineAddress, { method: "POST", body, keepalive: true }).catch(() => {
    told = null;
  });
}

let telling = 0;
addEventListener(
  "scroll",
  () => {
    clearTimeout(telling);
    telling = setTimeout(() => tell({ again: true }), TELL_MS);
  },
  { passive: true },
);
setInterval(() => isAttended(STILL_HERE_MS) && tell({ again: true }), STILL_HERE_MS);
addEventListener("pagehide", () => tell());
document.addEventListener("visibilitychange", () => document.hidden && tell());
setTimeout(tell, TELL_MS);

// A page that is opened anew, at no place of its own, begins where one last was

const [opened] = /** @type {PerformanceNavigationTiming[]} */ (performance.getEntriesByType("navigation"));
const begun = pages.dataset.lineLeft && lineElement(pages.dataset.lineLeft);
if (begun && !location.hash && opened?.type === "navigate" && begun !== lines[0]) leadTo(begun);
