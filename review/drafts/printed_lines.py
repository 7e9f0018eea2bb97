"""What of a script reaches the page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from screenplay import Kind
from screenplay.model import Heading, Speech

if TYPE_CHECKING:
    from screenplay.model import Element, Printed

UNPRINTED = frozenset({Kind.SECTION, Kind.SYNOPSIS, Kind.NOTE, Kind.BONEYARD})


def printed_lines(element: Element) -> tuple[Printed, ...]:
    """The lines of an element that reach the page, in order."""
    if isinstance(element, Heading):
        return (element.printed,)
    if isinstance(element, Speech):
        return (element.cue, *element.lines)
    return element.lines
