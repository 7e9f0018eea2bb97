"""Which source lines of a script print something, whatever page they are on."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from screenplay.model import Heading, Kind, Printed, Speech

if TYPE_CHECKING:
    from screenplay.model import Screenplay

_UNPRINTED = frozenset({Kind.SECTION, Kind.SYNOPSIS, Kind.NOTE, Kind.BONEYARD, Kind.PAGE_BREAK})


def lines_that_print(script: Screenplay) -> dict[int, Printed]:
    """The source lines that print something, by number, in order."""
    found: dict[int, Printed] = {}
    for element in script.elements:
        lines = (element.printed,) if isinstance(element, Heading) else element.lines
        for line in (element.cue, *lines) if isinstance(element, Speech) else lines:
            if line.kind not in _UNPRINTED and line.text.strip():
                found[line.line] = line
    return dict(sorted(found.items()))


def numbers_that_print(script: Screenplay) -> frozenset[int]:
    """The numbers of the source lines that print something, those of a title page too."""
    titles = [number for number, kind in enumerate(script.kinds, 1) if kind is Kind.TITLE_PAGE]
    return frozenset((*titles, *lines_that_print(script)))


def are_one_but_for_notes(one: str, other: str) -> bool:
    """Whether two source lines have the same words and marks beside the notes, and what is taken out, within them."""
    if not any(mark in line for mark in ("[[", "/*") for line in (one, other)):
        return False
    left = [_WITHIN.sub(" ", line).split() for line in (one, other)]
    return left[0] == left[1] != []


_WITHIN = re.compile(r"\[\[.*?\]\]|/\*.*?\*/")
