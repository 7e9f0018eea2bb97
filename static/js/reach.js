// What is at hand anywhere in the script: where one is, the scenes, the notes before and behind, and which are shown.

import { show, shownMarks } from "./marks.js";
import { leafOf, lineElement } from "./script-lines.js";
import { goTo, leafInView, leave, leaves, lineOneIsAt } from "./where.js";

const bar = document.querySelector("[data-reach]");
const nameOfPage = bar.querySelector("[data-reach-page]");
const scenes = /** @type {HTMLElement} */ (document.querySelector("[data-scenes]"));
const last = leaves.at(-1)?.dataset.page;
const pageCount = leaves.filter((leaf) => leaf.dataset.page !== "title").length; // with a page 2A, more than the last one's label

// The page being read, and its scene in the list

const sceneLinks = [...scenes.querySelectorAll("a")];
const headings = sceneLinks.map((link) => document.getElementById(link.hash.slice(1)));

/** @type {Map<HTMLElement, number>} the ordinal of the last scene that begins on or before a page */
const sceneOfLeaf = new Map();
let passed = -1;
for (const leaf of leaves) {
  while (headings[passed + 1] && leafOf(headings[passed + 1]) === leaf) passed += 1;
  sceneOfLeaf.set(leaf, passed);
}

function sceneInView(leaf) {
  let scene = sceneOfLeaf.get(leaf) ?? -1;
  const third = innerHeight / 3;
  while (scene > 0 && leafOf(headings[scene]) === leaf && headings[scene].getBoundingClientRect().top > third)
    scene -= 1;
  return Math.max(scene, 0);
}

let named = "";

function tellPlace() {
  const leaf = leafInView();
  if (!leaf) return;
  const name = leaf.dataset.page;
  const here = sceneLinks[sceneInView(leaf)]; // read before anything is written: the page is then laid out once
  if (name !== named) nameOfPage.replaceChildren(name === "title" ? "Title page" : pageOf(name));
  named = name;
  if (!here || here.hasAttribute("aria-current")) return;
  for (const link of scenes.querySelectorAll("[aria-current]")) link.removeAttribute("aria-current");
  here.setAttribute("aria-current", "true");
  if (!scenes.matches(":popover-open")) scenes.scrollTop = here.offsetTop - scenes.clientHeight / 2;
}

function pageOf(name) {
  const words = document.createElement("span");
  words.className = "reach-word";
  words.textContent = "Page ";
  const counted = document.createDocumentFragment();
  counted.append(words, `${name} of ${pageCount}`);
  return counted;
}

let telling = 0;
addEventListener(
  "scroll",
  () => {
    cancelAnimationFrame(telling);
    telling = requestAnimationFrame(tellPlace);
  },
  { passive: true },
);
telling = requestAnimationFrame(tellPlace);

// The scene list is laid over the page on a phone: going to a scene puts it away.

scenes.addEventListener("click", (event) => {
  if (/** @type {HTMLElement} */ (event.target).closest("a") && scenes.matches(":popover-open")) scenes.hidePopover();
});

// To a page, and from scene to scene

const jump = /** @type {HTMLFormElement} */ (scenes.querySelector("[data-jump]"));
const wrong = /** @type {HTMLElement} */ (jump.querySelector("[data-jump-error]"));
jump.addEventListener("submit", (event) => {
  event.preventDefault();
  const wanted = String(new FormData(jump).get("page")).trim().toUpperCase();
  const leaf = leaves.find((each) => each.dataset.page.toUpperCase() === wanted);
  wrong.hidden = Boolean(leaf);
  if (!leaf) {
    wrong.textContent = `There is no page ${wanted || "without a number"}: the last is ${last}.`;
    return;
  }
  if (scenes.matches(":popover-open")) scenes.hidePopover();
  goTo(leaf);
});
scenes.addEventListener("click", (event) => {
  const button = /** @type {HTMLElement} */ (event.target).closest("[data-step-scene]");
  if (!(button instanceof HTMLElement)) return;
  const heading = headings[sceneInView(leafInView()) + Number(button.dataset.stepScene)];
  if (heading) goTo(heading);
});

// From note to note

let stood = null;
function step(by, from) {
  const notes = shownMarks();
  if (!notes.length) return;
  const line = lineOneIsAt();
  const here = line ? Number(line.id.slice(1)) : 0;
  let at = notes.findIndex((note) => note.id === stood);
  const isStill =
    at >= 0 && Math.abs(lineElement(notes[at].beside).getBoundingClientRect().top - innerHeight / 2) < innerHeight;
  if (isStill) at += by;
  else at = notes.filter((note) => note.beside < here).length + Math.min(by, 0);
  const note = notes[(at + notes.length) % notes.length];
  stood = note.id;
  leave();
  document.dispatchEvent(new CustomEvent("note:go", { detail: { id: note.id, from } }));
}

const steps = /** @type {HTMLElement} */ (bar.querySelector("[data-reach-notes]"));
steps.hidden = !shownMarks().length;
document.addEventListener("click", (event) => {
  const button = /** @type {HTMLElement} */ (event.target).closest("[data-step-note]");
  if (button instanceof HTMLElement) step(Number(button.dataset.stepNote), button);
});
document.addEventListener("marks:changed", () => {
  steps.hidden = !shownMarks().length;
});

// Which notes are shown: the page stays, and so does the address of what is shown

bar.addEventListener("click", (event) => {
  const link = /** @type {HTMLElement} */ (event.target).closest("[data-showing]");
  if (!(link instanceof HTMLAnchorElement) || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  for (const other of bar.querySelectorAll("[data-showing]")) {
    if (other.getAttribute("data-showing") === link.dataset.showing) other.setAttribute("aria-current", "true");
    else other.removeAttribute("aria-current");
  }
  history.replaceState(history.state, "", link.dataset.showing === "all" ? location.pathname : link.href);
  show(link.dataset.showing);
});
