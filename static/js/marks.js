// Where notes stand: a word from the server for each, before any card is here. Lines that have notes say so, in shape as
// well as colour, and a marker beside them leads to the cards. Nothing of it moves the page.

import { elementsOf, leafOf, lineElement, pages, rangesOf } from "./script-lines.js";

const OPEN = "o";
const MINE = "m";
const NEW = "n";
const NEAR = "100% 0px";

/**
 * @typedef {object} Mark a note: its id, its lines and characters, the line it stands at, and of what sort it is
 * @property {string} id
 * @property {number} from
 * @property {number} fromChar
 * @property {number} to
 * @property {number | null} toChar
 * @property {number} beside
 * @property {boolean} isOpen
 * @property {boolean} isMine
 * @property {boolean} isNew
 */

const sent = /** @type {HTMLTemplateElement} */ (document.querySelector("#note-marks"));

/** @returns {Mark} */
function read(line) {
  const [id, span, beside, sorts = ""] = line.split(" ");
  const [from, fromChar, to, toChar] = span.split(/[.-]/);
  return {
    id,
    from: Number(from),
    fromChar: Number(fromChar),
    to: Number(to),
    toChar: toChar === "" ? null : Number(toChar),
    beside: Number(beside),
    isOpen: sorts.includes(OPEN),
    isMine: sorts.includes(MINE),
    isNew: sorts.includes(NEW),
  };
}

const readAll = (text) => text.trim().split("\n").filter(Boolean).map(read);
const all = readAll(sent.content.textContent);
const gone = all.filter((mark) => !mark.beside);

/** Every note that stands on the pages, in the order of its lines. @type {Mark[]} */
export const marks = all.filter((mark) => mark.beside);

export const markOf = (id) => marks.find((mark) => mark.id === id);

export const leafOfMark = (mark) => leafOf(lineElement(mark.beside));

/** The marks that stand on a page. */
export function marksOn(leaf) {
  return (byLeaf.get(leaf) ?? []).filter(isShown);
}

let byLeaf = grouped();
function grouped() {
  /** @type {Map<Element, Mark[]>} */
  const found = new Map();
  for (const mark of marks) {
    const leaf = leafOfMark(mark);
    if (found.has(leaf)) found.get(leaf).push(mark);
    else found.set(leaf, [mark]);
  }
  return found;
}

// Which notes are shown

const SHOWN = {
  all: () => true,
  open: (mark) => mark.isOpen,
  mine: (mark) => mark.isMine,
  new: (mark) => mark.isNew,
  none: () => false,
};
let showing = document.querySelector("[data-showing][aria-current]")?.getAttribute("data-showing") ?? "all";

export const isShown = (mark) => SHOWN[showing](mark);
export const shownMarks = () => marks.filter(isShown);

/** Show the notes of one sort alone. */
export function show(which) {
  showing = which;
  refresh();
}

// Notes come, change and go

/** Take in a card as it stands on the page now: one that is new, or that has changed its sort. */
export function noticeCard(card) {
  const { from, fromChar, to, toChar } = card.dataset;
  const id = card.id.slice("note-".length);
  const before = markOf(id);
  const beside = elementsOf(Number(from), Number(to)).map((line) => Number(line.dataset.of ?? line.id.slice(1)))[0];
  if (before) marks.splice(marks.indexOf(before), 1);
  if (!card.classList.contains("note-withdrawn") && (beside ?? before?.beside)) {
    marks.push({
      id,
      from: Number(from),
      fromChar: Number(fromChar),
      to: Number(to),
      toChar: Number(toChar),
      beside: beside ?? before.beside,
      isOpen: Boolean(card.querySelector("[data-undecided]")),
      isMine: "mine" in card.dataset,
      isNew: before?.isNew ?? false,
    });
    sortMarks();
  }
  refresh();
}

/** Take in how some notes stand by now, as the server says it; what it says nothing of is there no longer.
 * @returns {Mark[]} those that were not there before */
export function takeIn(ids, text) {
  const known = new Set(ids.filter(markOf));
  const now = readAll(text).filter((mark) => mark.beside && ids.includes(mark.id));
  const rest = marks.filter((mark) => !ids.includes(mark.id));
  marks.splice(0, marks.length, ...rest, ...now);
  sortMarks();
  refresh();
  return now.filter((mark) => !known.has(mark.id));
}

function sortMarks() {
  marks.sort((a, b) => a.from - b.from || a.fromChar - b.fromChar);
}

/** How many notes there are, those whose lines are gone too, and how many of them are open. */
export function counts() {
  const every = [...marks, ...gone];
  return { all: every.length, open: every.filter((mark) => mark.isOpen).length };
}

function refresh() {
  byLeaf = grouped();
  for (const leaf of near) markLines(leaf);
  washAll();
  document.dispatchEvent(new CustomEvent("marks:changed"));
}

// The pages near the eye are marked: their lines, and a marker for the notes that begin where it stands

/** @type {Set<HTMLElement>} */
export const near = new Set();
/** @type {WeakMap<Element, Mark[]>} */
const marksOfMarker = new WeakMap();

/** The notes that a marker leads to. */
export const marksAt = (marker) => marksOfMarker.get(marker) ?? [];

/** The marker that leads to a note. */
export function markerOf(id) {
  return [...pages.querySelectorAll(".marker")].find((marker) => marksAt(marker).some((mark) => mark.id === id));
}

function describe(notes) {
  const open = notes.filter((note) => note.isOpen).length;
  const own = notes.filter((note) => note.isMine).length;
  const fresh = notes.some((note) => note.isNew);
  const parts = [`${notes.length} ${notes.length === 1 ? "note" : "notes"}`];
  if (open === notes.length) parts.push("open");
  else parts.push(open ? `${open} open` : "settled");
  if (own) parts.push(own === notes.length ? "yours" : `${own} yours`);
  if (fresh) parts.push("new");
  return parts.join(", ");
}

function markLines(leaf) {
  for (const line of leaf.querySelectorAll("[aria-description]")) line.removeAttribute("aria-description");
  const notes = marksOn(leaf);
  for (const note of notes) {
    for (const line of elementsOf(note.from, note.to)) {
      line.setAttribute("aria-description", describe(notes.filter((each) => overlaps(each, note))));
    }
  }
  placeMarkers(leaf, notes);
  const door = leaf.querySelector(".door-notes");
  const count = notes.length;
  door.textContent = `${count} ${count === 1 ? "note" : "notes"} on this page`;
  door.classList.toggle("door-empty", !count);
}

const overlaps = (one, other) => one.from <= other.to && other.from <= one.to;

/** Markers stand level with the first line of their notes; two that would touch are one. */
function placeMarkers(leaf, notes) {
  const paper = leaf.querySelector(".paper");
  let layer = paper.querySelector(".markers");
  if (!layer) {
    layer = document.createElement("div");
    layer.className = "markers";
    paper.append(layer);
  }
  const top = paper.getBoundingClientRect().top + paper.clientTop;
  const least = parseFloat(getComputedStyle(layer).getPropertyValue("--marker-height")) || 24;
  const places = [];
  for (const note of notes) {
    const line = lineElement(note.beside);
    const y = line.getBoundingClientRect().top - top;
    const isLeft = Boolean(line.closest(".side:first-child"));
    const touched = places.find((place) => place.isLeft === isLeft && Math.abs(y - place.y) < least);
    if (touched) touched.notes.push(note);
    else places.push({ y, isLeft, notes: [note] });
  }
  layer.replaceChildren(...places.map(markerFor));
}

function markerFor({ y, isLeft, notes }) {
  const link = document.createElement("a");
  link.className = "marker";
  link.classList.toggle("marker-left", isLeft);
  link.classList.toggle(
    "marker-settled",
    notes.every((note) => !note.isOpen),
  );
  link.classList.toggle(
    "marker-mine",
    notes.some((note) => note.isMine),
  );
  link.classList.toggle(
    "marker-new",
    notes.some((note) => note.isNew),
  );
  link.href = `#note-${notes[0].id}`;
  link.dataset.count = String(notes.length);
  link.style.setProperty("--y", `${y}px`);
  const words = document.createElement("span");
  words.className = "unseen";
  words.textContent = describe(notes);
  link.append(words);
  marksOfMarker.set(link, notes);
  return link;
}

/** The very words of the notes near the eye: open ones and settled ones look different. */
function washAll() {
  if (!CSS.highlights) {
    for (const line of pages.querySelectorAll("[data-noted]")) line.removeAttribute("data-noted");
    for (const leaf of near)
      for (const note of marksOn(leaf)) for (const line of elementsOf(note.from, note.to)) line.dataset.noted = "";
    return;
  }
  const notes = [...near].flatMap(marksOn);
  CSS.highlights.set("noted-open", new Highlight(...notes.filter((note) => note.isOpen).flatMap(rangesOf)));
  CSS.highlights.set("noted-settled", new Highlight(...notes.filter((note) => !note.isOpen).flatMap(rangesOf)));
}

const watcher = new IntersectionObserver(
  (entries) => {
    for (const { target, isIntersecting } of entries) {
      const leaf = /** @type {HTMLElement} */ (target);
      if (!isIntersecting) near.delete(leaf);
      else if (!near.has(leaf)) {
        near.add(leaf);
        markLines(leaf);
      }
    }
    washAll();
    document.dispatchEvent(new CustomEvent("leaves:near"));
  },
  { rootMargin: NEAR },
);
for (const leaf of pages.querySelectorAll(".leaf")) watcher.observe(leaf);

function remarkNear() {
  for (const leaf of near) placeMarkers(leaf, marksOn(leaf));
}
addEventListener("resize", remarkNear);
document.fonts?.addEventListener("loadingdone", remarkNear); // to ask whether they are ready would lay the page out
document.addEventListener("page:reflowed", remarkNear);
