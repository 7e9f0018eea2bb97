// A word found in the script and its notes: going to each place, with the word marked there.

import { lineElement, rangesOfWord } from "./script-lines.js";
import { goTo, leave } from "./where.js";

const panel = /** @type {HTMLElement} */ (document.querySelector("[data-find]"));
const field = /** @type {HTMLInputElement} */ (panel.querySelector("input[name=word]"));
const found = panel.querySelector("#found");
const narrow = matchMedia("(max-width: 69.99rem)");

panel.addEventListener("toggle", (event) => {
  if (/** @type {ToggleEvent} */ (event).newState !== "open") return;
  const chosen = document.getSelection().toString().trim();
  if (chosen && chosen.length < 100 && !chosen.includes("\n")) {
    field.value = chosen;
    htmx.trigger(field.form, "submit");
  }
  field.focus();
  field.select();
});

/** Mark the word in every line that was found to have it. */
function mark() {
  if (!CSS.highlights) return;
  const lines = [...found.querySelectorAll("[data-found-line]")].map((link) => link.getAttribute("data-found-line"));
  const ranges = lines.flatMap((line) => rangesOfWord(line, field.value.trim()));
  if (ranges.length) CSS.highlights.set("found", new Highlight(...ranges));
  else CSS.highlights.delete("found");
}
panel.addEventListener("htmx:afterSwap", mark);

panel.addEventListener("click", (event) => {
  const link = /** @type {HTMLElement} */ (event.target).closest("a");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  for (const other of found.querySelectorAll("[aria-current]")) other.removeAttribute("aria-current");
  link.setAttribute("aria-current", "true");
  if (narrow.matches) panel.hidePopover();
  if (link.dataset.foundNote) {
    leave();
    panel.hidePopover();
    document.dispatchEvent(new CustomEvent("note:go", { detail: { id: link.dataset.foundNote, from: null } }));
    return;
  }
  const line = lineElement(link.dataset.foundLine);
  if (!line) return;
  goTo(line, "center");
  if (narrow.matches) line.focus({ preventScroll: true });
});

// The browser's own key for finding stays the browser's own: the whole script is on the page.
