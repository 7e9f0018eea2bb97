// Choosing a note's lines by pointing: the first line, then the last; a third choice begins anew.

const lines = document.querySelector(".script-lines");
let first = null;

function look(from, to) {
  document.getElementById("first-line").value = from;
  document.getElementById("last-line").value = to;
  document.getElementById("look").click();
}

lines?.addEventListener("click", (event) => {
  const line = Number(event.target.closest("[data-line]")?.dataset.line);
  if (!line) return;
  event.preventDefault();
  const ends = first !== null && line >= first;
  look(ends ? first : line, line);
  first = ends ? null : line;
});

// The lines that the form holds are marked in the script, however they came there.
function mark() {
  const from = Number(document.getElementById("first-line")?.value);
  const to = Number(document.getElementById("last-line")?.value) || from;
  for (const item of lines?.children ?? []) {
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
