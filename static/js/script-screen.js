// The script screen's own behaviour, on top of a page that reads and posts without it.

import { cardOf, fetchCards, fetchGone, isWide, marginOf, unfold } from "./margin.js";
import { leafOfMark, markerOf, markOf, marksAt, marksOn } from "./marks.js";
import { leafOf, lineElement, pages } from "./script-lines.js";
import "./laid-over.js";
import "./mark-words.js";
import "./note-form.js";
import "./reach.js";
import "./find.js";
import "./looks.js";
import "./sight.js";

// Where no margin is beside the page, notes open at the foot of the screen; they go back to their page when it closes.

const threads = /** @type {HTMLDialogElement} */ (document.querySelector("[data-threads]"));
const threadsBody = threads.querySelector("[data-threads-body]");
const homes = new Map();
let opener = null;

async function openThreads(notes, from) {
  await fetchCards([...new Set(notes.map(leafOfMark))]);
  const cards = notes.map((note) => cardOf(note.id)).filter(Boolean);
  if (threads.open) {
    threads.close();
    putBack(); // the event of its closing comes too late
  }
  for (const card of cards) {
    const home = document.createComment("");
    card.before(home);
    homes.set(home, card.id);
    threadsBody.append(card);
  }
  if (cards.length === 1) unfold(cards[0]);
  if (!cards.length) threadsBody.append(notHere());
  if (!threads.contains(from)) opener = from;
  threads.showModal();
}

function notHere() {
  const sentence = document.createElement("p");
  sentence.textContent = "The notes did not come. Check the connection, and open them again.";
  return sentence;
}

function putBack() {
  for (const [home, id] of homes) {
    const card = document.getElementById(id); // htmx may have put a fresh one in its place
    if (card) home.replaceWith(card);
  }
  homes.clear();
  threadsBody.replaceChildren();
}

threads.addEventListener("close", () => {
  if (threads.open) return; // on another note, meanwhile
  putBack();
  opener?.focus({ preventScroll: true });
});
threads.addEventListener("click", (event) => {
  const target = /** @type {HTMLElement} */ (event.target);
  if (target === threads || target.closest("[data-close]")) threads.close();
});

pages.addEventListener("click", (event) => {
  if (event.ctrlKey || event.metaKey || event.shiftKey) return;
  const link = /** @type {HTMLElement} */ (event.target).closest(".marker, .door-notes");
  if (!link) return;
  event.preventDefault();
  const notes = link.matches(".marker") ? marksAt(link) : marksOn(leafOf(link));
  if (!isWide()) openThreads(notes, link);
  else showCards(notes);
});

/** Beside the page a marker only opens its cards and goes to the first: what is in view stays where it is. */
async function showCards(notes) {
  await fetchCards([...new Set(notes.map(leafOfMark))]);
  const cards = notes.map((note) => cardOf(note.id)).filter(Boolean);
  cards.forEach(unfold);
  cards[0]?.focus({ preventScroll: true });
  cards[0]?.scrollIntoView({ block: "nearest" });
}

// A note's own address opens the script at its lines, with its card there.

/** Go to a note: its lines in view, its card open. */
async function goToNote(id, from = null) {
  const mark = markOf(id);
  if (!mark) return;
  const leaf = leafOfMark(mark);
  lineElement(mark.beside).scrollIntoView({ block: isWide() ? "center" : "start" }); // above what opens at the foot
  await fetchCards([leaf]);
  if (!isWide()) {
    await openThreads([mark], from ?? markerOf(id) ?? marginOf(leaf));
  } else {
    unfold(cardOf(id));
    cardOf(id)?.focus({ preventScroll: true });
  }
  goToReply(mark.isNew && cardOf(id)?.querySelector(".reply-new"));
}

function goToReply(reply) {
  if (!reply) return;
  reply.tabIndex = -1;
  reply.focus({ preventScroll: true });
  reply.scrollIntoView({ block: "nearest" });
}

const isGone = (id) => document.querySelector(`#gone-cards #note-${CSS.escape(id)}`);

async function goToHash() {
  const reply = /^#reply-.+$/.exec(location.hash)?.[0];
  const id = reply
    ? new URLSearchParams(location.search).get("note")
    : /^#note-(.+)$/.exec(decodeURIComponent(location.hash))?.[1];
  if (!id) return;
  if (markOf(id)) {
    await goToNote(id);
    if (reply) goToReply(document.getElementById(reply.slice(1)));
    return;
  }
  await gone?.fetch();
  const card = isGone(id);
  unfold(card);
  card?.scrollIntoView();
  card?.focus({ preventScroll: true });
}

// The notes whose lines are gone come when the foot of the script is near, or when somebody asks for them.

const section = document.querySelector("[data-gone]");
const gone = section && {
  /** @type {Promise<void> | null} */
  coming: null,
  fetch() {
    return (gone.coming ??= fetchGone());
  },
};
if (section) {
  new IntersectionObserver(([entry]) => entry.isIntersecting && gone.fetch(), { rootMargin: "100%" }).observe(section);
  document.querySelector("[data-gone-link]")?.setAttribute("href", "#gone");
}

addEventListener("hashchange", goToHash);
goToHash();
document.addEventListener("note:go", (event) => goToNote(event.detail.id, event.detail.from));
