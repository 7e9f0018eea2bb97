// The notes in the margin: level with their lines, one under the other, and tied to them by sight.

import { elementsOf, lineAt, lineElement, numberOf, pages, wash } from "./script-lines.js";

const GAP_PX = 12;
const wide = matchMedia("(min-width: 70rem)");

export function cards() {
  return [...document.querySelectorAll("[data-note]")];
}

function spanOf(card) {
  const { from, to, fromChar, toChar } = card.dataset;
  if (from === undefined) return null;
  return { from: Number(from), to: Number(to), fromChar: Number(fromChar), toChar: Number(toChar) };
}

const topOf = (element) => element.getBoundingClientRect().top;

/** The line a card stands beside: the first of its lines that is on its page. */
function lineBeside(card) {
  const span = spanOf(card);
  const paper = card.closest(".leaf").querySelector(".paper");
  return span && elementsOf(span.from, span.to).find((element) => paper.contains(element));
}

/** Where each card should be and how tall it is, read in one go before anything is moved. */
function measure() {
  return [...pages.querySelectorAll(".margin > [data-note]")].map((card) => {
    const margin = card.parentElement;
    const line = lineBeside(card);
    return { card, margin, start: topOf(margin), wanted: topOf(line ?? margin), height: card.offsetHeight };
  });
}

/** Level with their lines where there is room, else right below the card before, on the next page too. */
function stack() {
  pages.classList.toggle("stacked", wide.matches);
  const last = [...pages.querySelectorAll(".leaf")].at(-1);
  last?.style.removeProperty("margin-block-end");
  if (!wide.matches) {
    for (const card of cards()) card.style.removeProperty("margin-block-start");
    return;
  }
  let bottom = -Infinity;
  let margin = null;
  const moves = measure().map((place) => {
    const above = place.margin === margin ? bottom : place.start;
    const top = Math.max(place.wanted, place.start, bottom + GAP_PX);
    bottom = top + place.height;
    margin = place.margin;
    return { card: place.card, below: top - above };
  });
  const end = last?.getBoundingClientRect().bottom ?? Infinity;
  for (const { card, below } of moves) card.style.setProperty("margin-block-start", `${below}px`);
  if (bottom > end) last.style.setProperty("margin-block-end", `${bottom - end}px`);
}

let stacking = 0;
export function restack() {
  cancelAnimationFrame(stacking);
  stacking = requestAnimationFrame(stack);
}

/** Put the cards of a page in the order of their lines. */
export function sortMargin(margin) {
  const notes = [...margin.querySelectorAll(":scope > [data-note]")];
  const key = (card) => spanOf(card) ?? { from: Infinity, fromChar: 0 };
  notes.sort((a, b) => key(a).from - key(b).from || key(a).fromChar - key(b).fromChar);
  margin.append(...notes);
}

/** Mark the lines that have notes anew, after one came or went. */
export function remark() {
  for (const line of pages.querySelectorAll("[data-noted]")) delete line.dataset.noted;
  for (const old of pages.querySelectorAll(".marker")) old.remove();
  const firsts = new Map();
  for (const card of cards()) {
    const span = spanOf(card);
    if (!span || card.classList.contains("note-withdrawn")) continue;
    const elements = elementsOf(span.from, span.to);
    for (const element of elements) element.dataset.noted = "";
    const first = elements[0] ?? lineElement(span.from);
    if (first) firsts.set(first, [...(firsts.get(first) ?? []), card]);
  }
  for (const [line, notes] of firsts) line.append(marker(notes));
}

function marker(notes) {
  const link = document.createElement("a");
  link.className = "marker";
  link.href = `#${notes[0].id}`;
  link.dataset.count = notes.length;
  const words = document.createElement("span");
  words.className = "unseen";
  words.textContent = notes.length === 1 ? "1 note" : `${notes.length} notes`;
  link.append(words);
  return link;
}

/** The marker that counts this card. */
export function markerOf(card) {
  return [...pages.querySelectorAll(".marker")].find((link) => cardsAt(link).includes(card));
}

// Sight: a card lights its lines, a line its cards.

function light(some) {
  const spans = some.map(spanOf).filter(Boolean);
  wash("lit", spans);
  for (const card of pages.querySelectorAll(".note-lit")) card.classList.remove("note-lit");
  for (const line of pages.querySelectorAll(".lit")) line.classList.remove("lit");
  for (const card of some) card.classList.add("note-lit");
  for (const span of spans) for (const line of elementsOf(span.from, span.to)) line.classList.add("lit");
}

function cardsOn(number) {
  return cards().filter((card) => {
    const span = spanOf(card);
    return span && number >= span.from && number <= span.to;
  });
}

/** The cards whose notes begin at the same line as this marker's. */
export function cardsAt(link) {
  const first = document.getElementById(decodeURIComponent(link.hash.slice(1)));
  const from = first && spanOf(first)?.from;
  return from === undefined || from === null ? [] : cards().filter((card) => spanOf(card)?.from === from);
}

/** Open a note that is folded to its first words. */
export function unfold(card) {
  const fold = card?.querySelector(":scope > .note-fold");
  if (fold) fold.open = true;
}

function lookAt(event) {
  const card = event.target.closest?.("[data-note]");
  const line = card ? null : lineAt(event.target);
  if (card) light([card]);
  else if (line?.dataset.noted !== undefined) light(cardsOn(numberOf(line)));
  else light([]);
}

pages.addEventListener("pointerover", lookAt);
pages.addEventListener("focusin", lookAt);
pages.addEventListener("pointerleave", () => light([]));
wide.addEventListener("change", restack);
document.fonts?.ready.then(restack);
addEventListener("resize", restack);

const sizes = new ResizeObserver(restack);
export function watch() {
  sizes.disconnect();
  for (const card of cards()) sizes.observe(card);
  restack();
}
watch();
