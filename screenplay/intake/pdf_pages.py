"""The words of a PDF's pages, by their places on the paper, as the lines of typed pages."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from statistics import median
from typing import TYPE_CHECKING, NamedTuple

from screenplay.intake.refusals import EXPORT_AGAIN, Unreadable
from screenplay.intake.typed_pages import STYLES, TypedLine, TypedPage, TypedWord
from screenplay.intake.watermarks import USUAL_SIZE, PdfWord, without_watermarks

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

# All measures are for type of the usual size, in points: pages drawn larger or smaller are brought to it first.
_LEAST_SIZE = 0.1
_LEAST_WORDS = 3  # a page, on average; a scan has none, or a stamp
_SAME_LINE = 4.2
_SAME_PLACE = 1.0  # a word set twice, to look bold
_USUAL_WIDTH, _LEAST_WIDTH = 7.2, 0.5  # of a character
_EVEN = 0.04  # of the usual width: how far it may be from that in type whose characters are all as wide
_WIDEST_SPACE = 1.8  # characters
_LEAST_PITCH = 0.7 * USUAL_SIZE
_BLANK = 1.3  # times the pitch from one line to the next: more leaves a blank line
_LEAST_SHARE = 0.12  # of the steps from line to line
_MOST_ROWS = 200

SCANNED = f"{{it}} has pictures of pages with no text in them, as a scan has: {EXPORT_AGAIN}."
GARBLED = f"{{it}} does not say which letters its signs stand for, so no text can be read from it: {EXPORT_AGAIN}."


def typed_pages_of_pdf(pages: Sequence[Sequence[PdfWord]]) -> dict[int, TypedPage]:
    """Typed pages, counted in columns as wide as the type's usual character, by their numbers in the file, from 1.

    Those without text are left out. Raises Unreadable where the pages have no text to speak of.
    """
    words = [word for page in pages for word in page]
    if len(words) < _LEAST_WORDS * max(len(pages), 1):
        raise Unreadable(SCANNED)
    if sum(not word.text.isprintable() or "\ufffd" in word.text for word in words) * 4 > len(words):
        raise Unreadable(GARBLED)
    kept = without_watermarks(_in_usual_size(pages))
    usual = _usual_style(words)
    typeface = _typeface([word for page in kept for word in page])
    lines = [list(_lines(page)) for page in kept]
    pitch = _pitch(lines)
    top = max((page[0][0].baseline for page in lines if page), default=0.0)
    typed = {number: _typed_page(page, typeface, pitch, top, usual) for number, page in enumerate(lines, 1) if page}
    if not typed:
        raise Unreadable(SCANNED)
    return typed


def _in_usual_size(pages: Sequence[Sequence[PdfWord]]) -> list[list[PdfWord]]:
    """The pages enlarged or made smaller, so that most of their type has the usual size."""
    scale = USUAL_SIZE / max(median(word.size for page in pages for word in page), _LEAST_SIZE)
    if scale == 1:
        return [list(page) for page in pages]
    return [[_scaled(word, scale) for word in page] for page in pages]


def _scaled(word: PdfWord, scale: float) -> PdfWord:
    return word._replace(
        left=word.left * scale, right=word.right * scale, baseline=word.baseline * scale, size=word.size * scale
    )


def _usual_style(words: Sequence[PdfWord]) -> int:
    """The style of most words, which says nothing."""
    return sum(style for style in STYLES if sum(bool(word.style & style) for word in words) * 2 > len(words))


class Typeface(NamedTuple):
    """The usual width of a character, in points, and whether all have it, as on a typewriter."""

    width: float
    is_even: bool

    def spaces(self, gap: float) -> int:
        """How many spaces a gap between two words stands for: of uneven type, one may be as wide as nearly two."""
        columns = gap / self.width
        return min(max(round(columns), 1), _MOST_ROWS) if self.is_even or columns > _WIDEST_SPACE else 1


def _typeface(words: Sequence[PdfWord]) -> Typeface:
    widths = [(word.right - word.left) / len(word.text) for word in words if len(word.text) > 2]
    if not widths:
        return Typeface(_USUAL_WIDTH, is_even=True)
    usual = median(widths)
    alike = sum(abs(width - usual) < _EVEN * usual for width in widths)
    return Typeface(max(usual, _LEAST_WIDTH), alike * 2 > len(widths))


def _lines(words: Sequence[PdfWord]) -> Iterator[list[PdfWord]]:
    """The words line by line from the top, each from left to right."""
    line: list[PdfWord] = []
    for word in sorted(words, key=lambda word: -word.baseline):
        if line and line[0].baseline - word.baseline > _SAME_LINE:
            yield _set_once(line)
            line = []
        line.append(word)
    if line:
        yield _set_once(line)


def _set_once(line: list[PdfWord]) -> list[PdfWord]:
    line.sort(key=lambda word: word.left)
    return [
        word
        for before, word in pairwise([None, *line])
        if word and not (before and before.text == word.text and abs(before.left - word.left) < _SAME_PLACE)
    ]


def _pitch(pages: Sequence[Sequence[Sequence[PdfWord]]]) -> float:
    """The least distance from line to line that is a usual one, in points."""
    steps = Counter(
        round((line[0].baseline - following[0].baseline) * 2) / 2
        for lines in pages
        for line, following in pairwise(lines)
    )
    least = steps.total() * _LEAST_SHARE
    usual = [step for step, count in steps.items() if count >= least and step >= _LEAST_PITCH]
    return min(usual, default=USUAL_SIZE)


def _typed_page(
    lines: Sequence[Sequence[PdfWord]], typeface: Typeface, pitch: float, top: float, usual: int
) -> TypedPage:
    """A page's lines with the blank ones between them, from `top`, the highest baseline of any page."""
    page: TypedPage = []
    before = top + pitch
    for line in lines:
        steps = (before - line[0].baseline) / pitch
        blank = max(round(steps) - 1, 1 if steps > _BLANK else 0)
        for _ in range(min(blank, _MOST_ROWS)):
            page.append(TypedLine(len(page) + 1))
        page.append(TypedLine(len(page) + 1, tuple(_typed(line, typeface, usual))))
        before = line[0].baseline
    return page


def _typed(line: Sequence[PdfWord], typeface: Typeface, usual: int) -> Iterator[TypedWord]:
    end = 0.0
    for index, word in enumerate(line):
        gap = typeface.spaces(word.left - end) if index else 0
        left, right = word.left / typeface.width, word.right / typeface.width
        yield TypedWord(word.text, left, right, gap, word.style & ~usual, word.lead, word.tail)
        end = word.right
