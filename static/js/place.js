// Choosing a note's lines by pointing: the first line, then the last; a third choice begins anew.

const lines = document.querySelector(".script-lines");
let first = null;

/** @returns {HTMLInputElement | null} the field of the first or the last line, where the form is on the page */
function field(name) {
  return document.querySelector(`#${name}-line`);
}

function look(from, to) {
  field("first").value = from;
  field("last").value = to;
  document.getElementById("look").click();
}

lines?.addEventListener("click", (event) => {
  const target = /** @type {HTMLElement} */ (event.target);
  const line = Number(target.closest("[data-line]")?.dataset.line);
  if (!line) return;
  event.preventDefault();
  const ends = first !== null && line >= first;
  look(ends ? first : line, line);
  first = ends ? null : line;
});

// The lines that the form holds are marked in the script, however they came there.
function mark() {
  const from = Number(field("first")?.value);
  const to = Number(field("last")?.value) || from;
  for (const item of lines?.querySelectorAll("[data-line]") ?? []) {
    const line = Number(item.dataset.line);
    item.classList.toggle("script-line-chosen", line >= from && line <= to);
  }
}

// Once the lines are chosen their reading is brought into view; between the first and the last, the script stays put.
document.addEventListener("htmx:afterSwap", ({ detail }) => {
  if (detail.requestConfig?.target?.id !== "place-choice" || first !== null) return;
  document.getElementById("place-choice")?.scrollIntoView({ block: "nearest" });
});

document.addEventListener("htmx:load", mark);
mark();
