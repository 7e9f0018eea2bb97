"""Who speaks to whom in a draft, as a table that is a picture too: the more words, the stronger the cell."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from screenplay.speech import Voice

MOST_VOICES = 12
LEVELS = 5


@dataclass(frozen=True, slots=True)
class SpokenCell:
    """What one says to another: words, and how much that is beside the most of all, from 0 for none to LEVELS."""

    to: str
    words: int
    level: int


@dataclass(frozen=True, slots=True)
class SpokenRow:
    """Somebody, and what they say to each of the others, in one order; None where it is themselves."""

    name: str
    cells: tuple[SpokenCell | None, ...]


def draw_exchanges(voices: Sequence[Voice]) -> list[SpokenRow]:
    """The rows of those who say most, MOST_VOICES at the most; none where nobody speaks to anybody."""
    shown = voices[:MOST_VOICES]
    said = {voice.name: {to.name: to.words for to in voice.speaks_to} for voice in shown}
    most = max((words for to in said.values() for words in to.values()), default=0)
    if not most:
        return []
    return [
        SpokenRow(
            voice.name,
            tuple(
                None if other.name == voice.name else _cell(other.name, said[voice.name].get(other.name, 0), most)
                for other in shown
            ),
        )
        for voice in shown
    ]


def _cell(to: str, words: int, most: int) -> SpokenCell:
    return SpokenCell(to, words, -(-LEVELS * words // most))
