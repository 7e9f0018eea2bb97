"""How much of a script comes back from a way out and in again: its lines, by their kind and text.

Sections, synopses, notes and page breaks print nothing, so they are not asked for; emphasis is not either, for plain
text has none.
"""

from __future__ import annotations

from difflib import SequenceMatcher
from typing import TYPE_CHECKING, NamedTuple

from screenplay import Kind
from screenplay.fountain import plain
from screenplay.intake.pdf import read_told_pages
from screenplay.intake.pdf_words import words_of_pdf
from screenplay.model import Heading, Speech

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from screenplay import Screenplay
    from screenplay.intake import Conversion
    from screenplay.model import Printed

_PRINT_NOTHING = {Kind.SECTION, Kind.SYNOPSIS, Kind.PAGE_BREAK}


class Element(NamedTuple):
    """A printed line of the source: its kind and its text; `more` is a scene number, or `^` for a second cue."""

    kind: str
    text: str
    more: str = ""


def elements_of(screenplay: Screenplay, *, numbers: bool = True) -> list[Element]:
    """The lines that a script prints, in order, with the numbers of its scenes or without."""
    found: list[Element] = []
    for element in screenplay.elements:
        if isinstance(element, Heading):
            found.append(_element(element.printed, (element.number or "") if numbers else ""))
        elif isinstance(element, Speech):
            found += [_element(element.cue, "^" if element.dual else ""), *_elements(element.lines)]
        elif element.kind not in _PRINT_NOTHING:
            found += _elements(element.lines)
    return found


def share_alike(before: Sequence[Element], after: Sequence[Element]) -> float:
    """The share of lines that came back as they were, in order; a line too many counts as one that did not."""
    blocks = SequenceMatcher(None, before, after, autojunk=False).get_matching_blocks()
    return sum(block.size for block in blocks) / max(len(before), len(after), 1)


def read_here(data: bytes) -> Conversion:
    """What `read_pdf` makes of a PDF, without a process of its own for it, which takes most of the time."""
    return read_told_pages(words_of_pdf(data, 1000))


def _elements(lines: Sequence[Printed]) -> Iterator[Element]:
    return (_element(line) for line in lines if line.text.strip())


def _element(line: Printed, more: str = "") -> Element:
    return Element(line.kind.value, " ".join(plain(line).split()), more)
