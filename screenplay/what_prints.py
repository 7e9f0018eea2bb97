"""Which source lines of a script print something, and what, whatever page they are on."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, NamedTuple

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


class AsPrinted(NamedTuple):
    """What a source line puts on the page: as what kind of line, and which text, with single spaces and its marks of
    style in; `is_beside` of a cue whose speech stands beside the one before it.

    Two lines print alike if these are equal, whatever forcing marks, notes and boneyards their sources have.
    """

    kind: Kind
    text: str
    is_beside: bool = False


PRINTS_NOTHING = AsPrinted(Kind.BLANK, "")

# An `AsPrinted` of its fields in a tuple: what its `_make` does but for counting them, in half the time.
_as_printed = partial(tuple.__new__, AsPrinted)


def as_printed(script: Screenplay) -> dict[int, AsPrinted]:
    """What each source line prints, by number, of those that print something; of a title page its lines as they
    stand."""
    beside = {element.cue.line for element in script.elements if isinstance(element, Speech) and element.dual}
    found: dict[int, AsPrinted] = {
        number: _as_printed((line.kind, " ".join(line.text.split()), number in beside))
        for number, line in lines_that_print(script).items()
    }
    for number, kind in enumerate(script.kinds, 1):
        if kind is Kind.TITLE_PAGE:
            found[number] = AsPrinted(kind, " ".join(script.source[number - 1].split()))
    return found
