// Keys of the notes screen: from note to note, deciding, replying, undoing. They rest while somebody types, and can be
// put off.

import { keep, kept } from "./kept-text.js";

const OUTCOMES = { a: "accepted", d: "declined", p: "parked" };
const STORED = "fairhand:notes-keys";

let current = null;
let ledTo = null; // the note that a decision led on to, until somebody goes anywhere from there
let keysAreOn = kept(STORED)?.keys !== "off";

function showSwitch() {
  const keys = document.getElementById("notes-keys");
  if (!keys) return;
  keys.hidden = false;
  const turn = /** @type {HTMLInputElement} */ (document.getElementById("notes-keys-on"));
  turn.checked = keysAreOn;
  keys.classList.toggle("notes-keys-off", !turn.checked);
}

function isTyping(target) {
  return target.closest("textarea, select, [contenteditable], input:not([type='radio'], [type='checkbox'])") !== null;
}

/** @returns {HTMLElement[]} */
function notes() {
  return [...document.querySelectorAll("#notes-screen .note")];
}

/** @returns {HTMLElement | null} */
function currentNote() {
  return document.activeElement?.closest("#notes-screen .note") ?? (current && document.getElementById(current));
}

function goTo(note) {
  if (!note) return;
  current = note.id;
  note.focus({ preventScroll: true });
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  note.scrollIntoView({ block: note.matches(".row") ? "nearest" : "center", behavior: calm ? "auto" : "smooth" });
}

/** To the note behind or before this one: where a decision has led on already, that is the next, and none is skipped. */
function step(by, isLedHere = false) {
  const all = notes();
  const at = all.indexOf(currentNote());
  if (at < 0) goTo(all[by > 0 ? 0 : all.length - 1]);
  else if (isLedHere && by > 0) goTo(all[at]);
  else if (by > 0 && at === all.length - 1) goRound(all);
  else goTo(all[at + by]);
}

/** From the last note to the first that is left to decide; where none is on this page, to the link to the next page. */
function goRound(all) {
  const left = all.find(
    (note) => note.querySelector("[data-undecided]") && !note.parentElement.closest("details:not([open])"),
  );
  if (left) goTo(left);
  else /** @type {HTMLElement} */ (document.querySelector(".notes-pages [rel='next']"))?.focus();
}

/** Unfold whatever stands around something in a note. */
function unfold(inside) {
  for (let around = inside.closest("details"); around; around = around.parentElement.closest("details"))
    around.open = true;
}

/** Choose an outcome in the note's form, and go on with the reason. */
function choose(note, outcome) {
  const choice = /** @type {HTMLInputElement} */ (note?.querySelector(`.decide-choice[value="${outcome}"]`));
  if (!choice) return;
  unfold(choice);
  choice.checked = true;
  current = note.id;
  writeIn(choice.form.querySelector("textarea"));
}

/** Go on in a field, with its form and the button that sends it in view, above the bar at the foot. */
function writeIn(words) {
  words.form.scrollIntoView({ block: "nearest" });
  words.focus();
}

/** Decide at once where nothing has to be written; ask for the words where they are owed. */
function decide(outcome) {
  const note = currentNote() ?? notes()[0];
  const quick = /** @type {HTMLButtonElement} */ (note?.querySelector(`.quick [value="${outcome}"]`));
  if (!quick || "asksForWords" in quick.dataset) choose(note, outcome);
  else quick.click();
}

function reply() {
  const words = /** @type {HTMLTextAreaElement} */ (
    (currentNote() ?? notes()[0])?.querySelector(".reply-form textarea")
  );
  if (!words) return;
  unfold(words);
  writeIn(words);
}

function undo() {
  /** @type {HTMLButtonElement} */ (document.querySelector("[data-undo]"))?.click();
}

const KEYS = { j: (isLedHere) => step(1, isLedHere), k: () => step(-1), r: reply, u: undo };

function onPlainKey(event) {
  const key = event.key.toLowerCase();
  const isLedHere = ledTo !== null && currentNote()?.id === ledTo;
  ledTo = null;
  const fold = event.target.matches(".row") ? event.target.querySelector(".row-fold") : null;
  if (KEYS[key]) KEYS[key](isLedHere);
  else if (OUTCOMES[key]) decide(OUTCOMES[key]);
  else if (key === "enter" && fold) fold.open = !fold.open;
  else return;
  event.preventDefault();
}

document.addEventListener("keydown", (event) => {
  const target = /** @type {HTMLElement} */ (event.target);
  const form = /** @type {HTMLFormElement} */ (target.closest("form.decide, form.reply-form"));
  if (form && event.key === "Escape") {
    goTo(form.closest(".note") ?? form.closest(".alike")?.querySelector(".note"));
  } else if (keysAreOn && !isTyping(target) && !event.ctrlKey && !event.metaKey && !event.altKey) {
    onPlainKey(event);
  }
});

document.addEventListener("notes:led-on", (event) => {
  const { next } = /** @type {CustomEvent} */ (event).detail;
  ledTo = currentNote() === next ? null : next.id;
});

document.addEventListener("click", (event) => {
  const quick = /** @type {HTMLButtonElement} */ (
    /** @type {HTMLElement} */ (event.target).closest(".quick [data-asks-for-words]")
  );
  if (!quick) return;
  event.preventDefault();
  choose(quick.closest(".note"), quick.value);
});

document.addEventListener("change", (event) => {
  const target = /** @type {HTMLInputElement} */ (event.target);
  if (target.id !== "notes-keys-on") return;
  keysAreOn = target.checked;
  keep(STORED, { keys: keysAreOn ? "on" : "off" });
  showSwitch();
});

// The keys say what they do to the note one is at: a question is answered, praise thanked for.

document.addEventListener("focusin", (event) => {
  const note = /** @type {HTMLElement} */ (/** @type {HTMLElement} */ (event.target).closest("#notes-screen .note"));
  if (!note) return;
  current = note.id;
  const says = document.getElementById("notes-keys-accept");
  if (says && note.dataset.accept) says.textContent = note.dataset.accept.toLowerCase();
});

document.addEventListener("htmx:load", showSwitch);
showSwitch();
