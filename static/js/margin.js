// The cards: they come for the pages near the eye, and stand level with their lines.

import { isShown, markOf, marksOn, near } from "./marks.js";
import { elementsOf, leafOf, lineElement, numberOf, pages } from "./script-lines.js";
import { askForKept } from "./asked-forms.js";
import { bind } from "./keep-forms.js";
import { styled } from "./late-sheets.js";

const GAP_PX = 12;
const CROWDED_GAP_PX = 4;
const MOST_PAGES = 12;
const PAUSE_MS = 60;
const AGAIN_MS = 5000;
const aMargin = pages.querySelector(".margin");

/** Whether there is room for cards beside the pages, which the style sheet knows; looked up anew when that may change. */
export const isWide = () => (wide ??= Boolean(aMargin) && getComputedStyle(aMargin).display !== "none");
/** @type {boolean | null} */
let wide = null;
const lookAgain = () => (wide = null);
addEventListener("resize", lookAgain);
document.addEventListener("page:reflowed", lookAgain);
const sent = /** @type {HTMLElement} */ (document.querySelector("#note-marks"));

export const marginOf = (leaf) => /** @type {HTMLElement} */ (leaf.querySelector(".margin"));

export const cardOf = (id) => document.getElementById(`note-${id}`);

export function cards() {
  return /** @type {HTMLElement[]} */ ([...document.querySelectorAll("[data-note]")]);
}

/** Where a card's note stands, as its card says. */
export function spanOf(card) {
  const { from, to, fromChar, toChar } = card.dataset;
  if (from === undefined) return null;
  return { from: Number(from), to: Number(to), fromChar: Number(fromChar), toChar: Number(toChar) };
}

// They are fetched for several pages at once, and stay

/** @type {Map<HTMLElement, Promise<void>>} */
const fetched = new Map();
/** Notes that others have changed: their cards are put in the place of those that are here. @type {Set<string>} */
const outdated = new Set();

/** @returns {Promise<void>} once the cards of these pages are here */
export async function fetchCards(leaves) {
  const missing = leaves.filter((leaf) => marksOn(leaf).length && !fetched.has(leaf)).slice(0, MOST_PAGES);
  if (missing.length) {
    const coming = fetchInto(missing.map((leaf) => leaf.dataset.page)).catch(() => {
      for (const leaf of missing) fetched.delete(leaf);
      setTimeout(soon, AGAIN_MS);
    });
    for (const leaf of missing) fetched.set(leaf, coming);
  }
  await Promise.all(leaves.map((leaf) => fetched.get(leaf)));
}

async function fetchInto(names) {
  const query = new URLSearchParams(names.map((name) => ["page", name]));
  const answer = await fetch(`${sent.dataset.notesAddress}?${query}`, { headers: { "HX-Request": "true" } });
  if (!answer.ok || answer.redirected) throw new Error("the cards did not come");
  const body = new DOMParser().parseFromString(await answer.text(), "text/html").body;
  await styled;
  for (const group of body.querySelectorAll("[data-margin]")) place(/** @type {HTMLElement} */ (group));
  stack(); // before they are seen, so that no card moves
}

function place(group) {
  const margin = document.getElementById(group.dataset.margin);
  for (const item of [...group.children]) {
    const card = item.matches("[data-note]") ? item : item.querySelector("[data-note]");
    const here = document.getElementById(card.id);
    if (here && !isOutdated(here)) continue;
    if (here) supersede(here, document.adoptNode(item));
    else margin.append(document.adoptNode(item));
    htmx.process(item);
    bind(item);
    askForKept(item);
  }
  if (margin.matches(".margin")) {
    sortMargin(margin);
    filter(margin);
    crowd(margin);
  }
  watch();
}

// Others change notes: a card is renewed where nobody is at it, else once they have left it

const isOutdated = (card) => outdated.has(card.id.slice("note-".length)) && !isInUse(card);

function isInUse(card) {
  const selection = document.getSelection();
  const isSelected = !selection.isCollapsed && card.contains(selection.anchorNode);
  const written = [...card.querySelectorAll("textarea")].some((field) => field.value !== field.defaultValue);
  return card.contains(document.activeElement) || isSelected || written;
}

function supersede(card, fresh) {
  outdated.delete(card.id.slice("note-".length));
  if (card.querySelector(":scope > .note-fold")?.open) unfold(fresh);
  fresh.classList.toggle("note-opened", card.classList.contains("note-opened"));
  card.replaceWith(fresh);
}

/** Fetch the cards of some notes anew, where they are here, or would be had they been there before; take away those of
 * notes that are no longer to be seen. */
export function renew(ids) {
  for (const id of ids) outdated.add(id);
  return renewOutdated();
}

let leaving = 0;
function renewSoon() {
  clearTimeout(leaving);
  if (outdated.size) leaving = setTimeout(renewOutdated, PAUSE_MS);
}
document.addEventListener("focusout", renewSoon);
document.addEventListener("selectionchange", renewSoon);

async function renewOutdated() {
  const leaves = new Set();
  let goneToo = false;
  for (const id of outdated) {
    const [mark, card] = [markOf(id), cardOf(id)];
    if (mark && card ? !isInUse(card) : mark && fetched.has(leafOf(lineBesideMark(mark))))
      leaves.add(leafOf(lineBesideMark(mark)));
    else if (!card) outdated.delete(id);
    else if (card.closest("#gone-cards")) goneToo ||= !isInUse(card);
    else if (!mark && !isInUse(card)) takeAway(card);
  }
  const wanted = [...leaves].slice(0, MOST_PAGES);
  if (wanted.length) await fetchInto(wanted.map((leaf) => leaf.dataset.page)).catch(() => {});
  if (goneToo) await renewGone().catch(() => {});
  for (const id of outdated) if (!cardOf(id)) outdated.delete(id);
}

/** What is not among them any more was withdrawn, or has a place by now. */
async function renewGone() {
  await fetchInto(["gone"]);
  for (const card of [...outdated].map(cardOf)) if (card?.closest("#gone-cards") && !isInUse(card)) takeAway(card);
}

const lineBesideMark = (mark) => lineElement(mark.beside);

function takeAway(card) {
  outdated.delete(card.id.slice("note-".length));
  card.remove();
  restack();
}

/** The notes whose lines are gone, which stand under the last page. */
export function fetchGone() {
  return fetchInto(["gone"]).catch(() => {});
}

let pausing = 0;
function soon() {
  clearTimeout(pausing);
  pausing = setTimeout(() => fetchCards([...near]), PAUSE_MS);
}
document.addEventListener("leaves:near", () => {
  soon();
  restack();
});
addEventListener("online", soon);

function filter(margin) {
  for (const card of margin.querySelectorAll(":scope > [data-note]")) {
    const mark = markOf(card.id.slice("note-".length));
    card.hidden = Boolean(mark) && !isShown(mark);
  }
}
document.addEventListener("marks:changed", () => {
  for (const margin of pages.querySelectorAll(".margin:has([data-note])")) {
    filter(margin);
    crowd(margin);
  }
  soon();
  restack();
});

// Where the cards of a page are more than fit beside it, each is short until somebody comes to it: they would else stand
// further from their lines with each page.

const standingIn = (margin) =>
  /** @type {HTMLElement[]} */ ([...margin.querySelectorAll(":scope > [data-note]:not([hidden])")]);

export function crowd(margin) {
  if (!isWide()) return;
  margin.classList.remove("margin-crowded");
  const cardsHere = standingIn(margin);
  const height = cardsHere.reduce((sum, card) => sum + card.offsetHeight + GAP_PX, 0);
  const isCrowded = height > margin.closest(".leaf").querySelector(".paper").offsetHeight;
  margin.classList.toggle("margin-crowded", isCrowded);
  for (const card of cardsHere) {
    card.tabIndex = isCrowded ? 0 : -1;
    if (isCrowded && card.contains(document.activeElement)) card.classList.add("note-opened");
  }
}

function open(card) {
  if (!card?.matches(".margin-crowded > [data-note]") || card.classList.contains("note-opened")) return;
  for (const other of pages.querySelectorAll(".note-opened")) other.classList.remove("note-opened");
  card.classList.add("note-opened");
  restack();
}
pages.addEventListener("focusin", (event) => open(/** @type {Element} */ (event.target).closest("[data-note]")));
pages.addEventListener("click", (event) => open(/** @type {Element} */ (event.target).closest("[data-note]")));

// From a card the keyboard goes back to the line that it stands beside.

pages.addEventListener("keydown", (event) => {
  const target = /** @type {HTMLElement} */ (event.target);
  const card = target.closest("[data-note]");
  if (event.key !== "Escape" || !card || target.matches("textarea, input, select")) return;
  const line = lineBeside(card, leafOf(card));
  if (!line) return;
  event.preventDefault();
  lineElement(numberOf(line)).focus({ preventScroll: true });
  line.scrollIntoView({ block: "nearest" });
});

// Level with their lines where there is room, else right below the card before, on the next page too

/** @type {WeakMap<Element, number>} */
const spills = new WeakMap();

const topOf = (element) => element.getBoundingClientRect().top;

/** The line a card stands beside: the first of its lines that is on its page. */
function lineBeside(card, leaf) {
  const span = spanOf(card);
  return span && elementsOf(span.from, span.to).find((element) => leafOf(element) === leaf);
}

/** Where each card should be and how tall it is, read in one go before anything is moved. */
function measure(leaf) {
  const start = topOf(marginOf(leaf));
  const standing = standingIn(marginOf(leaf));
  return {
    leaf,
    start,
    end: leaf.getBoundingClientRect().bottom,
    cards: standing.map((card) => ({ card, wanted: topOf(lineBeside(card, leaf) ?? leaf), height: card.offsetHeight })),
  };
}

function stack() {
  const hasRoom = isWide();
  pages.classList.toggle("stacked", hasRoom);
  if (!hasRoom) return;
  const leaves = [...near].sort((a, b) => (a.compareDocumentPosition(b) & Node.DOCUMENT_POSITION_FOLLOWING ? -1 : 1));
  const measured = leaves.map(measure);
  const last = pages.querySelector(".leaf:last-of-type");
  let above = null;
  let bottom = -Infinity;
  for (const { leaf, start, end, cards: standing } of measured) {
    const before = leaf.previousElementSibling;
    if (before !== above) bottom = start + (spills.get(before) ?? -Infinity);
    let reached = start;
    const gap = marginOf(leaf).classList.contains("margin-crowded") ? CROWDED_GAP_PX : GAP_PX;
    for (const { card, wanted, height } of standing) {
      const top = Math.max(wanted, start, bottom + gap);
      card.style.setProperty("margin-block-start", `${top - reached}px`);
      bottom = reached = top + height;
    }
    spills.set(leaf, bottom - (leaf.nextElementSibling ? topOf(leaf.nextElementSibling) : end));
    if (leaf === last) leaf.style.setProperty("--spill", `${Math.max(bottom - end, 0)}px`);
    above = leaf;
  }
}

let stacking = 0;
function restack() {
  cancelAnimationFrame(stacking);
  stacking = requestAnimationFrame(stack);
}

/** Bring a card into view where it comes to stand, without waiting for the next frame. */
export function bringIntoView(card) {
  cancelAnimationFrame(stacking);
  stack();
  card.scrollIntoView({ block: "nearest" });
}

/** Put the cards of a page in the order of their lines. */
export function sortMargin(margin) {
  const notes = [...margin.querySelectorAll(":scope > [data-note]")];
  const key = (card) => spanOf(card) ?? { from: Infinity, fromChar: 0 };
  notes.sort((a, b) => key(a).from - key(b).from || key(a).fromChar - key(b).fromChar);
  if (notes.some((card, at) => margin.children[at] !== card)) margin.append(...notes);
}

/** Open a note that is folded to its first words. */
export function unfold(card) {
  const fold = card?.querySelector(":scope > .note-fold");
  if (fold) fold.open = true;
}

document.fonts?.addEventListener("loadingdone", restack);
document.addEventListener("page:reflowed", restack);
addEventListener("resize", restack);

const sizes = new ResizeObserver(restack);
export function watch() {
  sizes.disconnect();
  for (const leaf of near)
    for (const card of marginOf(leaf).querySelectorAll(":scope > [data-note]")) sizes.observe(card);
  restack();
}
document.addEventListener("leaves:near", watch);
