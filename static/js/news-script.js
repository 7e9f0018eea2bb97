// What others do, on the page of the script: marks and cards come and change where they stand, and who else is here is said.

import { renew } from "./margin.js";
import { counts, takeIn } from "./marks.js";
import { askOfPage, onNews } from "./news.js";
import { putAway, say, showBy } from "./news-line.js";
import { pages } from "./script-lines.js";
import { pageInView } from "./where.js";

const MOST_NOTES = 100;
const here = document.querySelector("[data-here]");
const counted = document.querySelector("[data-note-counts]");

askOfPage(() => {
  const page = pageInView();
  return page && { draft: Number(pages.dataset.draft), ...page };
});

/** Notes that others have said something on, in the order they did: the line leads to one after the other. @type {string[]} */
const toSee = [];

onNews(async ({ happened, isMore, isFirst, here: names, marks: text }) => {
  tellWhoIsHere(names);
  const others = happened.filter((each) => !each.is_own && each.note);
  const ids = [...new Set(others.map((each) => each.note))].slice(0, MOST_NOTES);
  if (!ids.length) return;
  takeIn(ids, text);
  await renew(ids);
  if (isFirst) return;
  const standing = new Set(text.split("\n").map((line) => line.split(" ")[0]));
  const told = others.filter((each) => standing.has(each.note) && ["note", "reply", "decision"].includes(each.sort));
  for (const { note } of told) if (!toSee.includes(note)) toSee.push(note);
  say(told, isMore);
});

showBy(() => {
  const id = toSee.shift();
  if (!toSee.length) putAway();
  if (id) document.dispatchEvent(new CustomEvent("note:go", { detail: { id } }));
}, "Show");

document.addEventListener("marks:changed", () => {
  const { all, open } = counts();
  counted.textContent = all ? `${all} ${all === 1 ? "note" : "notes"}, ${open} open` : "no notes yet";
});

function tellWhoIsHere(names) {
  here.hidden = !names.length;
  const [first, second, ...more] = names;
  const words = more.length ? `${first}, ${second} and ${more.length} more` : names.join(" and ");
  here.querySelector("[data-here-names]").textContent = `With ${words}`;
  here.querySelector("[data-here-count]").textContent = `+${names.length}`;
  here.setAttribute("title", names.join(", "));
}
