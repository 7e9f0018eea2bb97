"""Which source lines of a script print something, whatever page they are on."""

from __future__ import annotations

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
