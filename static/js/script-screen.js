// The script screen's own behaviour, on top of a page that reads and posts without it.

import { cardsAt, unfold } from "./margin.js";
import { pages } from "./script-lines.js";
import "./note-form.js";

const narrow = matchMedia("(max-width: 69.99rem)");

// On a phone a marker opens its notes at the foot of the screen; they go back to their page when it closes.

const threads = /** @type {HTMLDialogElement} */ (document.querySelector("[data-threads]"));
const threadsBody = threads.querySelector("[data-threads-body]");
const homes = new Map();
let opener = null;

function openThreads(link) {
  const cards = cardsAt(link);
  for (const card of cards) {
    const home = document.createComment("");
    card.before(home);
    homes.set(home, card.id);
    threadsBody.append(card);
  }
  if (cards.length === 1) unfold(cards[0]);
  opener = link;
  threads.showModal();
}

threads.addEventListener("close", () => {
  for (const [home, id] of homes) {
    const card = document.getElementById(id); // htmx may have put a fresh one in its place
    if (card) home.replaceWith(card);
  }
  homes.clear();
  opener?.focus({ preventScroll: true });
});
threads.addEventListener("click", (event) => {
  const target = /** @type {HTMLElement} */ (event.target);
  if (target === threads || target.closest("[data-close]")) threads.close();
});

pages.addEventListener("click", (event) => {
  const link = /** @type {HTMLElement} */ (event.target).closest(".marker");
  if (!link) return;
  if (!narrow.matches) {
    cardsAt(link).forEach(unfold);
    return;
  }
  event.preventDefault();
  openThreads(link);
});

// A decided note is folded; whoever comes to it by its address finds it open.

const unfoldTarget = () => unfold(document.querySelector("[data-note]:target"));
addEventListener("hashchange", unfoldTarget);
unfoldTarget();

// The scene list is laid over the page on a phone: going to a scene puts it away.

const scenes = document.querySelector("[data-scenes]");
scenes?.addEventListener("click", (event) => {
  if (/** @type {HTMLElement} */ (event.target).closest("a") && scenes.matches(":popover-open")) scenes.hidePopover();
});

// Looking at other notes keeps the place in the script.

const firstInView = () => [...pages.querySelectorAll("[id^=L]")].find((line) => line.getBoundingClientRect().bottom > 80);
for (const link of /** @type {NodeListOf<HTMLAnchorElement>} */ (document.querySelectorAll("[data-keep-place]"))) {
  link.addEventListener("click", () => {
    if (scrollY > 200) link.hash = firstInView()?.id ?? "";
  });
}

// The scene being read is marked in the list.

const sceneLinks = [...(scenes?.querySelectorAll("a") ?? [])];
const headings = sceneLinks.map((link) => document.getElementById(link.hash.slice(1)));

function markScene() {
  const third = innerHeight / 3;
  const passed = headings.findLastIndex((heading) => heading && heading.getBoundingClientRect().top < third);
  const here = sceneLinks[Math.max(passed, 0)];
  if (!here || here.hasAttribute("aria-current")) return;
  for (const link of sceneLinks) link.removeAttribute("aria-current");
  here.setAttribute("aria-current", "true");
  if (!scenes.matches(":popover-open")) scenes.scrollTop = here.offsetTop - scenes.clientHeight / 2;
}

let marking = 0;
addEventListener("scroll", () => {
  cancelAnimationFrame(marking);
  marking = requestAnimationFrame(markScene);
});
markScene();

// On a phone the notes after each page are folded away; the markers open them, and so does a line that counts them.

function fold(margin) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "button margin-fold";
  button.setAttribute("aria-controls", margin.id);
  button.addEventListener("click", () => setFolded(margin, button, !margin.classList.contains("margin-folded")));
  margin.prepend(button);
  setFolded(margin, button, !margin.querySelector(":target"));
}

function setFolded(margin, button, folded) {
  const count = margin.querySelectorAll("[data-note]").length;
  margin.classList.toggle("margin-folded", folded);
  button.setAttribute("aria-expanded", String(!folded));
  button.textContent = folded ? `${count} ${count === 1 ? "note" : "notes"} on this page` : "Fold the notes away";
}

for (const margin of pages.querySelectorAll(".margin")) fold(margin);
document.addEventListener("noteLeft", () => {
  for (const button of pages.querySelectorAll(".margin-fold[aria-expanded=false]")) setFolded(button.parentElement, button, true);
});
if (narrow.matches) document.querySelector(".margin :target")?.scrollIntoView();
