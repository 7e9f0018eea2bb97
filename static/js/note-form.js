// The note's form beside the page, and what happens when a note is left.

import { choose, focusLine, onLeave, say } from "./choice.js";
import { forget, kept, keptNames } from "./kept-text.js";
import { bind, keepAll } from "./keep-forms.js";
import { crowd, isWide, sortMargin, watch } from "./margin.js";
import { markerOf, noticeCard } from "./marks.js";
import { lineElement, pages, pagesOf } from "./script-lines.js";

const dialog = /** @type {HTMLDialogElement} */ (document.querySelector("[data-note-dialog]"));
const body = dialog.querySelector("[data-note-dialog-body]");
const narrow = matchMedia("(max-width: 46.49rem)");
const left = document.querySelector("[data-note-left]");
const notice = document.querySelector("[data-kept-notice]");

const KEYBOARD_MS = 350;

function addressFor({ from, fromChar, to, toChar, about }) {
  const query = new URLSearchParams({ from, to });
  if (fromChar !== null && toChar !== null) {
    query.set("from_char", fromChar);
    query.set("to_char", toChar);
  }
  if (about) query.set("about", about);
  return `${dialog.dataset.address}?${query}`;
}

/** Show the form for a note on a span of the source. */
export async function open(span) {
  keepAll();
  left.hidden = true;
  choose(span);
  body.replaceChildren();
  await htmx.ajax("GET", addressFor(span), { target: body, swap: "innerHTML" }).catch(() => {});
  if (!body.childElementCount) {
    say("The form did not come. The lines are still chosen: check the connection and try again.");
    document.querySelector("[data-choice-words]").textContent = "The form did not come. Try again:";
    return;
  }
  if (!body.querySelector("#note-form")) {
    location.assign(addressFor(span)); // signed out meanwhile: the way leads by the sign-in page and back
    return;
  }
  document.querySelector("[data-choice]").hidden = true;
  if (!dialog.open) {
    dialog.show();
    history.pushState({ noteForm: true }, ""); // so that going back closes the form, and not the script
  }
  if (narrow.matches) lineElement(span.from)?.scrollIntoView();
  /** @type {HTMLElement} */ (body.querySelector("textarea[name=body]")).focus();
}

addEventListener("popstate", () => dialog.open && shut());

function close() {
  if (history.state?.noteForm) history.back();
  else shut();
}

function shut() {
  keepAll();
  dialog.close();
  body.replaceChildren();
  choose(null);
  showKept();
  focusLine();
}

dialog.addEventListener("click", (event) => {
  if (/** @type {HTMLElement} */ (event.target).closest("[data-close]")) close();
});
dialog.addEventListener("keydown", (event) => {
  if (event.key === "Escape") {
    event.preventDefault();
    close();
  } else if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) {
    event.preventDefault();
    body.querySelector("form")?.requestSubmit(body.querySelector(".send"));
  } else if (event.key === "Tab") {
    stayInside(event);
  }
});

/** The form is beside the script, which can be read and scrolled meanwhile; the keyboard goes round in the form. */
function stayInside(event) {
  const inside = /** @type {HTMLElement[]} */ ([...dialog.querySelectorAll("button, input:not([type=hidden]), select, textarea, summary, a[href], [tabindex='0']")])
    .filter((element) => element.checkVisibility() && !(/** @type {HTMLInputElement} */ (element).disabled));
  const [first, last] = [inside[0], inside.at(-1)];
  const from = document.activeElement;
  if (!inside.length || (from !== (event.shiftKey ? first : last) && dialog.contains(from))) return;
  event.preventDefault();
  (event.shiftKey ? last : first).focus();
}
// A phone's keyboard takes half the screen: the field typed in stays in what is left of the sheet.

dialog.addEventListener("focusin", (event) => {
  const target = /** @type {HTMLElement} */ (event.target);
  if (!narrow.matches || !target.matches("textarea, input")) return;
  setTimeout(() => target.scrollIntoView({ block: "nearest" }), KEYBOARD_MS);
});

dialog.addEventListener("htmx:load", () => {
  for (const closing of dialog.querySelectorAll("[data-close]")) closing.hidden = false;
});

document.addEventListener("noteLeft", (event) => {
  const card = document.getElementById(`note-${event.detail.note}`);
  dialog.close();
  if (history.state?.noteForm) history.back();
  body.replaceChildren();
  document.getSelection().removeAllRanges();
  choose(null);
  showKept();
  if (!card) return;
  sortMargin(card.closest(".margin"));
  crowd(card.closest(".margin"));
  noticeCard(card);
  watch();
  say("Your note is left.");
  if (!isWide()) {
    showLeft(card);
    return;
  }
  card.focus({ preventScroll: true });
  card.scrollIntoView({ block: "nearest" });
});

// Where the margin is folded away, a line at the foot says that the note is left, and leads to it.

function showLeft(card) {
  left.hidden = false;
  left.querySelector("[data-see-it]").onclick = () => {
    left.hidden = true;
    const marker = /** @type {HTMLElement} */ (markerOf(card.id.slice("note-".length)));
    marker?.scrollIntoView({ block: "center" });
    marker?.click();
  };
  focusLine();
}

pages.addEventListener("click", () => {
  left.hidden = true;
});

document.addEventListener("htmx:afterSettle", (event) => {
  const card = event.detail.elt.closest?.("[data-note]");
  if (!card || !pages.contains(card)) return;
  noticeCard(card);
  watch();
  goOn(event.detail.requestConfig?.path ?? "", card);
});

/** After an act on a note: what happened is said, and the keyboard is where one goes on. */
function goOn(path, card) {
  const goTo = (element, sentence) => {
    if (element) {
      element.tabIndex = -1;
      element.focus({ preventScroll: true });
    }
    say(sentence);
  };
  if (card.querySelector(":scope .field-errors, :scope .message-warning")) return;
  if (path.endsWith("/replies/")) goTo([...card.querySelectorAll(".reply")].at(-1), "Your reply is under the note.");
  else if (path.includes("/replies/")) goTo(card, "Your reply is withdrawn.");
  else if (path.endsWith("/put-back/")) goTo(card, "Your note is back.");
  else if (path.endsWith("/withdraw/")) goTo(card.querySelector(".note-put-back button"), "Your note is withdrawn. It can be put back.");
  else if (path.endsWith("/decision/")) say("Your decision is on the note.");
  else if (path.endsWith("/open-again/")) say("The note is open again.");
}

// Half-written notes of this draft, which wait on this device.

function spanOfName(name) {
  const lines = /:(\d+)\.(\d+)-(\d+)\.(\d+)$/.exec(name);
  if (!lines) return null;
  const [from, fromChar, to, toChar] = lines.slice(1).map(Number);
  return { from, fromChar, to, toChar };
}

function button(words, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "link-button";
  made.textContent = words;
  made.addEventListener("click", act);
  return made;
}

function keptRow(name, span) {
  const row = document.createElement("li");
  const begin = (kept(name)?.body ?? "").trim().split("\n")[0];
  const words = document.createElement("span");
  const short = begin.length > 60 ? `${begin.slice(0, 60)}…` : begin;
  const page = pagesOf(span);
  words.textContent = `Half-written note${page ? ` on ${page}` : ""}${short ? `: “${short}”` : ""}`;
  const discard = button("Discard", () => {
    forget(name);
    showKept();
  });
  row.append(words, " ", button("Go on", () => open(span)), " ", discard);
  return row;
}

function showKept() {
  const rows = keptNames(notice.dataset.keptNotice)
    .map((name) => [name, spanOfName(name)])
    .filter(([, span]) => span)
    .map(([name, span]) => keptRow(name, span));
  notice.replaceChildren(...rows);
  notice.hidden = !rows.length;
}

onLeave(open);
showKept();
bind();
