// Notes beside a paper's paragraphs, level with them where there is room, and a quiet door at each to leave one.

const GAP_PX = 12;
const text = /** @type {HTMLElement} */ (document.querySelector(".paper-text"));
const rows = /** @type {HTMLElement[]} */ ([...text.querySelectorAll(".paper-row")]);
const form = document.getElementById("say");

/** What was said on a paragraph; the style sheet takes it out of the flow where there is room beside the paper.
 * @param {HTMLElement} row */
const beside = (row) => /** @type {HTMLElement} */ (row.querySelector(".paper-beside"));

/** A tall note pushes those behind it down, and no paragraph. */
function level() {
  let free = 0;
  for (const row of rows) {
    const said = beside(row);
    const isOut = getComputedStyle(said).position === "absolute";
    const push = isOut && said.offsetHeight ? Math.max(free - row.offsetTop, 0) : 0;
    said.style.marginBlockStart = `${push}px`;
    if (isOut && said.offsetHeight) free = row.offsetTop + push + said.offsetHeight + GAP_PX;
  }
  text.style.minBlockSize = `${free}px`;
}

/** The form, beside a paragraph.
 * @param {HTMLElement} row */
function show(row) {
  beside(row).append(form);
  form.classList.add("paper-say-open");
  /** @type {HTMLSelectElement} */ (form.querySelector("[name=paragraph]")).value = row.dataset.paragraph;
}

/** @param {HTMLElement} row */
function say(row) {
  show(row);
  form.querySelector("textarea").focus();
}

if (form) {
  for (const row of rows) {
    const door = row.querySelector("button[data-say]");
    /** @type {HTMLElement} */ (door).hidden = false;
    door.addEventListener("click", () => say(row));
    row.addEventListener("click", () => {
      for (const other of rows) other.classList.toggle("paper-row-chosen", other === row);
    });
  }
  const meant = /** @type {HTMLSelectElement} */ (form.querySelector("[name=paragraph]")).value;
  const row = rows.find((each) => each.dataset.paragraph === meant);
  if (row && form.querySelector("[role=alert]:not([hidden])")) say(row);
  else if (form.querySelector("[data-kept-words]:not([hidden])")) show(row ?? rows[0]);
}

const sizes = new ResizeObserver(level);
for (const row of rows) sizes.observe(beside(row));
sizes.observe(text);
level();
