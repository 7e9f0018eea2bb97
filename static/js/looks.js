// How the script looks on this device: the size of its letters, the space between lines, and what is brought forward.

import { forget, keep, kept } from "./kept-text.js";
import { lineElement, lines, pages } from "./script-lines.js";
import { lineOneIsAt } from "./where.js";

const whole = document.querySelector("main");
const panel = document.querySelector("[data-looks]");
const form = /** @type {HTMLFormElement} */ (panel.querySelector("[data-looks-form]"));
const marks = /** @type {HTMLElement} */ (panel.querySelector("[data-looks-marks]"));
const said = panel.querySelector("[data-looks-said]");
const A_YEAR = 60 * 60 * 24 * 365;

form.addEventListener("change", () => {
  const chosen = new FormData(form);
  const [size, leading] = [chosen.get("size"), chosen.get("leading")];
  const place = lineOneIsAt();
  const classes = [...whole.classList].filter((name) => !/^(size|leading)-/.test(name));
  whole.className = [...classes, `size-${size}`, `leading-${leading}`].join(" ");
  document.cookie = `script-looks=${size}.${leading}; path=/; max-age=${A_YEAR}; samesite=lax`;
  place?.scrollIntoView({ block: "start" });
  document.dispatchEvent(new CustomEvent("page:reflowed"));
});

// Lines that are revised since the draft before have the trade's asterisk in the right margin.

marks.hidden = !marks.childElementCount;
const box = /** @type {HTMLInputElement | null} */ (marks.querySelector("[data-changed]"));
let changed = null;

async function changedLines() {
  const answer = await fetch(box.dataset.changed);
  if (!answer.ok || answer.redirected) throw new Error("not told");
  return (await answer.text()).split(" ").filter(Boolean).map(lineElement).filter(Boolean);
}

box?.addEventListener("change", async () => {
  said.textContent = box.checked && !changed ? "Comparing the drafts…" : "";
  try {
    changed ??= await changedLines();
    for (const line of changed) line.classList.toggle("revised", box.checked);
    said.textContent = box.checked ? `${changed.length} ${changed.length === 1 ? "line" : "lines"} changed.` : "";
  } catch {
    box.checked = false;
    said.textContent = "What changed did not come. Check the connection, and try again.";
  }
});

// A scene's day of the story stands over its heading, from now on where somebody wants it.

const DAYS = "script-days";
const daysBox = /** @type {HTMLInputElement | null} */ (marks.querySelector("[data-days]"));
/** @type {Promise<void> | null} */
let days = null;

async function sayDays() {
  const answer = await fetch(daysBox.dataset.days);
  if (!answer.ok || answer.redirected) throw new Error("not told");
  for (const told of (await answer.text()).split(" ").filter(Boolean)) {
    const [line, day] = told.split("=");
    const label = document.createElement("span");
    label.className = "margin-number story-day";
    label.textContent = `Day ${day}`;
    lineElement(line)?.prepend(label);
  }
}

async function showDays() {
  pages.classList.toggle("with-days", daysBox.checked);
  if (daysBox.checked) keep(DAYS, {});
  else forget(DAYS);
  said.textContent = "";
  if (!daysBox.checked) return;
  try {
    await (days ??= sayDays());
  } catch {
    days = null;
    daysBox.checked = false;
    pages.classList.remove("with-days");
    forget(DAYS);
    said.textContent = "The days did not come. Check the connection, and try again.";
  }
}

daysBox?.addEventListener("change", showDays);
if (daysBox && kept(DAYS)) {
  daysBox.checked = true;
  showDays();
}

// One character's cues and speeches stand forward, and all else steps back.

const select = /** @type {HTMLSelectElement | null} */ (marks.querySelector("[data-character]"));
const SPOKEN = ["dialogue", "parenthetical", "lyric", "added"];
const nameOf = (cue) =>
  cue.textContent
    .replace(/\([^)]*\)/g, "")
    .trim()
    .toUpperCase();

select?.addEventListener("change", () => {
  const name = select.value.toUpperCase();
  pages.classList.toggle("one-character", Boolean(name));
  let isTheirs = false;
  let count = 0;
  for (const line of lines) {
    if (line.classList.contains("character")) {
      isTheirs = nameOf(line) === name;
      count += Number(isTheirs);
    } else if (!SPOKEN.some((kind) => line.classList.contains(kind))) isTheirs = false;
    line.classList.toggle("theirs", isTheirs);
  }
  said.textContent = name ? `${count} ${count === 1 ? "speech" : "speeches"} of ${select.value}.` : "";
});
