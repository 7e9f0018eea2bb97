// The lines of the script on the page, and how a place on the page and a place in the draft's text become each other.
// A character is counted as the draft's text counts it: by code points, not by a browser's UTF-16 units.

export const pages = document.querySelector("[data-pages]");

/** The element that shows a source line first, or undefined where the line prints nothing. */
export function lineElement(number) {
  return pages.querySelector(`#L${Number(number)}`) ?? undefined;
}

export function numberOf(line) {
  return Number(line.dataset.line);
}

/** The line that a node is in, or null. */
export function lineAt(node) {
  const element = node?.nodeType === Node.ELEMENT_NODE ? node : node?.parentElement;
  return element?.closest("[data-line]") ?? null;
}

/** Every element that shows one of the lines from the first to the last; a line over two pages has two. */
export function elementsOf(from, to) {
  const all = [];
  for (let number = from; number <= to; number += 1) {
    all.push(...pages.querySelectorAll(`[data-line="${number}"]`));
  }
  return all;
}

const runsIn = (element) => [...element.querySelectorAll("[data-at]")];
const points = (text) => [...text].length;
const startOf = (run) => Number(run.dataset.at);
const endOf = (run) => startOf(run) + points(run.textContent);

/** The span of one or more whole lines as they are printed. */
export function spanOfLines(from, to) {
  return { from, to, fromChar: null, toChar: null };
}

function offsetIn(run, container, offset, otherwise) {
  if (!run.contains(container)) return otherwise;
  const before = document.createRange();
  before.setStart(run, 0);
  before.setEnd(container, offset);
  return before.toString().length;
}

/** The span of the source under a selection's range, or null where it touches no line. */
export function spanOfRange(range) {
  const around = range.commonAncestorContainer;
  const within = around.nodeType === Node.ELEMENT_NODE ? around : around.parentElement;
  const scope = within.closest("[data-at]") ? [within.closest("[data-at]")] : runsIn(within);
  const touched = scope
    .filter((run) => pages.contains(run) && range.intersectsNode(run))
    .map((run) => ({
      run,
      start: offsetIn(run, range.startContainer, range.startOffset, 0),
      end: offsetIn(run, range.endContainer, range.endOffset, run.textContent.length),
    }))
    .filter(({ start, end }) => end > start);
  if (!touched.length) return null;
  const first = touched[0];
  const last = touched[touched.length - 1];
  return {
    from: numberOf(lineAt(first.run)),
    fromChar: startOf(first.run) + points(first.run.textContent.slice(0, wordStart(first.run, first.start))),
    to: numberOf(lineAt(last.run)),
    toChar: startOf(last.run) + points(last.run.textContent.slice(0, wordEnd(last.run, last.end))),
  };
}

// A drag that begins or ends within a word means the whole word.

const WITHIN_WORD = /[\p{L}\p{N}\p{M}'’]/u;
const isWithinWord = (text, at) => WITHIN_WORD.test(text[at - 1] ?? "") && WITHIN_WORD.test(text[at] ?? "");

function wordStart(run, offset) {
  let at = offset;
  while (at > 0 && isWithinWord(run.textContent, at)) at -= 1;
  return at;
}

function wordEnd(run, offset) {
  let at = offset;
  while (at < run.textContent.length && isWithinWord(run.textContent, at)) at += 1;
  return at;
}

function clip(run, start, end) {
  const characters = [...run.textContent];
  const from = Math.max(0, start - startOf(run));
  const to = Math.min(characters.length, end - startOf(run));
  if (to <= from) return null;
  const text = document.createTreeWalker(run, NodeFilter.SHOW_TEXT).nextNode();
  const range = document.createRange();
  range.setStart(text, characters.slice(0, from).join("").length);
  range.setEnd(text, characters.slice(0, to).join("").length);
  return range;
}

/** The ranges on the page that show a span of the source, one for each run of text. */
export function rangesOf({ from, fromChar, to, toChar }) {
  return elementsOf(from, to).flatMap((element) => {
    const number = numberOf(element);
    const start = number === from ? (fromChar ?? 0) : 0;
    const end = number === to ? (toChar ?? Infinity) : Infinity;
    return runsIn(element).map((run) => clip(run, start, Math.min(end, endOf(run)))).filter(Boolean);
  });
}

/** Wash the words of some spans, under a name that the style sheet knows. */
export function wash(name, spans) {
  if (!CSS.highlights) return;
  const ranges = spans.flatMap(rangesOf);
  if (ranges.length) CSS.highlights.set(name, new Highlight(...ranges));
  else CSS.highlights.delete(name);
}

const leafOf = (element) => element.closest(".leaf");
const isTitlePage = (leaf) => !leaf.id;

/** "page 3", "pages 3 to 4" or "the title page", as it reads after "on"; empty where none of the lines prints. */
export function pagesOf({ from, to }) {
  const leaves = elementsOf(from, to).map(leafOf);
  if (!leaves.length) return "";
  if (leaves.every(isTitlePage)) return "the title page";
  const [first, last] = [leaves.find((leaf) => !isTitlePage(leaf)), leaves.at(-1)].map((leaf) => leaf.id.slice("page-".length));
  return first === last ? `page ${first}` : `pages ${first} to ${last}`;
}

/** "1 line on page 3", or "4 lines on pages 3 to 4"; lines that do not print are not counted. */
export function namesOf(span) {
  const count = new Set(elementsOf(span.from, span.to).map(numberOf)).size;
  const page = pagesOf(span);
  return `${count} ${count === 1 ? "line" : "lines"}${page ? ` on ${page}` : ""}`;
}
