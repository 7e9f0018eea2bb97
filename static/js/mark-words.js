// Words chosen on the page, marked for a department without leaving it.

import { focusLine, say } from "./choice.js";
import { quoteOf } from "./script-lines.js";

const button = /** @type {HTMLElement | null} */ (document.querySelector("[data-choice-mark]"));
const dialog = /** @type {HTMLDialogElement | null} */ (document.querySelector("[data-mark-dialog]"));

const LONGEST = 80; // characters: what a mark may have
let words = "";

/** The words of a choice that is a part of one line, "" for any other. */
function wordsOf(span) {
  if (span.from !== span.to || span.fromChar === null) return "";
  const chosen = quoteOf(span)
    .replace(/\s+/g, " ")
    .replace(/^[^\p{L}\p{N}]+|[^\p{L}\p{N}]+$/gu, "");
  return chosen.length <= LONGEST ? chosen : "";
}

async function open() {
  try {
    await htmx.ajax("get", `${dialog.dataset.address}?words=${encodeURIComponent(words)}`, {
      target: dialog,
      swap: "innerHTML",
    });
  } catch {
    // told below, as any answer that is none
  }
  if (!dialog.querySelector("form")) {
    say("The form did not come. Check the connection and try again.");
    return;
  }
  dialog.showModal();
}

if (button && dialog) {
  document.addEventListener("lines:chosen", (event) => {
    words = wordsOf(/** @type {CustomEvent} */ (event).detail.span);
    button.hidden = !words;
  });
  button.addEventListener("click", open);
  dialog.addEventListener("click", (event) => {
    const target = /** @type {HTMLElement} */ (event.target);
    if (target === dialog || target.closest("[data-close]")) dialog.close();
  });
  dialog.addEventListener("htmx:afterSwap", () => {
    /** @type {HTMLElement | null} */ (dialog.querySelector("[role=status], [aria-invalid=true]"))?.focus();
  });
  dialog.addEventListener("close", () => {
    dialog.replaceChildren();
    focusLine();
  });
}
