// The forms of a card come when they are asked for: where one has half-typed words they are asked for at once, and a form
// that somebody opened has the cursor.

import { kept } from "./kept-text.js";

/** Ask for the forms below a node that have half-typed words on this device. */
export function askForKept(root) {
  for (const details of /** @type {NodeListOf<HTMLDetailsElement>} */ (root.querySelectorAll("details[data-keeps]"))) {
    if (kept(details.dataset.keeps)) details.open = true;
  }
}

document.addEventListener("htmx:load", ({ detail }) => {
  askForKept(detail.elt);
  const form = /** @type {HTMLElement} */ (detail.elt).closest("[data-keeps] > form");
  if (!form?.parentElement.contains(document.activeElement)) return;
  /** @type {HTMLElement} */ (form.querySelector("textarea, .decide-choice, button"))?.focus();
});
