"""What stands at the head of printed pages: the draft's label, its revision colour and its date, as room allows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from screenplay.page import clipped, columns

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

_BETWEEN = " · "
_LEAST_OF_LABEL = 6  # columns of a label worth showing


@dataclass(frozen=True, slots=True)
class Header:
    """What stands at the head of every page but the title page: the draft's label, its colour, and its date.

    `start` comes before the label, which is shortened or left out for it.
    """

    label: str = ""
    colour: str = ""
    date: date | None = None
    start: str = ""

    def text(self, width: int) -> str:
        """The head's line, as long as `width` columns allow: a label that is too long for them ends in an ellipsis, and
        the month is short where the start would be too long."""
        rest = self._rest("%B")
        if columns(self.start) > _room(width, rest):
            rest = self._rest("%b")
        label = self._name(_room(width, rest))
        return clipped(_BETWEEN.join(filter(None, (label, *rest))), width)

    def _rest(self, month: str) -> list[str]:
        day = f"{self.date.day} {self.date.strftime(month)} {self.date.year}" if self.date else ""
        return [part for part in (self.colour, day) if part]

    def _name(self, room: int) -> str:
        label = " ".join(self.label.split())
        if not self.start:
            return clipped(label, max(room, 1))
        left = room - columns(self.start) - len(", ")
        return f"{self.start}, {clipped(label, left)}" if label and left >= _LEAST_OF_LABEL else self.start


def _room(width: int, rest: Sequence[str]) -> int:
    return width - sum(len(_BETWEEN) + columns(part) for part in rest)
