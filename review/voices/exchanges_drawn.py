"""Who speaks to whom in a draft, as a table and as a picture: the more words, the larger the disc."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt
from typing import TYPE_CHECKING
from urllib.parse import quote

from review.pictures.shapes import Disc, DrawnMark, Picture, Stroke, Tone, WrittenWords, cut

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from screenplay.speech import Voice

MOST_VOICES = 12
LABEL, CELL, ROW, HEAD, LARGEST = 130, 70, 34, 26, 13
LETTERS, LETTERS_ABOVE = 18, 10


@dataclass(frozen=True, slots=True)
class SpokenCell:
    """What one says to another, in words, and where the lines are."""

    to: str
    words: int
    address: str


@dataclass(frozen=True, slots=True)
class SpokenRow:
    """Somebody, and what they say to each of the others, in one order; None where it is themselves."""

    name: str
    cells: tuple[SpokenCell | None, ...]


@dataclass(frozen=True, slots=True)
class ExchangesDrawn:
    picture: Picture
    rows: tuple[SpokenRow, ...]


def draw_exchanges(voices: Sequence[Voice], voice_address: Callable[[str], str]) -> ExchangesDrawn | None:
    """Those who say most, MOST_VOICES at the most; None where nobody speaks to anybody. `voice_address` is where a
    character's voice is told of."""
    shown = voices[:MOST_VOICES]
    rows = tuple(_row(voice, shown, voice_address(voice.name)) for voice in shown)
    most = max((cell.words for row in rows for cell in row.cells if cell), default=0)
    if not most:
        return None
    marks = [mark for at, row in enumerate(rows) for mark in _marks(row, at, most)]
    for at, row in enumerate(rows):
        marks.append(
            DrawnMark((WrittenWords(LABEL + CELL * at, HEAD - 12, cut(row.name, LETTERS_ABOVE), 10, Tone.SOFT),))
        )
    label = "Words from each, down, to each, along"
    picture = Picture("exchanges", label, LABEL + CELL * len(rows), HEAD + ROW * len(rows), marks)
    return ExchangesDrawn(picture, rows)


def _row(voice: Voice, others: Sequence[Voice], address: str) -> SpokenRow:
    said = {to.name: to.words for to in voice.speaks_to}
    return SpokenRow(
        voice.name,
        tuple(
            None
            if other.name == voice.name
            else SpokenCell(
                other.name, said.get(other.name, 0), f"{address}?lines=speaks_to&of={quote(other.name)}#lines"
            )
            for other in others
        ),
    )


def _marks(row: SpokenRow, at: int, most: int) -> Iterator[DrawnMark]:
    top = HEAD + ROW * at
    middle = top + ROW / 2
    yield DrawnMark((Stroke(((0, top), (LABEL + CELL * len(row.cells), top)), Tone.FAINT),))
    yield DrawnMark((WrittenWords(0, middle + 4, cut(row.name, LETTERS)),))
    for column, cell in enumerate(row.cells):
        if cell and cell.words:
            x, radius = LABEL + CELL * column + LARGEST, max(LARGEST * sqrt(cell.words / most), 1.5)
            yield DrawnMark(
                (
                    Disc(x, middle, round(radius, 1), Tone.STRONG),
                    WrittenWords(x + LARGEST + 4, middle + 4, f"{cell.words}", 10),
                ),
                f"{row.name} to {cell.to}: {cell.words} words",
                cell.address,
            )
