// The lines a reader has chosen: by dragging over text, by tapping lines, or by the keyboard, one line at a time.

import { elementsOf, lineAt, lineElement, namesOf, numberOf, pages, spanOfLines, spanOfRange, wash } from "./script-lines.js";

const bar = document.querySelector("[data-choice]");
const words = bar.querySelector("[data-choice-words]");
const sceneButton = bar.querySelector("[data-choice-scene]");
const said = document.querySelector("[data-said]");

let chosen = null;
let anchor = null;
let pointer = "mouse";
let hadSelection = false;
let openForm = /** @type {(span: object) => void} */ (() => {});

export function say(sentence) {
  said.textContent = sentence;
}

/** Choose a span of the source, or nothing with null. */
export function choose(span) {
  for (const element of pages.querySelectorAll(".chosen")) element.classList.remove("chosen");
  chosen = span;
  wash("chosen", span ? [span] : []);
  bar.hidden = !span;
  if (!span) return;
  const elements = elementsOf(span.from, span.to);
  for (const element of elements) element.classList.add("chosen");
  words.textContent = namesOf(span);
  sceneButton.hidden = span.from !== span.to || !isHeading(elements[0]);
  placeBar(elements[elements.length - 1]);
}

const isHeading = (line) => Boolean(line?.matches(".k-scene_heading"));

/** Level with the end of the choice, at the paper's edge; a phone's style sheet keeps it at the foot of the screen. */
function placeBar(last) {
  if (!last) return;
  const box = last.getBoundingClientRect();
  const paper = last.closest(".paper").getBoundingClientRect();
  const around = bar.offsetParent?.getBoundingClientRect() ?? { top: 0, left: 0 };
  bar.style.setProperty("--choice-top", `${box.bottom - around.top}px`);
  bar.style.setProperty("--choice-left", `${paper.right - around.left}px`);
}

// Dragging over text, with a mouse or a finger's long press

function readSelection() {
  const selection = document.getSelection();
  if (!selection.rangeCount || selection.isCollapsed) return null;
  const range = selection.getRangeAt(0);
  return pages.contains(range.commonAncestorContainer) ? spanOfRange(range) : null;
}

let reading = 0;
document.addEventListener("selectionchange", () => {
  cancelAnimationFrame(reading);
  reading = requestAnimationFrame(() => {
    const span = readSelection();
    if (span) choose(span);
  });
});

pages.addEventListener("pointerdown", (event) => {
  pointer = event.pointerType;
  hadSelection = readSelection() !== null;
});

// A tap chooses a line, another makes the choice reach it; a tap on the only chosen line lets it go.

function tap(number) {
  anchor = number;
  if (!chosen) choose(spanOfLines(number, number));
  else if (chosen.from === number && chosen.to === number) choose(null);
  else if (number >= chosen.from && number <= chosen.to) choose(spanOfLines(number, number));
  else choose(spanOfLines(Math.min(chosen.from, number), Math.max(chosen.to, number)));
}

pages.addEventListener("click", (event) => {
  const target = /** @type {HTMLElement} */ (event.target);
  const link = target.closest("[data-leave]");
  const line = lineAt(target);
  if (target.closest("[data-leave-scene]") && !event.ctrlKey && !event.metaKey && !event.shiftKey) {
    event.preventDefault();
    leaveOnScene(numberOf(line));
    return;
  }
  if (link && !event.ctrlKey && !event.metaKey && !event.shiftKey) {
    event.preventDefault();
    leaveOn(numberOf(line));
    return;
  }
  if (!line || target.closest("a, button")) return;
  setCurrent(lineElement(numberOf(line)) ?? line);
  if (readSelection()) return;
  if (pointer !== "mouse" && !hadSelection) tap(numberOf(line));
  else choose(null);
});

function leaveOn(number) {
  if (!chosen || number < chosen.from || number > chosen.to) choose(spanOfLines(number, number));
  openForm(chosen);
}

function leaveOnScene(number) {
  openForm({ ...spanOfLines(number, number), about: "scene" });
}

// The keyboard: one line of the script has the focus, arrows move it, Shift and arrows make the choice reach further.

for (const line of pages.querySelectorAll("[id^=L]")) line.tabIndex = -1;
let current = pages.querySelector("[id^=L]");
if (current) current.tabIndex = 0;
for (const link of pages.querySelectorAll("[data-leave], [data-leave-scene]")) link.tabIndex = -1;

function setCurrent(line) {
  if (current) current.tabIndex = -1;
  current = line;
  current.tabIndex = 0;
}

function neighbour(line, step) {
  const lines = [...pages.querySelectorAll("[id^=L]")];
  return lines[lines.indexOf(line) + step];
}

function moveTo(line, reach) {
  const from = numberOf(current);
  setCurrent(line);
  line.focus();
  line.scrollIntoView({ block: "nearest" });
  const to = numberOf(line);
  if (!reach) {
    anchor = null;
    choose(null);
    return;
  }
  anchor ??= from;
  choose(spanOfLines(Math.min(anchor, to), Math.max(anchor, to)));
  say(`${namesOf(chosen)} chosen. Enter leaves a note.`);
}

function onKey(event) {
  const line = event.target.closest("[data-line]");
  if (!line || event.target.closest("a, button") || event.ctrlKey || event.metaKey || event.altKey) return;
  const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  if (step) {
    const next = neighbour(line, step);
    if (next) moveTo(next, event.shiftKey);
  } else if (event.key === "Enter" || event.key.toLowerCase() === "n") {
    leaveOn(numberOf(line));
  } else if (event.key.toLowerCase() === "s" && isHeading(line)) {
    leaveOnScene(numberOf(line));
  } else if (event.key === "Escape" && chosen) {
    anchor = null;
    choose(null);
    say("Nothing chosen.");
  } else {
    return;
  }
  event.preventDefault();
}

pages.addEventListener("keydown", onKey);
pages.addEventListener("focusin", (event) => {
  const target = /** @type {HTMLElement} */ (event.target);
  const line = target.closest("[id^=L]");
  if (line === target && line !== current) setCurrent(line);
});

bar.querySelector("[data-choice-clear]").addEventListener("click", () => {
  document.getSelection().removeAllRanges();
  anchor = null;
  choose(null);
  current?.focus({ preventScroll: true });
});
bar.querySelector("[data-choice-leave]").addEventListener("click", () => openForm(chosen));
sceneButton.addEventListener("click", () => leaveOnScene(chosen.from));
// Pressing the button must not take away the selection it is about.
bar.addEventListener("pointerdown", (event) => event.preventDefault());

/** Say what to do with the chosen lines when a note is wanted. */
export function onLeave(open) {
  openForm = open;
}

document.querySelector("[data-skip-to-script]")?.addEventListener("click", (event) => {
  if (!current) return;
  event.preventDefault();
  current.focus();
});

/** Give the focus back to the line it was on. */
export function focusLine() {
  current?.focus({ preventScroll: true });
}

addEventListener("resize", () => chosen && choose(chosen));
