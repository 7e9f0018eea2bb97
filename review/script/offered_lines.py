"""The lines that a form offers to choose from, by their words: those of a page and of the pages beside it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.utils.text import Truncator

from review.drafts.drawn_pages import draw_pages
from review.drafts.printed_lines import lines_as_read, printed_quote
from review.drafts.scripts import read_script
from review.script.leaves import TITLE

if TYPE_CHECKING:
    from review.drafts.models import Draft
    from screenplay import Span

MOST_CHARACTERS = 70


@dataclass(frozen=True, slots=True)
class OfferedLine:
    """A printed line: its number in the draft's text, and as many of its words as tell it from others."""

    number: int
    words: str


@dataclass(frozen=True, slots=True)
class OfferedPage:
    name: str
    lines: list[OfferedLine]


def offered_lines(draft: Draft, span: Span | None, page: str) -> list[OfferedPage]:
    """The lines of the pages that a span is on, and of the pages before and behind them; without a span those of the
    page that is named, else of the first."""
    drawn = draw_pages(draft)
    if not drawn.printed:
        return []
    if span:
        ends = [drawn.first_printed(line, line) for line in (span.first_line, span.last_line)]
        places = [drawn.page_of[line] for line in ends if line is not None]
    else:
        place = drawn.labelled("" if page == TITLE else page)
        places = [drawn.page_of[drawn.printed[0]] if place is None else place]
    beside = 1 if span else 0
    wanted = range(max(places[0] - beside, 0), min(places[-1] + beside + 1, len(drawn.pages)))
    read = _lines_as_read(draft)
    lines: dict[int, list[OfferedLine]] = {place: [] for place in wanted}
    for line in drawn.printed:
        if drawn.page_of[line] in lines:
            words = Truncator(" ".join(read[line - 1].split())).chars(MOST_CHARACTERS)
            lines[drawn.page_of[line]].append(OfferedLine(line, words))
    return [OfferedPage(drawn.pages[place].name, lines[place]) for place in wanted if lines[place]]


def _lines_as_read(draft: Draft) -> tuple[str, ...]:
    """The draft's lines as they are printed, those of the title page too."""
    script = read_script(draft)
    titles = script.elements[0].first_line - 1 if script.elements else len(script.source)
    return (*map(printed_quote, script.source[:titles]), *lines_as_read(script)[titles:])
