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
    fromChar: startOf(first.run) + points(first.run.textContent.slice(0, first.start)),
    to: numberOf(lineAt(last.run)),
    toChar: startOf(last.run) + points(last.run.textContent.slice(0, last.end)),
  };
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

/** "Line 12", or "Lines 12 to 14". */
export function namesOf({ from, to }) {
  return from === to ? `Line ${from}` : `Lines ${from} to ${to}`;
}
