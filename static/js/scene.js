// Writing a scene: what is typed is saved as it comes, and kept on this device until the server has it.

import { forget, keep, kept } from "./kept-text.js";

const PAUSE_MS = 1000;
const AGAIN_MS = 8000;
const RESTS_MS = 3000; // after the last save: then pages and numbers follow what others did meanwhile

const form = /** @type {HTMLFormElement} */ (document.querySelector("[data-scene-form]"));
const area = form.querySelector("textarea");
const state = form.querySelector("[data-state]");
const wrong = form.querySelector("[data-not-saved]");
const keptName = form.dataset.keepAs;
const keptForLater = `${keptName}:later`; // words kept before, while others stand in the field

let saved = isStopped() ? null : area.defaultValue; // null: what stands here is another's text on the server
let seen = isStopped() ? versionBefore() : seenNow(); // the version that the words here were made from
let sent = null;
let timer = 0;
let restTimer = 0;

function clock() {
  return new Date().toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
}

/** @returns {HTMLInputElement} the version on the server that this page has seen; another takes its place with each save */
function seenField() {
  return form.querySelector("[name=seen]");
}

function seenNow() {
  return seenField().value;
}

function versionBefore() {
  return String(Number(form.querySelector("[data-stop]").dataset.stop) - 1);
}

function isStopped() {
  return form.querySelector("[data-stop]") !== null;
}

function say(words) {
  state.textContent = words;
}

function saveSoon(pause = PAUSE_MS) {
  clearTimeout(timer);
  timer = setTimeout(saveNow, pause);
}

function saveNow() {
  clearTimeout(timer);
  if (sent !== null || isStopped() || area.value === saved) return;
  sent = area.value;
  say("Saving …");
  htmx.trigger(form, "save-now");
}

function restSoon() {
  clearTimeout(restTimer);
  restTimer = setTimeout(() => htmx.trigger(area, "typing-rests"), RESTS_MS);
}

function keepWords() {
  if (area.value !== saved) keep(keptName, { text: area.value, seen });
}

function takeIn() {
  clearTimeout(restTimer);
  if (area.value === saved) {
    clearTimeout(timer);
    forget(keptName);
    say("Nothing to save");
    return;
  }
  keepWords();
  say(isStopped() ? "Not saved: choose above" : "Not saved yet");
  saveSoon();
}

area.addEventListener("input", takeIn);

function notSaved(words) {
  keepWords();
  say("Not saved");
  wrong.textContent = `${words} Your words are kept on this device.`;
  wrong.hidden = false;
}

form.addEventListener("htmx:afterRequest", ({ detail }) => {
  if (detail.elt !== form) return;
  const { xhr } = detail;
  const tried = sent;
  sent = null;
  if (xhr.status === 200 && new URL(xhr.responseURL).pathname === location.pathname) {
    saved = tried;
    seen = seenNow();
    wrong.hidden = true;
    if (area.value === saved) forget(keptName);
    say(area.value === saved ? `Saved ${clock()}` : "Not saved yet");
    if (area.value !== saved) saveSoon();
    else restSoon();
  } else if (xhr.status === 409) {
    say("Not saved: choose above");
    form.querySelector("[data-stop]")?.focus();
  } else if (xhr.status === 0) {
    notSaved("No connection: it is tried again by itself.");
    saveSoon(AGAIN_MS);
  } else if (xhr.status >= 500) {
    notSaved("The server had trouble: it is tried again by itself.");
    saveSoon(AGAIN_MS);
  } else {
    notSaved("This page is older than your last sign-in, or is open to you no more. Open it anew in another tab.");
  }
});

// What comes back where the words were not saved is no page of the scene, and takes the place of none.
form.addEventListener("htmx:beforeSwap", ({ detail }) => {
  const asked = detail.requestConfig?.elt;
  if (asked !== form && asked !== area) return;
  const address = new URL(asked.getAttribute("hx-post"), location.href).pathname;
  const isOwn = new URL(detail.xhr.responseURL || location.href).pathname === address;
  detail.shouldSwap = isOwn && (detail.xhr.status === 200 || (asked === form && detail.xhr.status === 409));
});

form.addEventListener("htmx:configRequest", ({ detail }) => {
  if (detail.elt === area && detail.triggeringEvent?.type === "typing-rests") detail.parameters.rests = "1";
});

// The words stay kept while the form is on its way: the page that comes back knows whether they have arrived.
form.addEventListener("submit", () => {
  keepWords();
  saved = area.value;
});

document.addEventListener("keydown", (event) => {
  if (event.key.toLowerCase() !== "s" || !(event.ctrlKey || event.metaKey) || event.altKey) return;
  event.preventDefault();
  saveNow();
});

addEventListener("pagehide", keepWords);

function isAmongTheTexts(words) {
  const texts = [area.value, ...[...document.querySelectorAll("[data-earlier]")].map((text) => text.textContent)];
  return texts.some((text) => text.trim() === words.trim());
}

function putBack() {
  const fields = kept(keptName) ?? kept(keptForLater);
  if (fields?.text === undefined || isStopped()) return;
  if (!kept(keptName)) forget(keptForLater);
  if (isAmongTheTexts(fields.text)) {
    forget(keptName);
    return;
  }
  const notice = form.querySelector("[data-kept-words]");
  const discard = document.createElement("button");
  discard.type = "button";
  discard.className = "link-button";
  discard.textContent = "Discard them";
  discard.addEventListener("click", () => {
    clearTimeout(timer);
    area.value = saved;
    seenField().value = onServer;
    seen = onServer;
    forget(keptName);
    notice.hidden = true;
    say("Nothing to save");
    area.focus();
  });
  const onServer = seenNow();
  seen = fields.seen ?? onServer;
  seenField().value = seen; // so that whoever saved since is not written over
  area.value = fields.text;
  notice.replaceChildren("Words of yours that were not saved are back. ", discard);
  notice.hidden = false;
  keepWords();
  say("Not saved yet");
  saveSoon();
}

// What was typed before this ran stands in the field, and no key will tell of it. Words kept before wait for another time.
function takeInWhatWasTyped() {
  const fields = kept(keptName);
  if (fields?.text !== undefined && !isAmongTheTexts(fields.text)) {
    keep(keptForLater, fields);
    const notice = form.querySelector("[data-kept-words]");
    notice.textContent =
      "Other words of yours that were not saved are kept. They come back when you open this page anew.";
    notice.hidden = false;
  }
  takeIn();
}

function goToLine(line) {
  const lines = area.value.split("\n");
  if (line < 1 || line > lines.length) return;
  const at = lines.slice(0, line - 1).join("\n").length + (line > 1 ? 1 : 0);
  area.focus();
  area.setSelectionRange(at, at + lines[line - 1].length);
  const height = Number.parseFloat(getComputedStyle(area).lineHeight);
  area.scrollTop = Math.max(0, (line - 5) * height);
}

// A wording that a decision took in or out has changed the scene. Words not saved yet meet it when they are saved.
document.addEventListener("words-changed", () => {
  if (area.value === saved && sent === null) location.reload();
});

if (!isStopped() && area.value !== saved) {
  takeInWhatWasTyped();
} else {
  putBack();
  goToLine(Number(form.dataset.line));
}
