// The lines a reader has chosen: by dragging over text, by tapping lines, or by the keyboard, one line at a time.

import {
  elementsOf,
  isHeading,
  lineAt,
  lineElement,
  lines,
  namesOf,
  numberOf,
  pages,
  quoteOf,
  spanOfLines,
  spanOfRange,
  wash,
  wordsIn,
} from "./script-lines.js";

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
  document.dispatchEvent(new CustomEvent("lines:chosen", { detail: { span } })); // others have buttons in the bar too
  placeBar(elements[elements.length - 1]);
}

/** Level with the end of the choice, at the paper's edge; a phone's style sheet keeps it at the foot of the screen. */
function placeBar(last) {
  if (!last) return;
  const box = last.getBoundingClientRect();
  const paper = last.closest(".paper").getBoundingClientRect();
  const around = bar.offsetParent?.getBoundingClientRect() ?? { top: 0, left: 0 };
  bar.style.setProperty("--choice-top", `${box.bottom - around.top}px`);
  bar.style.setProperty("--choice-left", `${paper.right - around.left}px`);
  bar.style.setProperty("--choice-width", `${bar.offsetWidth}px`);
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
  const line = lineAt(target);
  if (!line || target.closest("a, button")) return;
  setCurrent(lineElement(numberOf(line)) ?? line);
  if (readSelection()) return;
  if (pointer !== "mouse" && !hadSelection) tap(numberOf(line));
  else choose(null);
});

// A mouse finds the same doors at the line it is over: they move from line to line, and the page stays as it is.

const doors = /** @type {HTMLElement} */ (document.querySelector("[data-line-doors]"));
const sceneDoor = /** @type {HTMLElement} */ (doors.querySelector("[data-door-scene]"));
let over = null;

function openDoors(line) {
  over = line;
  doors.hidden = false;
  if (!doors.offsetParent) return; // no room for them on this screen
  sceneDoor.hidden = !isHeading(line);
  const around = doors.offsetParent.getBoundingClientRect();
  doors.style.setProperty("--doors-top", `${line.getBoundingClientRect().top - around.top}px`);
  doors.style.setProperty("--doors-left", `${line.closest(".paper").getBoundingClientRect().left - around.left}px`);
}

pages.addEventListener("pointerover", (event) => {
  const line = event.pointerType === "mouse" ? lineAt(event.target) : null;
  if (line && line !== over) openDoors(line);
});
pages.addEventListener("pointerleave", (event) => {
  if (doors.contains(/** @type {Node} */ (event.relatedTarget))) return;
  over = null;
  doors.hidden = true;
});
doors.addEventListener("click", (event) => {
  const onScene = /** @type {HTMLElement} */ (event.target).closest("[data-door-scene]");
  setCurrent(lineElement(numberOf(over)) ?? over);
  if (onScene) leaveOnScene(numberOf(over));
  else leaveOn(numberOf(over));
});

function leaveOn(number) {
  if (!chosen || number < chosen.from || number > chosen.to) choose(spanOfLines(number, number));
  openForm(chosen);
}

function leaveOnScene(number) {
  openForm({ ...spanOfLines(number, number), about: "scene" });
}

// The keyboard: one line of the script has the focus, arrows move it, Shift and arrows make the choice reach further.

const firsts = lines.filter((line) => line.id);
for (const line of firsts) line.tabIndex = -1;
let current = firsts[0];
if (current) current.tabIndex = 0;
for (const door of /** @type {NodeListOf<HTMLElement>} */ (pages.querySelectorAll(".doors a"))) door.tabIndex = -1;

/** Put the keyboard on a line. */
function setCurrent(line) {
  if (current) current.tabIndex = -1;
  current = line;
  current.tabIndex = 0;
  document.dispatchEvent(
    new CustomEvent("lines:reached", { detail: { span: spanOfLines(numberOf(line), numberOf(line)) } }),
  );
}

function neighbour(line, step) {
  return firsts[firsts.indexOf(line) + step];
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

// Within the line, the other two arrows go from word to word, and with Shift the choice takes in more of them.

let held = { number: 0, anchor: 0, head: 0 };

function chooseWords(number, step, reach) {
  const inLine = wordsIn(number);
  if (!inLine.length) return;
  const goesOn = chosen?.fromChar !== null && chosen?.from === number && held.number === number;
  const first = step > 0 ? 0 : inLine.length - 1;
  const head = goesOn ? Math.min(Math.max(held.head + step, 0), inLine.length - 1) : first;
  held = { number, head, anchor: goesOn && reach ? held.anchor : head };
  const [from, to] = [Math.min(held.anchor, head), Math.max(held.anchor, head)];
  choose({ from: number, to: number, fromChar: inLine[from].begin, toChar: inLine[to].end });
  say(`“${quoteOf(chosen)}” chosen. Enter leaves a note.`);
}

function onKey(event) {
  const line = lineAt(event.target);
  if (!line || event.target.closest("a, button") || event.ctrlKey || event.metaKey || event.altKey) return;
  const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  if (step) {
    const next = neighbour(line, step);
    if (next) moveTo(next, event.shiftKey);
  } else if (event.key === "ArrowRight" || event.key === "ArrowLeft") {
    chooseWords(numberOf(line), event.key === "ArrowRight" ? 1 : -1, event.shiftKey);
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
  if (lineAt(target) === target && target !== current) setCurrent(target);
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
