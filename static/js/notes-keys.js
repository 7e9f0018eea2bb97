// Keys of the notes screen: from note to note, and choosing a decision. They rest while somebody types, and can be put off.

import { keep, kept } from "./kept-text.js";

const OUTCOMES = { a: "accepted", d: "declined", p: "parked" };
const STORED = "fairhand:notes-keys";

let current = null;
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

function notes() {
  return [...document.querySelectorAll("#notes-screen .note")];
}

function currentNote() {
  return document.activeElement?.closest("#notes-screen .note") ?? (current && document.getElementById(current));
}

function goTo(note) {
  if (!note) return;
  current = note.id;
  note.focus({ preventScroll: true });
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  note.scrollIntoView({ block: "center", behavior: calm ? "auto" : "smooth" });
}

function step(by) {
  const all = notes();
  const at = all.indexOf(currentNote());
  goTo(at < 0 ? all[by > 0 ? 0 : all.length - 1] : all[at + by]);
}

function choose(outcome) {
  const note = currentNote() ?? notes()[0];
  const choice = /** @type {HTMLInputElement} */ (note?.querySelector(`.decide-choice[value="${outcome}"]`));
  if (!choice) return;
  const again = choice.closest("details");
  if (again) again.open = true;
  choice.checked = true;
  current = note.id;
  note.querySelector(".decide textarea").focus();
}

function onPlainKey(event) {
  const key = event.key.toLowerCase();
  if (key === "j") step(1);
  else if (key === "k") step(-1);
  else if (OUTCOMES[key]) choose(OUTCOMES[key]);
  else return;
  event.preventDefault();
}

document.addEventListener("keydown", (event) => {
  const target = /** @type {HTMLElement} */ (event.target);
  const form = /** @type {HTMLFormElement} */ (target.closest("form.decide"));
  if (form && event.key === "Enter" && (event.ctrlKey || event.metaKey)) {
    event.preventDefault();
    form.requestSubmit();
  } else if (form && event.key === "Escape") {
    goTo(form.closest(".note"));
  } else if (keysAreOn && !isTyping(target) && !event.ctrlKey && !event.metaKey && !event.altKey) {
    onPlainKey(event);
  }
});

document.addEventListener("change", (event) => {
  const target = /** @type {HTMLInputElement} */ (event.target);
  if (target.id !== "notes-keys-on") return;
  keysAreOn = target.checked;
  keep(STORED, { keys: keysAreOn ? "on" : "off" });
  showSwitch();
});

document.addEventListener("focusin", (event) => {
  const target = /** @type {HTMLElement} */ (event.target);
  current = target.closest("#notes-screen .note")?.id ?? current;
});

document.addEventListener("htmx:load", showSwitch);
showSwitch();
