"""A note's lines as the Web Annotation Data Model selects them in a draft's text (W3C Recommendation of 2017-02-23,
sections 4.2.4 and 4.2.5), and back."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from typing import TYPE_CHECKING, Any

from screenplay.fountain import split_lines, stretches

if TYPE_CHECKING:
    from screenplay import Span

AROUND = 32  # code points before and behind a quotation


@dataclass(frozen=True)
class SelectedText:
    """A draft's text, as its lines are selected: positions count its code points from 0, line ends as they are, and the
    end of a selection is the first that is not in it."""

    text: str

    @cached_property
    def starts(self) -> list[int]:
        """Where each line starts, and the end of the last."""
        return [0, *accumulate(map(len, split_lines(self.text)))]

    @cached_property
    def _hidden(self) -> list[tuple[int, int]]:
        return stretches(self.text)

    def ends_of(self, span: Span) -> tuple[int, int]:
        """Where the span starts and ends."""
        starts = self.starts
        return starts[span.first_line - 1] + span.first_char, starts[span.last_line - 1] + span.last_char

    def selectors(self, span: Span, *, shows_all: bool) -> list[dict[str, Any]]:
        """The selectors of a span. Who may not see what no page shows gets no quotation with any of that in it."""
        start, end = self.ends_of(span)
        position = {"type": "TextPositionSelector", "start": start, "end": end}
        before, behind = max(start - AROUND, 0), min(end + AROUND, len(self.text))
        if not shows_all:
            if any(first < end and last > start for first, last in self._hidden):
                return [position]
            before = max([before, *(last for _, last in self._hidden if last <= start)])
            behind = min([behind, *(first for first, _ in self._hidden if first >= end)])
        quotation = {
            "type": "TextQuoteSelector",
            "exact": self.text[start:end],
            "prefix": self.text[before:start],
            "suffix": self.text[end:behind],
        }
        return [quotation, position]
