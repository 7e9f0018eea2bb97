// The note's form beside the page, and what happens when a note is left.

import { choose, focusLine, onLeave, say } from "./choice.js";
import { onGoOn, showKept } from "./kept-notes.js";
import { bind, keepAll } from "./keep-forms.js";
import { bringIntoView, crowd, isWide, sortMargin, watch } from "./margin.js";
import { prepareWording } from "./wording.js";
import { markerOf, noticeCard } from "./marks.js";
import { addressFor, askFor, blankForm, formFor } from "./note-forms.js";
import { leafOf, lineElement, pages } from "./script-lines.js";

const dialog = /** @type {HTMLDialogElement} */ (document.querySelector("[data-note-dialog]"));
const body = dialog.querySelector("[data-note-dialog-body]");
const narrow = matchMedia("(max-width: 46.49rem)");
const low = matchMedia("(max-height: 34rem)");
const left = document.querySelector("[data-note-left]");

const useButton = document.querySelector("[data-choice-leave]");

const KEYBOARD_MS = 350;
const SOON_MS = 120; // once somebody rests on a line, or has chosen some, the form is asked for: it is there when it is wanted

let asking = 0;
for (const name of /** @type {const} */ (["lines:reached", "lines:chosen"])) {
  document.addEventListener(name, (event) => {
    clearTimeout(asking);
    asking = setTimeout(() => dialog.open || askFor(/** @type {CustomEvent} */ (event).detail.span), SOON_MS);
  });
}

/** What the focus goes back to, where it is not the line that the keyboard is on. @type {HTMLElement | null} */
let opener = null;

/** Show the form for a note on a span of the source, or on lines of a page that are yet to be chosen. */
export async function open(span, from = null) {
  keepAll();
  left.hidden = true;
  opener = from;
  choose(span.page ? null : span);
  body.replaceChildren();
  const html = await formFor(span).catch(() => undefined);
  const plain = html === null ? blankForm(span) : null;
  if (html === undefined || (html === null && !plain)) {
    say(
      `The form did not come. ${span.page ? "Check" : "The lines are still chosen: check"} the connection and try again.`,
    );
    document.querySelector("[data-choice-words]").textContent = "The form did not come. Try again:";
    return;
  }
  if (html === "") {
    location.assign(addressFor(span)); // signed out meanwhile: the way leads by the sign-in page and back
    return;
  }
  if (plain) body.append(plain);
  else body.innerHTML = html;
  htmx.process(body);
  bind(body);
  prepare();
  document.querySelector("[data-choice]").hidden = true;
  if (!dialog.open) {
    dialog.show();
    history.replaceState(history.state, "", location.pathname + location.search); // a place in the address would take the focus
    history.pushState({ noteForm: true }, ""); // so that going back closes the form, and not the script
  }
  if (narrow.matches) lineElement(span.from)?.scrollIntoView();
  goOnIn(body);
}

function prepare() {
  for (const act of /** @type {NodeListOf<HTMLElement>} */ (
    dialog.querySelectorAll("[data-close], .quoted ~ .lines-choice [data-on-page]")
  ))
    act.hidden = false;
  prepareWording(body.querySelector("form"));
}

/** To where one writes, or to the lines where none are chosen yet. */
function goOnIn(form) {
  /** @type {HTMLElement} */ (
    form.querySelector(".lines-choice[open] select") ?? form.querySelector("textarea[name=body]")
  ).focus();
}

// What needs no key of its own, as screen readers keep the arrows: at a page's end a form in which its lines are a list.

pages.addEventListener("click", (event) => {
  const door = /** @type {HTMLElement} */ (
    /** @type {HTMLElement} */ (event.target).closest(".doors a:not(.door-notes)")
  );
  if (!door || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  open({ page: leafOf(door).dataset.page }, door);
});

addEventListener("popstate", () => (dialog.open || aside) && shut());

function close() {
  if (history.state?.noteForm) history.back();
  else shut();
}

function shut() {
  aside = false;
  useButton.textContent = "Leave a note";
  keepAll();
  dialog.close();
  body.replaceChildren();
  choose(null);
  showKept();
  if (opener) opener.focus({ preventScroll: true });
  else focusLine();
}

// Other lines are chosen on the page: the form steps aside meanwhile, and comes back on them with all that was written.
// Who presses a key for them has them in a list as well.

let aside = false;

function stepAside() {
  aside = true;
  keepAll();
  dialog.close();
  useButton.textContent = "Use these lines";
  choose(null);
  say("Choose the lines on the page.");
  focusLine();
}

function comeBack(span) {
  aside = false;
  useButton.textContent = "Leave a note";
  const form = /** @type {HTMLFormElement} */ (body.querySelector("form"));
  const set = (name, value) => {
    const field = /** @type {HTMLSelectElement} */ (form.elements.namedItem(name));
    if (field.options && ![...field.options].some((option) => option.value === value))
      field.add(new Option(value, value));
    field.value = value;
  };
  set("from", String(span.from));
  set("to", String(span.to));
  set("from_char", span.fromChar === null ? "" : String(span.fromChar));
  set("to_char", span.toChar === null ? "" : String(span.toChar));
  set("chosen", `${span.from}-${span.to}`);
  const wording = /** @type {HTMLTextAreaElement | null} */ (form.querySelector("[name=wording]"));
  if (wording?.value === wording?.dataset.begin) wording?.setAttribute("disabled", ""); // it begins anew with the lines
  document.querySelector("[data-choice]").hidden = true;
  dialog.show();
  /** @type {HTMLElement} */ (form.querySelector("[name=look]")).click();
}

dialog.addEventListener("click", (event) => {
  const target = /** @type {HTMLElement} */ (event.target);
  const isPointedAt = event.detail && body.querySelector(".quoted") && target.closest(".lines-choice > summary");
  if (!isPointedAt && !target.closest("[data-on-page]")) return;
  event.preventDefault();
  stepAside();
});

dialog.addEventListener("click", (event) => {
  if (/** @type {HTMLElement} */ (event.target).closest("[data-close]")) close();
});
// A button that was pressed and is disabled meanwhile lets the focus fall to the page: the keys are the form's still.
document.addEventListener("keydown", (event) => {
  const from = document.activeElement;
  if (event.defaultPrevented || !dialog.open || !(dialog.contains(from) || from === document.body)) return;
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
  const inside = /** @type {HTMLElement[]} */ ([
    ...dialog.querySelectorAll("button, input:not([type=hidden]), select, textarea, summary, a[href], [tabindex='0']"),
  ]).filter((element) => element.checkVisibility() && !(/** @type {HTMLInputElement} */ (element).disabled));
  const [first, last] = [inside[0], inside.at(-1)];
  const from = document.activeElement;
  if (!inside.length || (from !== (event.shiftKey ? first : last) && dialog.contains(from))) return;
  event.preventDefault();
  (event.shiftKey ? last : first).focus();
}

// A phone's keyboard takes half the screen: what is typed in stays in view in what is left, the note's words with the kinds.

function keepInView(field) {
  if (!narrow.matches || !field.matches("textarea, input:not([type=radio])")) return;
  if (field.name === "body" && low.matches) body.querySelector(".kinds").scrollIntoView({ block: "start" });
  else field.scrollIntoView({ block: "nearest" });
}

dialog.addEventListener("focusin", ({ target }) => {
  setTimeout(() => keepInView(/** @type {HTMLInputElement} */ (target)), KEYBOARD_MS);
});
addEventListener("resize", () => {
  if (dialog.contains(document.activeElement)) keepInView(/** @type {HTMLInputElement} */ (document.activeElement));
});

dialog.addEventListener("htmx:load", () => {
  prepare();
  if (document.activeElement === document.body) goOnIn(body); // the button that was pressed went with the form before
});

document.addEventListener("noteLeft", (event) => {
  const { note, cameAgain } = event.detail;
  const [card, ...before] = [...document.querySelectorAll(`[id="note-${note}"]`)].reverse();
  for (const older of before) older.remove();
  dialog.close();
  const goesBack = Boolean(history.state?.noteForm);
  if (goesBack) history.back();
  body.replaceChildren();
  document.getSelection().removeAllRanges();
  choose(null);
  showKept();
  if (!card) return;
  sortMargin(card.closest(".margin"));
  crowd(card.closest(".margin"));
  noticeCard(card);
  watch();
  const words = cameAgain ? "You left this note already" : "Your note is left";
  left.querySelector("span").textContent = words;
  say(`${words}.`);
  if (!isWide()) {
    showLeft(card);
    return;
  }
  card.focus({ preventScroll: true });
  bringIntoView(card);
  // A browser that goes back scrolls to where the page was, once it is there.
  if (goesBack) addEventListener("popstate", () => requestAnimationFrame(() => bringIntoView(card)), { once: true });
});

// What waited for the connection has been sent: its card is put in its place.

document.addEventListener("kept:back", showKept);
document.addEventListener("kept:sent", (event) => {
  const { name, html, target } = event.detail;
  const isOpen = dialog.open && body.querySelector("form")?.dataset.keep === name;
  if (isOpen && body.querySelector("form.htmx-request")) return; // its own answer is on its way, and brings the card
  if (isOpen) {
    body.replaceChildren();
    close();
  }
  showKept();
  const card = new DOMParser().parseFromString(html, "text/html").querySelector("[data-note]");
  const margin = target && document.querySelector(target);
  const before = card && document.getElementById(card.id);
  if (card && (before || margin)) {
    const here = document.adoptNode(card);
    if (before) before.replaceWith(here);
    else margin.append(here);
    htmx.process(here);
    bind(here);
    if (here.closest(".margin")) {
      sortMargin(here.closest(".margin"));
      crowd(here.closest(".margin"));
    }
    noticeCard(here);
    watch();
  }
  say("What you wrote without a connection has been sent.");
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
  watch();
  if (event.detail.elt.closest("[data-keeps]")) return; // a form that was asked for, and nothing new
  noticeCard(card);
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
  else if (path.endsWith("/withdraw/"))
    goTo(card.querySelector(".note-put-back button"), "Your note is withdrawn. It can be put back.");
  else if (path.endsWith("/decision/")) say("Your decision is on the note.");
  else if (path.endsWith("/open-again/")) say("The note is open again.");
}

onLeave((span) => (aside && body.childElementCount ? comeBack(span) : open(span)));
onGoOn(open);
showKept();
bind();
