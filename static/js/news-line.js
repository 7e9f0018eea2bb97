// The quiet line at the foot of the screen: what is new, in words, and a way to it. It takes no focus and moves nothing.

import { onNews, newsBar } from "./news.js";

const NUMBERS = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
const NOUNS = {
  note: ["new note", "new notes"],
  reply: ["new reply", "new replies"],
  decision: ["new decision", "new decisions"],
};

const said = newsBar?.querySelector("[data-news-said]");
const show = /** @type {HTMLButtonElement} */ (newsBar?.querySelector("[data-news-show]"));
const draftLink = document.createElement("a");
draftLink.className = "news-act";
draftLink.textContent = "Read it";

/** @type {Record<string, number>} */
let counted = {};
let draft = null;
let isWithdrawn = false;
let isMore = false;
let step = null;

/** Count what is new, and say it. @param {{ sort: string, draft?: number | null }[]} happened */
export function say(happened, isMoreThanTold = false) {
  for (const { sort, draft: number } of happened) {
    if (sort in NOUNS) counted[sort] = (counted[sort] ?? 0) + 1;
    if (sort === "draft") draft = number;
    if (sort === "draft withdrawn") isWithdrawn = true;
  }
  isMore ||= isMoreThanTold;
  tell();
}

/** What the line's button does, and how it is called. @param {() => void} go */
export function showBy(go, label) {
  step = go;
  show.textContent = label;
}

/** Nothing is new any more: it was looked at. */
export function putAway() {
  counted = {};
  draft = null;
  isMore = isWithdrawn = false;
  tell();
}

function inWords() {
  const parts = Object.keys(NOUNS)
    .filter((sort) => counted[sort])
    .map((sort) => `${NUMBERS[counted[sort]] ?? counted[sort]} ${NOUNS[sort][Number(counted[sort] !== 1)]}`);
  const last = parts.pop();
  const listed = parts.length ? `${parts.join(", ")} and ${last}` : (last ?? "");
  const sentences = [];
  if (draft) sentences.push(`Draft ${draft} is up`);
  else if (isWithdrawn) sentences.push("A draft was withdrawn");
  if (isMore) sentences.push("Much is new");
  else if (listed) sentences.push(listed[0].toUpperCase() + listed.slice(1));
  return sentences.join(". ");
}

/** Show the line, or put it away. The style sheets are told how high it stands, so that what else is at the foot of the
 * screen stands above it; and a field that somebody is typing in stays in view. */
function tellApart(isTold) {
  newsBar.classList.toggle("news-told", isTold);
  measure();
  const field = document.activeElement;
  if (!isTold || !field?.matches("textarea")) return;
  const { top, bottom } = field.getBoundingClientRect();
  if (bottom > 0 && top < innerHeight) field.scrollIntoView({ block: "nearest" });
}

function measure() {
  const height = newsBar.classList.contains("news-told") ? newsBar.offsetHeight : 0;
  document.documentElement.style.setProperty("--news-room", `${height}px`);
}

function tell() {
  const words = inWords();
  if (said.textContent !== words) said.textContent = words;
  const hasNotes = isMore || Object.values(counted).some(Boolean);
  show.hidden = !step || !hasNotes;
  if (!draft) draftLink.remove();
  else {
    draftLink.href = newsBar.dataset.newsScript.replace("/0/", `/${draft}/`);
    show.after(draftLink);
  }
  tellApart(Boolean(words));
}

if (newsBar) {
  addEventListener("resize", measure);
  show.addEventListener("click", () => step?.());
  newsBar.querySelector("[data-news-away]").addEventListener("click", putAway);
  onNews(({ happened, isFirst }) => {
    if (!isFirst) say(happened.filter(({ is_own: isOwn, sort }) => !isOwn && sort.startsWith("draft")));
  });
  document.addEventListener("news:over", () => {
    said.textContent = "This page is no longer kept up to date";
    showBy(() => location.reload(), "Load it again");
    show.hidden = false;
    tellApart(true);
  });
}
