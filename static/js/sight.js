// Sight: a card lights its lines, a line its cards.

import { cardOf, spanOf } from "./margin.js";
import { marksOn, near } from "./marks.js";
import { elementsOf, lineAt, numberOf, pages, wash } from "./script-lines.js";

function light(some) {
  const spans = some.map(spanOf).filter(Boolean);
  wash("lit", spans);
  for (const card of pages.querySelectorAll(".note-lit")) card.classList.remove("note-lit");
  for (const line of pages.querySelectorAll(".lit")) line.classList.remove("lit");
  for (const card of some) card.classList.add("note-lit");
  for (const span of spans) for (const line of elementsOf(span.from, span.to)) line.classList.add("lit");
}

function cardsOn(line) {
  const number = numberOf(line);
  return [...near]
    .flatMap(marksOn)
    .filter((mark) => number >= mark.from && number <= mark.to)
    .map((mark) => cardOf(mark.id))
    .filter(Boolean);
}

function lookAt(event) {
  const card = event.target.closest?.("[data-note]");
  const line = card ? null : lineAt(event.target);
  light(card ? [card] : line ? cardsOn(line) : []);
}

pages.addEventListener("pointerover", lookAt);
pages.addEventListener("focusin", lookAt);
pages.addEventListener("pointerleave", () => light([]));
