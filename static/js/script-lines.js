// The lines of the script on the page, and how a place on the page and a place in the draft's text become each other.
// A character is counted as the draft's text counts it: by code points, not by a browser's UTF-16 units.

export const pages = /** @type {HTMLElement} */ (document.querySelector("[data-pages]"));

const LINE = ".paper [id^=L], .paper [data-of]";

// The pages never change, so their lines are looked up once. A line over two pages has two elements.

/** @type {HTMLElement[]} */
export const lines = [...pages.querySelectorAll(LINE)];
/** @type {Map<number, HTMLElement[]>} */
const byNumber = new Map();
for (const line of lines) {
  const number = numberOf(line);
  if (byNumber.has(number)) byNumber.get(number).push(line);
  else byNumber.set(number, [line]);
}

/** The element that shows a source line first, or undefined where the line prints nothing. */
export function lineElement(number) {
  return byNumber.get(Number(number))?.[0];
}

export function numberOf(line) {
  return Number(line.id ? line.id.slice(1) : line.dataset.of);
}

/** @returns {HTMLElement | null} the line that a node is in, or null */
export function lineAt(node) {
  const element = node?.nodeType === Node.ELEMENT_NODE ? node : node?.parentElement;
  return element?.closest(LINE) ?? null;
}

/** Every element that shows one of the lines from the first to the last. */
export function elementsOf(from, to) {
  const all = [];
  for (let number = from; number <= to; number += 1) all.push(...(byNumber.get(number) ?? []));
  return all;
}

export const isHeading = (line) => line?.tagName === "H2";

export const leafOf = (element) => /** @type {HTMLElement} */ (element.closest(".leaf"));

/** The lines of a page, by their elements. */
export const linesOn = (leaf) => /** @type {HTMLElement[]} */ ([...leaf.querySelectorAll(LINE)]);

const points = (text) => [...text].length;

/** The texts of a line, each with the offset of its first character in the source. A scene's number is none of them. */
function pieces(line) {
  const walker = document.createTreeWalker(line, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT, (node) =>
    /** @type {Element} */ (node).matches?.(".margin-number") ? NodeFilter.FILTER_REJECT : NodeFilter.FILTER_ACCEPT,
  );
  const found = [];
  let at = Number(line.dataset.at ?? 0);
  while (walker.nextNode()) {
    const node = walker.currentNode;
    if (node instanceof Text) {
      const end = at + points(node.data);
      found.push({ node, start: at, end });
      at = end;
    } else {
      at = Number(/** @type {HTMLElement} */ (node).dataset.at ?? at);
    }
  }
  return found;
}

/** The words of a line, as they are printed. */
export function wordsOf(number) {
  return (byNumber.get(number) ?? [])
    .flatMap(pieces)
    .map(({ node }) => node.data)
    .join("");
}

/** Where the words of a line begin and end in the source; one of which only a part is slanted is one word. */
export function wordsIn(number) {
  const found = [];
  let goesOn = false;
  for (const { node, start } of (byNumber.get(number) ?? []).flatMap(pieces)) {
    for (const { 0: word, index } of node.data.matchAll(/\S+/gu)) {
      const begin = start + points(node.data.slice(0, index));
      const end = begin + points(word);
      if (goesOn && index === 0) found.at(-1).end = end;
      else found.push({ begin, end });
    }
    goesOn = /\S$/u.test(node.data);
  }
  return found;
}

/** The offset behind the last character that a line prints. */
export const endOf = (number) => (byNumber.get(number) ?? []).flatMap(pieces).at(-1)?.end ?? 0;

/** The words of a span as they are printed, line by line. */
export function quoteOf(span) {
  return elementsOf(span.from, span.to)
    .map((element) => {
      const number = numberOf(element);
      const start = number === span.from ? (span.fromChar ?? 0) : 0;
      const end = number === span.to ? (span.toChar ?? Infinity) : Infinity;
      return pieces(element)
        .map((piece) =>
          [...piece.node.data].slice(Math.max(0, start - piece.start), Math.max(0, end - piece.start)).join(""),
        )
        .join("");
    })
    .join("\n");
}

/** The span of one or more whole lines as they are printed. */
export function spanOfLines(from, to) {
  return { from, to, fromChar: null, toChar: null };
}

// From a selection to the source

function offsetIn(node, container, offset, otherwise) {
  if (node === container) return offset;
  if (!container.contains(node)) return otherwise;
  const before = document.createRange();
  before.setStart(node, 0);
  before.setEnd(container, offset);
  return Math.min(before.toString().length, node.data.length);
}

function touchedIn(line, range) {
  return pieces(line)
    .filter(({ node }) => range.intersectsNode(node))
    .map((piece) => ({
      ...piece,
      line,
      begin: offsetIn(piece.node, range.startContainer, range.startOffset, 0),
      stop: offsetIn(piece.node, range.endContainer, range.endOffset, piece.node.data.length),
    }))
    .filter(({ begin, stop }) => stop > begin);
}

/** The span of the source under a selection's range, or null where it touches no line. */
export function spanOfRange(range) {
  const from = lines.indexOf(lineAt(range.startContainer) ?? lines.find((line) => range.intersectsNode(line)));
  const to = lines.indexOf(lineAt(range.endContainer) ?? lines.findLast((line) => range.intersectsNode(line)));
  if (from < 0 || to < from) return null;
  let first;
  let last;
  for (let at = from; at <= to && !first; at += 1) [first] = touchedIn(lines[at], range);
  for (let at = to; at >= from && !last; at -= 1) last = touchedIn(lines[at], range).at(-1);
  if (!first || !last) return null;
  return {
    from: numberOf(first.line),
    fromChar: first.start + points(first.node.data.slice(0, wordStart(first.node.data, first.begin))),
    to: numberOf(last.line),
    toChar: last.start + points(last.node.data.slice(0, wordEnd(last.node.data, last.stop))),
  };
}

// A drag that begins or ends within a word means the whole word.

const WITHIN_WORD = /[\p{L}\p{N}\p{M}'’]/u;
const isWithinWord = (text, at) => WITHIN_WORD.test(text[at - 1] ?? "") && WITHIN_WORD.test(text[at] ?? "");

function wordStart(text, offset) {
  let at = offset;
  while (at > 0 && isWithinWord(text, at)) at -= 1;
  return at;
}

function wordEnd(text, offset) {
  let at = offset;
  while (at < text.length && isWithinWord(text, at)) at += 1;
  return at;
}

// From the source to the page

function clip({ node, start, end }, from, to) {
  const characters = [...node.data];
  const first = Math.max(0, from - start);
  const atRowsEnd = node.nextSibling?.nodeName === "BR" && node.data.endsWith(" ");
  const stop = Math.min(characters.length - Number(atRowsEnd), to - start); // the space that a narrow page joins rows with
  if (stop <= first || start > to || end < from) return null;
  return new StaticRange({
    startContainer: node,
    startOffset: characters.slice(0, first).join("").length,
    endContainer: node,
    endOffset: characters.slice(0, stop).join("").length,
  });
}

/** The ranges on the page that show a span of the source, one for each stretch of text. */
export function rangesOf(span) {
  return elementsOf(span.from, span.to).flatMap((element) => rangesIn(element, span));
}

function rangesIn(element, { from, fromChar, to, toChar }) {
  const number = numberOf(element);
  const start = number === from ? (fromChar ?? 0) : 0;
  const end = number === to ? (toChar ?? Infinity) : Infinity;
  return pieces(element)
    .map((piece) => clip(piece, start, end))
    .filter(Boolean);
}

/** On how many rows the words of a span are shown that are in one element: those of the paper, or a phone's own. */
function rowsIn(element, span) {
  let rows = 0;
  let bottom = -Infinity;
  for (const { startContainer, startOffset, endContainer, endOffset } of rangesIn(element, span)) {
    const within = document.createRange();
    within.setStart(startContainer, startOffset);
    within.setEnd(endContainer, endOffset);
    for (const box of within.getClientRects()) {
      if (!box.width || (box.top + box.bottom) / 2 < bottom) continue; // on the row of the one before
      rows += 1;
      bottom = box.bottom;
    }
  }
  return Math.max(rows, 1);
}

/** Where a word stands in a line, capitals or not. */
export function rangesOfWord(number, word) {
  const wanted = word.toLowerCase();
  const found = [];
  if (!wanted) return found;
  for (const element of byNumber.get(Number(number)) ?? []) {
    const texts = pieces(element).map(({ node }) => node);
    const whole = texts
      .map((node) => node.data)
      .join("")
      .toLowerCase();
    for (let at = whole.indexOf(wanted); at >= 0; at = whole.indexOf(wanted, at + wanted.length)) {
      const [start, end] = [placeIn(texts, at), placeIn(texts, at + wanted.length - 1)];
      if (!start || !end) continue;
      found.push(
        new StaticRange({
          startContainer: start.node,
          startOffset: start.offset,
          endContainer: end.node,
          endOffset: end.offset + 1,
        }),
      );
    }
  }
  return found;
}

function placeIn(texts, at) {
  let rest = at;
  for (const node of texts) {
    if (rest < node.data.length) return { node, offset: rest };
    rest -= node.data.length;
  }
  return null;
}

/** Wash the words of some spans, under a name that the style sheet knows. */
export function wash(name, spans) {
  if (!CSS.highlights) return;
  const ranges = spans.flatMap(rangesOf);
  if (ranges.length) CSS.highlights.set(name, new Highlight(...ranges));
  else CSS.highlights.delete(name);
}

// What a place is called

const TITLE_PAGE = "title";

/** "page 3", "pages 3 to 4" or "the title page", as it reads after "on"; empty where none of the lines prints. */
export function pagesOf({ from, to }) {
  const names = elementsOf(from, to).map((element) => leafOf(element).dataset.page);
  const numbered = names.filter((name) => name !== TITLE_PAGE);
  if (!names.length) return "";
  if (!numbered.length) return "the title page";
  const [first, last] = [numbered[0], numbered.at(-1)];
  return first === last ? `page ${first}` : `pages ${first} to ${last}`;
}

/** "1 line on page 3", or "4 lines on pages 3 to 4", as they are shown; lines that do not print are not counted. */
export function namesOf(span) {
  const count = elementsOf(span.from, span.to).reduce((sum, element) => sum + rowsIn(element, span), 0);
  const page = pagesOf(span);
  return `${count} ${count === 1 ? "line" : "lines"}${page ? ` on ${page}` : ""}`;
}
