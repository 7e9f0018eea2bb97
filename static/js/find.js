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

/** Mark the word in every line that was found to have it, and otherwise in the line that one has gone to. */
function mark() {
  if (!CSS.highlights) return;
  const links = [...found.querySelectorAll("[data-found-line]")];
  const chosen = links.filter((link) => link.hasAttribute("aria-current"));
  highlight("found", links, 0);
  highlight("found-chosen", chosen, 1);
}

function highlight(name, links, priority) {
  const ranges = links.flatMap((link) => rangesOfWord(link.getAttribute("data-found-line"), field.value.trim()));
  CSS.highlights.set(name, Object.assign(new Highlight(...ranges), { priority }));
}
panel.addEventListener("htmx:afterSwap", mark);

panel.addEventListener("click", (event) => {
  const link = /** @type {HTMLElement} */ (event.target).closest("a");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  for (const other of found.querySelectorAll("[aria-current]")) other.removeAttribute("aria-current");
  link.setAttribute("aria-current", "true");
  mark();
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
