"""A script as one HTML file that needs nothing else: for reading on any screen, and for printing from there.

The elements are told by what they are: an article, a heading of the second level for each scene, paragraphs with the
element's name. Pages are marked where they begin in the layout, by the role that the standard has for it (W3C, Digital
Publishing WAI-ARIA Module, doc-pagebreak).
"""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

from screenplay.fountain import runs
from screenplay.model import Block, Heading, Kind, Speech
from screenplay.page import printed_entry, stands_in_the_middle, title_of, wrap
from screenplay.printing.html_page_style import STYLE

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from screenplay.model import Element, Printed, Run, Screenplay
    from screenplay.page import Layout
    from screenplay.script import LaidOut

_PARAGRAPHS = {Kind.ACTION, Kind.CENTERED, Kind.LYRIC, Kind.TRANSITION}
_STANZAS = {Kind.CENTERED, Kind.LYRIC}
_UNBROKEN = 1 << 30  # columns: a browser breaks the lines
# No document may have these (HTML Standard, 13.2.3.5): controls other than tab and line end, surrogates, noncharacters.
_NOT_ALLOWED = dict.fromkeys(
    [
        *range(0x09),
        *range(0x0B, 0x20),
        *range(0x7F, 0xA0),
        *range(0xD800, 0xE000),
        *range(0xFDD0, 0xFDF0),
        *(plane + last for plane in range(0, 0x110000, 0x10000) for last in (0xFFFE, 0xFFFF)),
    ]
)


def web_page(
    pages: LaidOut, *, title: str = "", about: str = "", language: str = "en", scene_numbers: bool = False
) -> str:
    """The script as an HTML document of its own, with the pages it is laid out in.

    `title` is the document's, from the title page where it is empty; `about` stands under the title, such as the
    draft's label and date; `language` is a BCP 47 tag. With `scene_numbers` the scenes have their numbers before their
    headings; a script that numbers no scene has them counted from 1.
    """
    title = title or title_of(pages.script) or "Screenplay"
    page = _WebPage(pages.script, _marks(pages.layout), _numbers(pages) if scene_numbers else {})
    body = "\n".join([*page.title_page(title, about), "<article>", *page.script(), "</article>"])
    return (
        f'<!doctype html>\n<html lang="{escape(language)}">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{_escaped(title)}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n<main>\n{body}\n</main>\n"
        "</body>\n</html>\n"
    )


class _LaidOutMarks(NamedTuple):
    """What the layout says of source lines: `pages` has where pages begin in a line, as (character, label), `omitted`
    the numbers of the scenes that stand OMITTED before a heading's line, None for after the last."""

    pages: dict[int, list[tuple[int, str]]]
    omitted: dict[int | None, list[str]]


def _marks(layout: Layout) -> _LaidOutMarks:
    pages: dict[int, list[tuple[int, str]]] = {}
    omitted: dict[int | None, list[str]] = {}
    waiting: list[str] = []
    begun: list[str] = []
    for page in layout.pages:
        if page.head:
            begun.append(page.label)
        for row in page.rows:
            if row.added == "omitted":
                waiting.append(row.number or "")
            cell = next((cell for cell in row.cells if cell.line is not None), None)
            if cell is None or cell.line is None:
                continue
            if begun:
                pages.setdefault(cell.line, []).extend((cell.runs[0].start, label) for label in begun)
                begun = []
            if waiting and cell.kind is Kind.SCENE_HEADING:
                omitted[cell.line] = waiting
                waiting = []
    if waiting:
        omitted[None] = waiting
    return _LaidOutMarks(pages, omitted)


def _numbers(pages: LaidOut) -> dict[int, str]:
    """The number of each scene by its heading's line, as the script has them; counted where it has none at all."""
    given = {scene.first_line: scene.number for scene in pages.scenes if scene.number}
    return given or {scene.first_line: str(scene.ordinal) for scene in pages.scenes}


@dataclass(frozen=True, slots=True)
class _WebPage:
    screenplay: Screenplay
    marks: _LaidOutMarks
    numbers: Mapping[int, str]

    def title_page(self, title: str, about: str) -> Iterator[str]:
        entries = self.screenplay.title_page
        middle = [entry for entry in entries if stands_in_the_middle(entry)]
        foot = [entry for entry in entries if not stands_in_the_middle(entry)]
        yield "<header>"
        if not any(entry.key.casefold() == "title" for entry in middle):
            yield f"<h1>{_escaped(title)}</h1>"
        for entry in middle:
            tag = "h1" if entry.key.casefold() == "title" else "p"
            yield from _block(tag, "", self._lines(printed_entry(entry)))
        for entry in foot:
            yield from _block("p", "foot", self._lines(printed_entry(entry)))
        if about:
            yield f'<p class="about">{_escaped(about)}</p>'
        yield "</header>"

    def script(self) -> Iterator[str]:
        for elements in _together(self.screenplay.elements):
            first = elements[0]
            if isinstance(first, Heading):
                yield from self._omitted(first.first_line)
                yield from self._heading(first)
            elif isinstance(first, Speech):
                yield from self._speeches([element for element in elements if isinstance(element, Speech)])
            elif first.kind in _PARAGRAPHS:
                lines = [line for block in elements if isinstance(block, Block) for line in block.lines]
                yield from self._paragraph(first.kind, lines)
        yield from self._omitted(None)

    def _omitted(self, before: int | None) -> Iterator[str]:
        for number in self.marks.omitted.get(before, ()):
            yield f"<h2>{_number(number if self.numbers else '')}OMITTED</h2>"

    def _heading(self, heading: Heading) -> Iterator[str]:
        number = _number(self.numbers.get(heading.first_line, ""))
        yield from self._before(heading.printed)
        yield from _block("h2", "", [number + line for line in self._lines([heading.printed])])

    def _speeches(self, speeches: Sequence[Speech]) -> Iterator[str]:
        """One speech, or two side by side."""
        if len(speeches) == 1:
            yield from self._speech(speeches[0])
            return
        yield '<div class="dual" role="group" aria-label="At the same time">'
        for speech in speeches:
            yield from self._speech(speech)
        yield "</div>"

    def _speech(self, speech: Speech) -> Iterator[str]:
        yield from self._before(speech.cue)
        yield '<div class="speech">'
        yield from _block("p", Kind.CHARACTER, self._lines([speech.cue]))
        for kind, lines in groupby(_without_blank_ends(speech.lines), key=lambda line: line.kind):
            yield from self._paragraph(kind, list(lines))
        yield "</div>"

    def _paragraph(self, kind: Kind, lines: Sequence[Printed]) -> Iterator[str]:
        lines = _without_blank_ends(lines)
        if lines:
            yield from self._before(lines[0])
            yield from _block("p", kind, self._lines(lines))

    def _before(self, first: Printed) -> Iterator[str]:
        """The marks of the pages that begin with this line, for before the element that it begins."""
        start = _start(first)
        return (_page_mark("div", page) for at, page in self.marks.pages.get(first.line, ()) if at <= start)

    def _lines(self, lines: Iterable[Printed]) -> list[str]:
        """Each line as HTML; the first has no marks of pages that begin with it."""
        return [self._line(line, is_first=not index) for index, line in enumerate(lines)]

    def _line(self, line: Printed, *, is_first: bool) -> str:
        pages = self.marks.pages.get(line.line, ())
        marks = [(at, page) for at, page in pages if not (is_first and at <= _start(line))]
        return "".join(_run(run, marks) for run in _printed_runs(line))


def _together(elements: Sequence[Element]) -> Iterator[list[Element]]:
    """The elements, with speeches side by side in one list, and the lines of a song or of a centred stanza."""
    group: list[Element] = []
    for element in elements:
        if group and not _goes_on(group, element):
            yield group
            group = []
        group.append(element)
    if group:
        yield group


def _goes_on(group: Sequence[Element], element: Element) -> bool:
    last = group[-1]
    if isinstance(element, Speech):
        return element.dual and isinstance(last, Speech) and len(group) == 1
    if not isinstance(element, Block) or not isinstance(last, Block):
        return False
    return element.kind is last.kind and element.kind in _STANZAS and element.first_line == last.last_line + 1


def _printed_runs(line: Printed) -> tuple[Run, ...]:
    """The line's runs as the layout has them, but on one row; none where it prints nothing but space."""
    rows = wrap(runs(line), _UNBROKEN, keep_indent=line.kind is Kind.ACTION)
    return rows[0] if rows else ()


def _start(line: Printed) -> int:
    found = _printed_runs(line)
    return found[0].start if found else line.start


def _without_blank_ends(lines: Sequence[Printed]) -> list[Printed]:
    printed = [index for index, line in enumerate(lines) if _printed_runs(line)]
    return list(lines[printed[0] : printed[-1] + 1]) if printed else []


def _block(tag: str, name: str, lines: Sequence[str]) -> Iterator[str]:
    """An element with its lines under each other; none where there is nothing in it."""
    if any(lines):
        named = f' class="{name}"' if name else ""
        yield f"<{tag}{named}>{'<br>'.join(lines)}</{tag}>"


def _number(number: str) -> str:
    return f'<span class="number">{_escaped(number)}</span> ' if number else ""


def _page_mark(tag: str, page: str) -> str:
    return f'<{tag} class="page" role="doc-pagebreak" id="page-{page}" aria-label="Page {page}">{page}.</{tag}>'


def _run(run: Run, marks: Sequence[tuple[int, str]]) -> str:
    """A run as HTML, with the marks of the pages that begin within it."""
    html, done = "", 0
    for at, page in marks:
        if run.start <= at < run.start + len(run.text):
            html += _escaped(run.text[done : at - run.start]) + _page_mark("span", page)
            done = at - run.start
    html += _escaped(run.text[done:])
    for tag, is_so in (("u", run.underline), ("em", run.italic), ("strong", run.bold)):
        html = f"<{tag}>{html}</{tag}>" if is_so else html
    return html


def _escaped(text: str) -> str:
    return escape(text.translate(_NOT_ALLOWED), quote=False)
